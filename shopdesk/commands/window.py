"""``shopdesk``: the window on the shop's records."""

from argparse import Namespace
from collections.abc import Callable
from datetime import UTC, datetime
from typing import TYPE_CHECKING

from shopdesk import places
from shopdesk.commands.saying import say
from shopdesk.errors import JobError

if TYPE_CHECKING:
    from shopdesk.desk.welcome import OpenDemo
    from shopdesk.job.shift import Shift


def open_window(asked: Namespace) -> int:
    """Open the window on the records asked for, or on the user's own."""
    from shopdesk.bootstrap.system import missing_for_window
    from shopdesk.demo.beside import fresh_demo
    from shopdesk.job.shift import Shift
    from shopdesk.records.store import open_records

    why_not = missing_for_window()
    if not why_not:
        records = open_records(asked.records or places.records_file(), datetime.now(UTC))
        if records.backed_up_to:
            say(f"The records were upgraded; as they were before: {records.backed_up_to}")
        why_not = show(Shift(records), fresh_demo)
    if why_not:
        raise JobError(f"The window can't be opened. {why_not}")
    return 0


def show(shift: "Shift", open_demo: "OpenDemo | None" = None) -> str:
    """Show the window until it is closed; return in a sentence why it can't be, or nothing."""
    from shopdesk.desk.app import run

    try:
        return why_no_display(lambda: run(shift, open_demo))
    finally:
        shift.records.close()


def why_no_display(work: Callable[[], object]) -> str:
    """Do work that needs a display; return in a sentence why there is none, or nothing."""
    import tkinter

    try:
        work()
    except tkinter.TclError as error:
        if "display" not in str(error):
            raise
        return f"The display does not answer: {error}."
    return ""
