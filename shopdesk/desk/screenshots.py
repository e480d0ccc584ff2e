"""Pictures of the window at work, for the README and for whoever wants to see it before trying."""

import time
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from PIL import ImageGrab

from shopdesk.desk import look
from shopdesk.desk.app import DeskApp
from shopdesk.desk.tour import stops
from shopdesk.errors import JobError
from shopdesk.job.shift import Shift

PATIENCE_SECONDS = 20.0


@dataclass(frozen=True, slots=True)
class Shot:
    """How the pictures are taken: light or dark, text in per cent, the window in pixels."""

    dark: bool = False
    text: int = 100
    width: int = 1280
    height: int = 800


def make_screenshots(
    shift: Shift,
    folder: Path,
    shot: Shot = Shot(),
    seen: Callable[[str, DeskApp], object] = lambda name, app: None,
) -> tuple[Path, ...]:
    """Open the window, walk through all there is to see, and save a picture of each.

    They go into ``folder``. ``seen`` hears of each, as it stands in the window. Returns the files.
    Raises ``JobError`` when no ticket is open, ``tkinter.TclError`` without a display, and
    ``OSError`` when the folder can't be written.
    """
    folder.mkdir(parents=True, exist_ok=True)
    root = look.make_root(dark=shot.dark, text=shot.text)
    app = DeskApp(shift, root=root, opener=lambda file: True)
    try:
        if app.window is None:
            raise JobError("These records have no shop yet: there is nothing to take pictures of.")
        window = app.window
        root.geometry(f"{shot.width}x{shot.height}+0+0")
        _wait(app, lambda: window.board.is_read and abs(root.winfo_width() - shot.width) < 3)
        files = []
        for stop in stops(window, shift):
            stop.show()
            _wait(app, lambda: not window.front.worker.busy)
            seen(stop.name, app)
            files.append(_save(app, folder / f"{stop.name}.png"))
        return tuple(files)
    finally:
        app.shut()
        root.destroy()


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
