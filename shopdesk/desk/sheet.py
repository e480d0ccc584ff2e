"""What may stand at the right instead of a ticket: a new ticket, a card, the settings."""

import tkinter as tk
from collections.abc import Callable

import ttkbootstrap as ttk

from shopdesk.desk import look
from shopdesk.desk.forms import Form
from shopdesk.desk.front import Front
from shopdesk.desk.keys import action_button
from shopdesk.desk.scrolling import ScrollPage
from shopdesk.errors import JobError


class Sheet(ttk.Frame):
    """A title with its chief actions, a body that scrolls, and Escape to leave it."""

    def __init__(self, parent: tk.Misc, front: Front, leave: Callable[[], object]) -> None:
        super().__init__(parent)
        self.front = front
        self.leave = leave
        head = ttk.Frame(self, padding=(12, 8, 12, 4))
        head.pack(fill="x")
        self._title = ttk.Label(head, font=look.TITLE, bootstyle="primary")
        self._title.pack(side="left")
        self._not_saved = ttk.Label(head, font=look.SMALL, bootstyle="secondary")
        self._not_saved.pack(side="left", padx=12)
        action_button(head, front.keys, "Leave", "Esc", leave).pack(side="right")
        self._actions = ttk.Frame(self, padding=(12, 0, 12, 8))
        self._actions.pack(fill="x")
        ttk.Separator(self, orient="horizontal").pack(fill="x")
        self._scroll = ScrollPage(self)
        self._scroll.pack(fill="both", expand=True)
        self.body = self._scroll.inside
        self.build()

    def build(self) -> None:
        """Put the sheet's widgets into ``self.body``, and call ``action`` for its chief actions."""
        raise NotImplementedError

    def focus_first(self) -> None:
        """Put the focus where work begins."""

    def unsaved(self) -> list[str]:
        """Return in words what is typed here and not kept."""
        return []

    def head(self, title: str) -> None:
        """Set the title."""
        self._title.configure(text=title if len(title) <= 44 else f"{title[:43]}…")

    def mark_typed(self, typed: bool) -> None:
        """Say whether anything typed is not kept yet."""
        self._not_saved.configure(text="not saved yet" if typed else "")

    def action(
        self, words: str, key: str, run: Callable[[], object], *, main: bool = False
    ) -> None:
        """Add a chief action beside the title."""
        action_button(self._actions, self.front.keys, words, key, run, main=main).pack(
            side="left", padx=(0, 8)
        )

    def say_error(self, error: JobError, *forms: Form) -> None:
        """Show an error at its field in one of the forms, else in the notice line."""
        if not any(form.show_error(error) for form in forms):
            self.front.notices.trouble(error.sentence)
