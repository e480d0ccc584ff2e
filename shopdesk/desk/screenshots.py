"""Pictures of the window at work, for the README and for whoever wants to see it before trying."""

import time
from collections.abc import Callable
from pathlib import Path

from PIL import ImageGrab

from shopdesk.desk.app import DeskApp
from shopdesk.errors import JobError
from shopdesk.job.board import open_tickets
from shopdesk.job.shift import Shift

SIZE = "1280x800+0+0"
PATIENCE_SECONDS = 20.0


def make_screenshots(shift: Shift, folder: Path) -> tuple[Path, ...]:
    """Open the window, show a ticket in each stage, and save a picture of each into ``folder``.

    Returns the files. Raises ``JobError`` when no ticket is open, ``tkinter.TclError`` without a
    display, and ``OSError`` when the folder can't be written.
    """
    rows = [row for group in open_tickets(shift).values() for row in group]
    if not rows:
        raise JobError("No ticket is open in these records: there is nothing to take pictures of.")
    folder.mkdir(parents=True, exist_ok=True)
    app = DeskApp(shift, opener=lambda file: True)
    assert app.window is not None
    try:
        app.root.geometry(SIZE)
        _wait(app, lambda: app.window is not None and app.window.board.is_read)
        files = []
        for stage, ticket_id in {row.stage: row.ticket_id for row in reversed(rows)}.items():
            app.window.open_ticket(ticket_id)
            _wait(app, lambda: app.window is None or not app.window.front.worker.busy)
            files.append(_save(app, folder / f"{stage.lower()}.png"))
        return tuple(files)
    finally:
        app.shut()
        app.root.destroy()


def _wait(app: DeskApp, until: Callable[[], object]) -> None:
    deadline = time.monotonic() + PATIENCE_SECONDS
    app.root.update()
    while not until() and time.monotonic() < deadline:
        app.root.update()
    app.root.update()


def _save(app: DeskApp, file: Path) -> Path:
    root = app.root
    left, top = root.winfo_rootx(), root.winfo_rooty()
    box = (left, top, left + root.winfo_width(), top + root.winfo_height())
    screen = str(root.winfo_screen()) if root.winsys == "x11" else None
    ImageGrab.grab(bbox=box, xdisplay=screen).save(file)
    return file
