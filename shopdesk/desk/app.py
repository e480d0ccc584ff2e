"""Opens the window on a shop's records and keeps it open until the person closes it."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from shopdesk import places
from shopdesk.desk import look
from shopdesk.desk.dialogs import Dialogs
from shopdesk.desk.dressing import Dressing
from shopdesk.desk.faults import Faults
from shopdesk.desk.papers_out import Opener, open_with_system
from shopdesk.desk.tk_dialogs import TkDialogs
from shopdesk.desk.unfinished import named
from shopdesk.desk.window import Window
from shopdesk.job.shift import Shift, has_shop

if TYPE_CHECKING:
    from shopdesk.desk.welcome import OpenDemo, Welcome

_PAINT_FIRST_MS = 20


class DeskApp:
    """The root window with the welcome or the desk in it.

    ``open_demo`` builds the demo and hands back its shift; ``on_fault`` hears of errors of our own
    making. ``dressing`` knows how this desk likes its window; without one nothing is remembered.
    """

    def __init__(
        self,
        shift: Shift,
        *,
        root: look.DeskRoot | None = None,
        dressing: Dressing | None = None,
        dialogs: Dialogs | None = None,
        opener: Opener = open_with_system,
        open_demo: OpenDemo | None = None,
        papers_folder: Path | None = None,
        on_fault: Callable[[BaseException], object] = lambda error: None,
    ) -> None:
        self.dressing = dressing or Dressing()
        self.root = root or self.dressing.make_root()
        self.dialogs = dialogs or TkDialogs(self.root)
        self.window: Window | None = None
        self.welcome: Welcome | None = None
        self._later = ""
        self._opener = opener
        self._open_demo = open_demo
        self._papers_folder = papers_folder
        self.faults = Faults(
            self._say_trouble, shift.records.file.with_name("shopdesk.log"), on_fault
        )
        self.root.report_callback_exception = self.faults.from_callback
        self.root.protocol("WM_DELETE_WINDOW", self.close)
        if has_shop(shift):
            self._open_window(shift)
        else:
            self._open_welcome(shift)

    def close(self) -> None:
        """Close the window, once the person agrees to leave what is typed and not saved."""
        if self.welcome is not None:
            self.welcome.drafts.keep_now()
        if self.window is None or self._may_leave(self.window):
            self.shut()
            self.dressing.keep(self.root)
            self.root.destroy()

    def _may_leave(self, window: Window) -> bool:
        kept, unsaved = window.front.drafts.keep_now(), window.unsaved()
        if not unsaved:
            return True
        after = (
            "It waits here until you open the desk again. Close now?"
            if kept
            else "It can't be kept for later just now: closing loses it. Close all the same?"
        )
        question = f"Not saved yet: {named(unsaved)}. {after}"
        return self.dialogs.confirm("Not saved yet", question, "Close", "Stay", risky=not kept)

    def shut(self) -> None:
        """End what runs beside the window, without asking; the root window stays."""
        if self._later:
            self.root.after_cancel(self._later)
            self._later = ""
        if self.window is not None:
            self.window.front.worker.close()
            self.window.front.drafts.close()
            self.window.destroy()
            self.window = None
        if self.welcome is not None:
            self.welcome.close()
            self.welcome.destroy()
            self.welcome = None

    def _open_window(self, shift: Shift) -> None:
        self.window = Window(
            self.root,
            shift,
            dialogs=self.dialogs,
            opener=self._opener,
            faults=self.faults,
            papers_folder=self._papers_folder,
        )
        self.window.front.keys.add(self.window, "Ctrl+Q", "Close the desk", self.close)
        self._add_comfort_keys(self.window)
        self.window.pack(fill="both", expand=True)
        self.window.show_shop(shift.shop)
        self.window.board.focus_list()
        self.root.title(f"{shift.shop.name} – shopdesk")
        self._later = self.root.after(_PAINT_FIRST_MS, self._first_look)

    def _add_comfort_keys(self, window: Window) -> None:
        for name, does, change in (
            ("Ctrl+L", "Light or dark", self.dressing.turn_light),
            ("Ctrl+Plus", "Larger text", partial(self.dressing.step_text, by=1)),
            ("Ctrl+Minus", "Smaller text", partial(self.dressing.step_text, by=-1)),
            ("Ctrl+0", "Text as at first", partial(self.dressing.step_text, by=0)),
        ):
            window.front.keys.add(window, name, does, partial(self._dress, window, change))

    def _dress(self, window: Window, change: Callable[[look.DeskRoot], str]) -> None:
        window.front.notices.say(change(self.root))

    def _first_look(self) -> None:
        """Read the board, once the window stands there and takes keys."""
        self._later = ""
        if self.window is not None:
            self.window.refresh_board()

    def _open_welcome(self, shift: Shift) -> None:
        from shopdesk.desk.welcome import Welcome

        self.welcome = Welcome(
            self.root, shift, self._leave_welcome, self._open_demo, self.faults.report
        )
        self.welcome.bound.add(self.welcome, "Ctrl+Q", "Close", self.close)
        self.welcome.pack(fill="both", expand=True)
        self.root.after_idle(self.welcome.focus_first)

    def _leave_welcome(self, shift: Shift) -> None:
        self.shut()
        self._open_window(shift)

    def _say_trouble(self, sentence: str) -> None:
        shown = self.window or self.welcome
        notices = (
            self.window.front.notices
            if self.window
            else self.welcome.notices
            if self.welcome
            else None
        )
        if shown is not None and notices is not None:
            notices.trouble(sentence)


def run(shift: Shift, open_demo: OpenDemo | None = None) -> int:
    """Open the window on the shift's records and wait until it is closed.

    Raises ``tkinter.TclError`` where there is no display.
    """
    dressing = Dressing(places.config_folder() / "desk.json")
    app = DeskApp(shift, dressing=dressing, open_demo=open_demo)
    app.root.mainloop()
    return 0
