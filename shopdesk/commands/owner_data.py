"""``shopdesk owner-data``: what we keep about one owner, handed out, or erased when they ask."""

from argparse import Namespace
from pathlib import Path
from typing import TYPE_CHECKING

from shopdesk.commands.opening import opened
from shopdesk.commands.options import Commands, records_option
from shopdesk.commands.saying import say
from shopdesk.errors import JobError

if TYPE_CHECKING:
    from shopdesk.job.shift import Shift
    from shopdesk.job.views import CustomerView


def add(commands: Commands) -> None:
    """Add the command."""
    parser = commands.add_parser(
        "owner-data", help="hand out what is kept about an owner, or erase it on request"
    )
    parser.add_argument("owner", metavar="OWNER", help="a name, a phone, or the owner's id")
    parser.add_argument(
        "--folder", type=Path, metavar="DIR", help="write their data, photos and papers there"
    )
    parser.add_argument(
        "--erase", action="store_true", help="tell what erasing would take away, and what stays"
    )
    parser.add_argument("--sure", action="store_true", help="with --erase: do it, for good")
    records_option(parser)
    parser.set_defaults(command=_run)


def _run(asked: Namespace) -> int:
    with opened(asked) as shift:
        owner = _owner(shift, asked.owner)
        if asked.folder is None and not asked.erase:
            raise JobError("Say --folder DIR to write their data, or --erase.")
        if asked.folder is not None:
            _hand_out(shift, owner, asked.folder.expanduser().absolute())
        if asked.erase:
            _erase(shift, owner, sure=asked.sure)
    return 0


def _owner(shift: "Shift", words: str) -> "CustomerView":
    from shopdesk.job.customers import get_customer, suggest_owners

    if words.isdecimal() and len(words) < 7:
        return get_customer(shift, int(words))
    found = suggest_owners(shift, words)
    if not found:
        raise JobError(f"No owner is called “{words[:40]}”: try fewer letters.")
    if len(found) > 1:
        known = "; ".join(f"{one.id} {one.name}" for one in found)
        raise JobError(f"Several owners fit: say which by the number: {known}.")
    return found[0]


def _hand_out(shift: "Shift", owner: "CustomerView", folder: Path) -> None:
    from shopdesk.job.opened import open_ticket
    from shopdesk.job.own_data import owner_data, write_owner_data
    from shopdesk.papers.of_ticket import save_papers

    data = owner_data(shift, owner.id)
    say(str(write_owner_data(data, folder)))
    for ticket_id in data.tickets:
        ticket = open_ticket(shift, ticket_id)
        for paper in save_papers(shift, ticket, folder / ticket.tag):
            say(str(paper.file))
    say(f"All that is kept about {owner.name}: {len(data.tickets)} tickets.")


def _erase(shift: "Shift", owner: "CustomerView", *, sure: bool) -> None:
    from shopdesk.job.erasing import erase_owner, what_erasing_does

    told = erase_owner(shift, owner.id) if sure else what_erasing_does(shift, owner.id)
    if told.refusal:
        raise JobError(told.refusal)
    say("Erased:" if sure else "Would be erased:", *(f"- {one}" for one in told.goes))
    say("Stays:", *(f"- {one}" for one in told.stays))
    if not sure:
        say("Nothing was erased yet: say --erase --sure to do it, for good.")
