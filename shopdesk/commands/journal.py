"""``shopdesk journal``: who changed what on a ticket, when, and from what to what."""

from argparse import Namespace
from collections.abc import Iterator
from dataclasses import asdict
from typing import TYPE_CHECKING

from shopdesk.commands.opening import opened
from shopdesk.commands.options import (
    Commands,
    json_option,
    records_option,
    ticket_argument,
    ticket_asked,
)
from shopdesk.commands.saying import say, say_json

if TYPE_CHECKING:
    from shopdesk.job.changes import RowChange


def add(commands: Commands) -> None:
    """Add the command."""
    parser = commands.add_parser(
        "journal", help="tell who changed what on a ticket, when, and from what to what"
    )
    ticket_argument(parser)
    json_option(parser)
    records_option(parser)
    parser.set_defaults(command=_tell_journal)


def _tell_journal(asked: Namespace) -> int:
    from shopdesk.job.changes import ticket_changes

    with opened(asked) as shift:
        changes = ticket_changes(shift, ticket_asked(shift, asked).id)
        zone = shift.shop.zone
    if asked.json:
        say_json([asdict(change) | {"at": change.at.isoformat()} for change in changes])
    else:
        say(*(line for change in changes for line in _change_lines(change, zone)))
    return 0


def _change_lines(change: "RowChange", zone: str) -> Iterator[str]:
    from shopdesk.dates import show_moment

    why = f": {change.why}" if change.why else ""
    who = change.who or "no name"
    yield f"{show_moment(change.at, zone)}  {who}  {change.action} {change.row}{why}"
    for column in change.columns:
        sides = (column.before, column.after)
        changed = change.action == "changed"
        told = " → ".join(side or "nothing" for side in sides) if changed else "".join(sides)
        yield f"    {column.what}: {told}"
