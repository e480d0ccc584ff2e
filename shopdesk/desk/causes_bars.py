"""The causes as bars: how likely each is in words and drawn, to go through with the arrows."""

import tkinter as tk
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import partial
from tkinter.font import Font

import ttkbootstrap as ttk

from shopdesk.desk import look
from shopdesk.desk.keys import with_modifier

_ROW, _INSET = 24, 6


@dataclass(frozen=True, slots=True)
class Bar:
    """One row. ``share`` from 0 to 1 is drawn, ``words`` say it; a ``faint`` one counts no more."""

    key: str
    title: str
    share: float
    words: str
    faint: bool = False


class BarList(tk.Canvas):
    """Rows known by their keys. Arrows choose; ``bind_key`` lets other keys do something."""

    def __init__(self, parent: tk.Misc) -> None:
        super().__init__(parent, takefocus=True, borderwidth=0, width=1)
        self._bars: Sequence[Bar] = ()
        self._place = 0
        self.bind("<Up>", lambda _event: self._step(-1))
        self.bind("<Down>", lambda _event: self._step(1))
        self.bind("<Button-1>", self._clicked)
        for sequence in ("<Configure>", "<FocusIn>", "<FocusOut>"):
            self.bind(sequence, self._draw)
        look.when_worn(self, self._wear)

    @property
    def bars(self) -> Sequence[Bar]:
        """The rows from top to bottom."""
        return self._bars

    @property
    def chosen(self) -> Bar | None:
        """The row that is marked."""
        return self._bars[self._place] if self._place < len(self._bars) else None

    def show(self, bars: Sequence[Bar]) -> None:
        """Show these rows; what was chosen stays chosen while the focus is here, else the first."""
        before = self.chosen if self._focused else None
        self._bars = tuple(bars)
        keys = [bar.key for bar in bars]
        self._place = keys.index(before.key) if before and before.key in keys else 0
        self._wear()

    def _wear(self) -> None:
        self._row, self._inset = look.pixels(self, _ROW), look.pixels(self, _INSET)
        self.configure(height=max(1, len(self._bars)) * self._row + self._inset)
        self._draw()

    def bind_key(self, sequences: Sequence[str], run: Callable[[], object]) -> None:
        """Let keys pressed in the list do something."""
        for sequence in sequences:
            self.bind(sequence, partial(_run, run))

    @property
    def _focused(self) -> bool:
        return str(self.tk.call("focus")) == str(self)

    def _step(self, by: int) -> str:
        self._place = min(max(self._place + by, 0), max(len(self._bars) - 1, 0))
        self._draw()
        return "break"

    def _clicked(self, event: "tk.Event[tk.Misc]") -> None:
        self._place = min(max(event.y // self._row, 0), max(len(self._bars) - 1, 0))
        self.focus_set()
        self._draw()

    def _draw(self, _event: object = None) -> None:
        self.delete("all")
        ring = look.colour("primary" if self._focused else "border")
        self.configure(
            background=look.colour("bg"), highlightthickness=1, highlightbackground=ring,
            highlightcolor=ring,
        )  # fmt: skip
        for place, bar in enumerate(self._bars):
            self._draw_bar(place * self._row + self._inset // 2, place, bar)

    def _fill(self, left: int, top: int, right: int, bottom: int, colour: str) -> None:
        self.create_rectangle(left, top, right, bottom, width=0, fill=colour)

    def _draw_bar(self, top: int, place: int, bar: Bar) -> None:
        left, right = self._inset, self.winfo_width() - self._inset
        bottom, middle = top + self._row, top + self._row // 2 - 1
        reach = left + int((right - left) * bar.share)
        if reach - left > 1:
            self._fill(left, top + 2, reach, bottom - 5, look.chosen_colour())
            self._fill(left, bottom - 5, reach, bottom - 2, look.colour("primary"))
        ink = look.colour("secondary" if bar.faint else "fg")
        words = self.create_text(
            right - self._inset, middle, anchor="e", text=bar.words, fill=ink, font=look.STRONG
        )
        room = self.bbox(words)[0] - left - 3 * self._inset
        title = shortened(bar.title, room, ttk.nametofont("TkDefaultFont", root=self))
        self.create_text(left + self._inset, middle, anchor="w", text=title, fill=ink)
        if place == self._place and self._focused:
            self.create_rectangle(left, top + 1, right, bottom - 1, outline=look.colour("fg"))


def _run(run: Callable[[], object], event: "tk.Event[tk.Misc]") -> str | None:
    if with_modifier(event):
        return None
    run()
    return "break"


def shortened(words: str, room: int, font: Font) -> str:
    """Return the words, or as many of their letters as fit ``room`` pixels, and an ellipsis."""
    if font.measure(words) <= room:
        return words
    while words and font.measure(f"{words}…") > room:
        words = words[:-1]
    return f"{words}…"
