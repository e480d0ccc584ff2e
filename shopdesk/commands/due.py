"""``shopdesk due``: the upkeep that falls due, the earliest first."""

from argparse import Namespace
from dataclasses import asdict
from typing import TYPE_CHECKING

from shopdesk.commands.opening import opened
from shopdesk.commands.options import Commands, json_option, records_option
from shopdesk.commands.saying import say, say_json

if TYPE_CHECKING:
    from shopdesk.job.due import DueReminder


def add(commands: Commands) -> None:
    """Add the command."""
    parser = commands.add_parser("due", help="list the upkeep that falls due, the earliest first")
    parser.add_argument(
        "--by",
        default="",
        metavar="DATE",
        help="only what falls due up to then: fri, 14 mar, 2027-03-14 …",
    )
    json_option(parser)
    records_option(parser)
    parser.set_defaults(command=_list_due)


def _list_due(asked: Namespace) -> int:
    from shopdesk.job.due import reminders_due
    from shopdesk.job.typed import day

    with opened(asked) as shift:
        shop = shift.shop
        by = day(asked.by, "by", shift.today_in(shop), day_first=shop.day_first)
        due = reminders_due(shift, by)
    if asked.json:
        say_json([asdict(one) for one in due])
    elif due:
        say(*(line for one in due for line in _due_lines(one)))
    else:
        say("No upkeep falls due.")
    return 0


def _due_lines(one: "DueReminder") -> list[str]:
    from shopdesk.dates import show_date

    phones = ", ".join(one.phones) or "no phone"
    head = f"{show_date(one.due_on)}  {one.owner}, {phones}: {one.machine} ({one.ticket})"
    return [head, *(f"    {title}" for title in one.titles)]
