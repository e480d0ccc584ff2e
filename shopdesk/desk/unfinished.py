"""What was begun elsewhere and is not saved, named at the foot of the board; one key goes on."""

import tkinter as tk
from collections.abc import Callable, Sequence

import ttkbootstrap as ttk

from shopdesk.desk import look
from shopdesk.desk.dialogs import Dialogs
from shopdesk.desk.drafts import Typed
from shopdesk.desk.fields import wrapping
from shopdesk.desk.keys import Keys, action_button

_NAMED, _LETTERS = 3, 60


class Unfinished(ttk.Frame):
    """Packs itself under what is there while anything is unfinished; ``go_on`` opens one of it."""

    def __init__(
        self, parent: tk.Misc, keys: Keys, dialogs: Dialogs, go_on: Callable[[Typed], object]
    ) -> None:
        super().__init__(parent, padding=(12, 6))
        self._dialogs = dialogs
        self._go_on = go_on
        self._shown: Sequence[Typed] = ()
        self._words = wrapping(ttk.Label(self, font=look.SMALL))
        self._words.pack(fill="x", pady=(0, 4))
        action_button(self, keys, "Go on with it", "Ctrl+U", self._choose).pack(anchor="w")

    @property
    def words(self) -> str:
        """What is said, or an empty string."""
        return str(self._words.cget("text")) if self._shown else ""

    def show(self, unfinished: Sequence[Typed]) -> None:
        """Name what is unfinished; nothing is said when nothing is."""
        self._shown = unfinished
        if not unfinished:
            self.pack_forget()
            return
        self._words.configure(text=f"Not saved yet: {named([one.called for one in unfinished])}")
        self.pack(side="bottom", fill="x", before=self.master.winfo_children()[0])

    def _choose(self) -> None:
        place: int | None = 0
        if len(self._shown) > 1:
            words = [one.called for one in self._shown]
            place = self._dialogs.choose("Not saved yet", "Go on with", words)
        if place is not None:
            self._go_on(self._shown[place])


def named(called: Sequence[str]) -> str:
    """Return the first few in one line, and how many more there are."""
    short = [one if len(one) <= _LETTERS else f"{one[: _LETTERS - 1]}…" for one in called]
    more = len(short) - _NAMED
    return ", ".join(short[:_NAMED]) + (f" and {more} more" if more > 0 else "")
