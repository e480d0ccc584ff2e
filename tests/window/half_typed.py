"""A window of its own that is typed into and never saved: ``python -m tests.window.half_typed``.

Begins a new ticket, changes the first ticket's intake and half types a reading, then waits to be
killed. Takes the records file and the ticket's id.
"""

import sys
from datetime import UTC, datetime
from pathlib import Path

from shopdesk.desk.app import DeskApp
from shopdesk.job.opened import open_ticket
from shopdesk.job.shift import Shift
from shopdesk.records.store import open_records
from tests.window.conftest import Answers, Driver


def main(file: Path, ticket_id: int) -> None:
    """Type, and wait."""
    shift = Shift(open_records(file, datetime.now(UTC)))
    dialogs = Answers()
    app = DeskApp(shift, dialogs=dialogs)
    desk = Driver(app, shift, dialogs, [])
    app.root.focus_force()
    desk.until(lambda: app.root.focus_get() is not None, "the focus")
    desk.press("<Control-n>")
    desk.type("Oona Verhaal")
    desk.open(open_ticket(shift, ticket_id))
    desk.type(" Often.")
    desk.press("<Alt-Key-2>")
    desk.type("compr")
    desk.press("<Return>")
    desk.type("14")
    app.root.mainloop()


if __name__ == "__main__":
    main(Path(sys.argv[1]), int(sys.argv[2]))
