"""Says over a page that what stands typed there was left by an earlier window, and when."""

import tkinter as tk
from collections.abc import Callable
from datetime import datetime

import ttkbootstrap as ttk

from shopdesk.dates import show_moment
from shopdesk.desk import look
from shopdesk.desk.drafts import Typed
from shopdesk.desk.fields import wrapping
from shopdesk.desk.front import Front
from shopdesk.desk.keys import action_button
from shopdesk.desk.signs import Sign, SignMark


class PutBack(ttk.Frame):
    """A line that packs itself above ``over`` while there is something to say."""

    def __init__(self, parent: tk.Misc, front: Front, throw_away: Callable[[], object]) -> None:
        super().__init__(parent, padding=(12, 4))
        self._front = front
        self._throw_away = throw_away
        self._shown: datetime | None = None
        SignMark(self, Sign.UNSURE).pack(side="left", padx=(0, 6))
        button = action_button(self, front.keys, "Throw it away …", "Alt+Q", self._ask)
        button.pack(side="right", padx=(12, 0))
        self._words = wrapping(ttk.Label(self, font=look.STRONG))
        self._words.pack(side="left", fill="x", expand=True)

    @property
    def words(self) -> str:
        """What is said, or an empty string."""
        return str(self._words.cget("text")) if self.winfo_manager() else ""

    def show(self, typed: Typed | None, over: tk.Widget) -> None:
        """Say when it was typed, if an earlier window left it; else say nothing."""
        came_at = typed.came_at if typed else None
        if came_at is None:
            self.pack_forget()
        elif came_at != self._shown or not self.winfo_manager():
            when = show_moment(came_at, self._front.shift.shop.zone)
            self._words.configure(text=f"Not saved yet: what you typed here on {when}.")
            self.pack(side="top", fill="x", before=over)
        self._shown = came_at

    def _ask(self) -> None:
        if self._front.dialogs.confirm(
            "Throw it away?",
            "What is typed here and not saved will be gone; what was saved before stays.",
            "Throw it away",
            "Keep it",
            risky=True,
        ):
            self._throw_away()
