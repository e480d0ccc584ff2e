"""What several commands ask for: the records, a ticket, and whether another program reads it."""

import argparse
import re
from argparse import ArgumentParser, Namespace
from pathlib import Path
from typing import TYPE_CHECKING, TypeAlias

from shopdesk.errors import JobError

if TYPE_CHECKING:
    from shopdesk.job.shift import Shift
    from shopdesk.job.views import TicketView

Commands: TypeAlias = "argparse._SubParsersAction[ArgumentParser]"
"""What a command adds its parser to."""


def records_option(parser: ArgumentParser, default: object = argparse.SUPPRESS) -> None:
    """Let the records be named before the command or after it; what stands after it wins."""
    parser.add_argument(
        "--records",
        type=Path,
        metavar="FILE",
        default=default,
        help="the records to work on (usually your own)",
    )


def json_option(parser: argparse._ActionsContainer) -> None:
    """Offer --json."""
    parser.add_argument("--json", action="store_true", help="write it for another program to read")


def ticket_argument(parser: ArgumentParser) -> None:
    """Ask which ticket."""
    parser.add_argument("ticket", metavar="TICKET", help="the number on the tag, such as T1043")


def ticket_asked(shift: "Shift", asked: Namespace) -> "TicketView":
    """Return the ticket that was asked for. Raises ``JobError`` if there is none."""
    from shopdesk.job.opened import ticket_numbered

    number = re.fullmatch(r"\s*T?\s*(\d{1,9})\s*", asked.ticket, re.IGNORECASE)
    if number is None:
        raise JobError(
            f"“{asked.ticket}” is no ticket number: type it as on the tag, such as T1043."
        )
    return ticket_numbered(shift, int(number[1]))
