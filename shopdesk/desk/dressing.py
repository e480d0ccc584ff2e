"""Dresses the window as this desk likes it, by keys, and keeps that for the next time."""

from dataclasses import replace
from pathlib import Path

from shopdesk.desk import look
from shopdesk.desk.comfort import Comfort, Screen, load_comfort, on_screen, save_comfort


class Dressing:
    """The window's look and place. Without a ``file`` nothing is remembered."""

    def __init__(self, file: Path | None = None) -> None:
        self._file = file
        self.comfort = load_comfort(file) if file else Comfort()

    def make_root(self) -> look.DeskRoot:
        """Return the root window as it was left: light or dark, letters, columns, place."""
        root = look.make_root(dark=self.comfort.dark, text=self.comfort.text)
        root.widths.update(self.comfort.widths)
        place = on_screen(self.comfort.window, _screen_of(root))
        if place:
            root.geometry(place)
        if self.comfort.filled:
            _fill_screen(root)
        return root

    def turn_light(self, root: look.DeskRoot) -> str:
        """Change between light and dark; returns what is so now, in words."""
        self.comfort = replace(self.comfort, dark=not self.comfort.dark)
        self._wear(root)
        return f"The desk is {'dark' if self.comfort.dark else 'light'} now."

    def step_text(self, root: look.DeskRoot, by: int) -> str:
        """Make letters a step larger or smaller, or with 0 as at first; returns it in words."""
        before = self.comfort.text
        self.comfort = self.comfort.stepped(by) if by else replace(self.comfort, text=100)
        if self.comfort.text == before and by:
            return f"Text stays at {before} %: that is the {'largest' if by > 0 else 'smallest'}."
        self._wear(root)
        return f"Text is at {self.comfort.text} % now."

    def keep(self, root: look.DeskRoot) -> None:
        """Keep how the window stands; where that can't be written it is as before next time."""
        filled = _fills_screen(root)
        self.comfort = replace(
            self.comfort,
            window=self.comfort.window if filled else root.geometry(),
            filled=filled,
            widths=dict(root.widths),
        )
        if self._file is not None:
            try:
                save_comfort(self._file, self.comfort)
            except OSError:
                return

    def _wear(self, root: look.DeskRoot) -> None:
        look.wear(root, dark=self.comfort.dark, text=self.comfort.text)
        self.keep(root)


def _screen_of(root: look.DeskRoot) -> Screen:
    return Screen(
        root.winfo_vrootx(),
        root.winfo_vrooty(),
        root.winfo_vrootwidth(),
        root.winfo_vrootheight(),
    )


def _fills_screen(root: look.DeskRoot) -> bool:
    if root.winsys == "x11":
        return bool(int(root.attributes("-zoomed")))
    return root.state() == "zoomed"


def _fill_screen(root: look.DeskRoot) -> None:
    if root.winsys == "x11":
        root.attributes("-zoomed", True)
    else:
        root.state("zoomed")
