"""The cautions, each in words beside its drawn sign, where the hands are about to go wrong."""

import tkinter as tk
from collections.abc import Sequence

import ttkbootstrap as ttk

from shopdesk.desk import look
from shopdesk.desk.forms import wrapping
from shopdesk.desk.signs import Sign, SignMark
from shopdesk.job.reference import cautions


class CautionLines(ttk.Frame):
    """Some cautions, one under the other; takes no room when there are none."""

    def __init__(self, parent: tk.Misc) -> None:
        super().__init__(parent)
        self._shown: tuple[str, ...] = ()

    @property
    def words(self) -> tuple[str, ...]:
        """The cautions that are shown."""
        return self._shown

    def show(self, words: Sequence[str]) -> None:
        """Show these cautions in place of the others."""
        if tuple(words) == self._shown:
            return
        self._shown = tuple(words)
        for child in self.winfo_children():
            child.destroy()
        for one in words:
            self._put(one)
        if not words:
            self.configure(height=1)

    def show_for(self, keys: Sequence[str]) -> None:
        """Show the cautions of these keys."""
        self.show([caution.words for caution in cautions().named(keys)])

    def _put(self, words: str) -> None:
        line = ttk.Frame(self)
        line.pack(fill="x", pady=1)
        SignMark(line, Sign.CAUTION).pack(side="left", anchor="n", padx=(0, 6), pady=1)
        label = ttk.Label(line, text=words, bootstyle="warning", font=look.SMALL)
        wrapping(label).pack(side="left", fill="x", expand=True)


def standing_line(parent: tk.Misc) -> CautionLines:
    """Return the line that stands on each page of the bench: the maker's manual comes first."""
    line = CautionLines(parent)
    line.show([cautions().standing.words])
    return line
