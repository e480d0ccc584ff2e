"""``shopdesk due``: whose upkeep falls due, the earliest first, and the letters that go out."""

from argparse import Namespace
from collections.abc import Iterator
from dataclasses import asdict
from datetime import date, timedelta
from pathlib import Path
from typing import TYPE_CHECKING

from shopdesk.commands.opening import opened
from shopdesk.commands.options import Commands, json_option, records_option
from shopdesk.commands.saying import say, say_json
from shopdesk.errors import JobError

if TYPE_CHECKING:
    from shopdesk.job.due_list import DueOwner
    from shopdesk.job.shift import Shift
    from shopdesk.papers.upkeep_post import Sheaf, UpkeepPost


def add(commands: Commands) -> None:
    """Add the command."""
    parser = commands.add_parser(
        "due", help="list whose upkeep falls due; make letters, postcards, e-mail drafts"
    )
    parser.add_argument(
        "--by",
        default="",
        metavar="DATE",
        help="what falls due up to then: fri, 14 mar, 2027-03-14 … (else 30 days ahead)",
    )
    parser.add_argument("--csv", type=Path, metavar="FILE", help="write it for a spreadsheet")
    for option, what in (
        ("--letters", "make the letters, as one PDF for window envelopes"),
        ("--postcards", "make the postcards, as one PDF"),
    ):
        parser.add_argument(option, type=Path, metavar="FILE", help=what)
    parser.add_argument(
        "--mail", type=Path, metavar="DIR", help="make the e-mail drafts, each a file in DIR"
    )
    json_option(parser)
    records_option(parser)
    parser.set_defaults(command=_run)


def _run(asked: Namespace) -> int:
    from shopdesk.job.due_list import due_list

    with opened(asked) as shift:
        by = _day(shift, asked.by)
        owners = due_list(shift, by)
        if asked.csv:
            _write_csv(owners, asked.csv.expanduser().absolute())
        if asked.letters or asked.postcards or asked.mail:
            _write_to(shift, asked, owners, by)
    if asked.json:
        say_json([asdict(one) for one in owners])
    elif not (asked.csv or asked.letters or asked.postcards or asked.mail):
        say(*_told(owners, by))
    return 0


def _day(shift: "Shift", typed: str) -> date:
    from shopdesk.job.due_list import AHEAD_DAYS
    from shopdesk.job.typed import day

    shop = shift.shop
    today = shift.today_in(shop)
    return day(typed, "by", today, day_first=shop.day_first) or today + timedelta(days=AHEAD_DAYS)


def _told(owners: "tuple[DueOwner, ...]", by: date) -> Iterator[str]:
    from shopdesk.dates import show_date

    if not owners:
        yield f"No upkeep falls due up to {show_date(by)} that its owner did not hear of."
    for one in owners:
        how = f"by {one.way}" if one.way else one.why_not
        phones = ", ".join(one.phones) or "no phone"
        yield f"{show_date(one.due_on)}  {one.owner}, {phones} ({how})"
        for machine in one.machines:
            yield f"    {machine.title}, {show_date(machine.due_on)}: {machine.tasks}"


def _write_csv(owners: "tuple[DueOwner, ...]", file: Path) -> None:
    from shopdesk.job.csv_out import save_csv
    from shopdesk.job.due_cells import HEADS, due_cells

    say(str(save_csv(file, HEADS, due_cells(owners))))


def _write_to(shift: "Shift", asked: Namespace, owners: "tuple[DueOwner, ...]", by: date) -> None:
    """Make what is asked for and not made yet, and write out all that did not go out yet."""
    from shopdesk.job.due_messages import message_content, upkeep_messages, write_to
    from shopdesk.job.messages import EMAIL, LETTER, POSTCARD, State
    from shopdesk.papers.of_ticket import words_of
    from shopdesk.papers.upkeep_post import UpkeepPost

    files = {LETTER: asked.letters, POSTCARD: asked.postcards, EMAIL: asked.mail}
    ways = {way for way, file in files.items() if file}
    post = UpkeepPost(words_of(shift), (asked.mail or Path()).expanduser().absolute())
    chosen = [one for one in owners if one.way in ways]
    for one in chosen:
        try:
            write_to(shift, one.customer_id, by)
        except JobError as error:
            post.troubles.append(error.sentence)
    try:
        for made in reversed(upkeep_messages(shift, [State.MADE])):
            message = made.message
            if message.way in ways:
                content = message_content(shift, message.id)
                post.add(content, message.way, message.id, message.made_at)
        say(*_written_out(post, asked))
    except OSError as error:
        raise JobError(
            f"{error.filename or 'The file'} can't be written ({error.strerror}): name another. "
            "What was made waits: ask again, and it is written out."
        ) from error


def _written_out(post: "UpkeepPost", asked: Namespace) -> Iterator[str]:
    from shopdesk.text import counted

    if asked.letters:
        yield _saved(post.letters, asked.letters, "letter")
    if asked.postcards:
        yield _saved(post.cards, asked.postcards, "postcard")
    if asked.mail:
        where = f": {asked.mail.expanduser().absolute()}" if post.mails else ""
        yield f"{counted(len(post.mails), 'e-mail draft')} that did not go out yet{where}"
    yield from post.troubles


def _saved(sheaf: "Sheaf", asked: Path, thing: str) -> str:
    from shopdesk.papers.printed import save_paper
    from shopdesk.text import counted

    said = f"{counted(sheaf.papers, thing)} that did not go out yet"
    if not sheaf.papers:
        return said
    file = asked.expanduser().absolute()
    printed = sheaf.printed(f"{thing.capitalize()}s about upkeep")
    return f"{said}: {save_paper(file.parent, file.name, printed)}"
