"""What may stand at the right instead of a ticket: a new ticket, a card, the settings."""

import tkinter as tk
from collections.abc import Callable
from typing import ClassVar, TypeVar

import ttkbootstrap as ttk

from shopdesk.desk import look
from shopdesk.desk.drafts import Typed
from shopdesk.desk.flow import Flow
from shopdesk.desk.forms import Form
from shopdesk.desk.front import Front
from shopdesk.desk.keys import action_button
from shopdesk.desk.put_back import PutBack
from shopdesk.desk.scrolling import ScrollPage
from shopdesk.errors import JobError
from shopdesk.job.drafts import Content, Place

Made = TypeVar("Made")


class Sheet(ttk.Frame):
    """A title with its chief actions, a body that scrolls, and Escape to leave it.

    What is typed on it is held as a draft: call ``mark_typed`` when something was typed.
    """

    page: ClassVar[str]
    """What its drafts are held under."""

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
        self._actions = Flow(self, padding=(12, 0, 12, 8))
        self._actions.pack(fill="x")
        self._rule = ttk.Separator(self, orient="horizontal")
        self._rule.pack(fill="x")
        self._put_back = PutBack(self, front, self._throw)
        self._scroll = ScrollPage(self)
        self._scroll.pack(fill="both", expand=True)
        self.body = self._scroll.inside
        self.build()

    def build(self) -> None:
        """Put the sheet's widgets into ``self.body``, and call ``action`` for its chief actions."""
        raise NotImplementedError

    def show_now(self) -> None:
        """Show the sheet as things stand now, where it stands for no one owner or machine."""
        self.focus_first()

    def to_top(self) -> None:
        """Show the top of the sheet."""
        self._scroll.to_top()

    def come_back(self, place: Place) -> None:
        """Show the sheet as it was left at ``place``, as things stand now."""
        self.show_now()

    def focus_first(self) -> None:
        """Put the focus where work begins."""

    @property
    def held_at(self) -> Place:
        """Where what is typed here is held."""
        return Place(self.page)

    @property
    def called(self) -> str:
        """What to call it in "… is not saved yet"."""
        raise NotImplementedError

    def draft(self) -> Content:
        """Return what is typed here and not kept, by form and field."""
        raise NotImplementedError

    def throw_away(self) -> None:
        """Show what is kept, and nothing of what was typed."""
        raise NotImplementedError

    def typed(self) -> Typed | None:
        """Return what is typed here and not kept."""
        return Typed(self.held_at, self.called, self.draft())

    def head(self, title: str) -> None:
        """Set the title."""
        self._title.configure(text=title if len(title) <= 44 else f"{title[:43]}…")

    def mark_typed(self) -> None:
        """Say whether anything typed is not kept yet, and have it held."""
        self._not_saved.configure(text="not saved yet" if self.draft() else "")
        self.front.drafts.touched(self)
        self.mark_put_back()

    def mark_put_back(self) -> None:
        """Say, or say no more, that what stands here was left by an earlier window."""
        self._put_back.show(self.front.drafts.held(self.held_at), self._rule)

    def action(
        self, words: str, key: str, run: Callable[[], object], *, main: bool = False
    ) -> ttk.Button:
        """Add a chief action under the title."""
        button = action_button(self._actions, self.front.keys, words, key, run, main=main)
        button.pack(side="left", padx=(0, 8))
        return button

    def say_error(self, error: JobError, *forms: Form) -> None:
        """Show an error at its field in one of the forms, else in the notice line."""
        if not any(form.show_error(error) for form in forms):
            self.front.notices.trouble(error.sentence)

    def attempt(self, job: Callable[[], Made], *forms: Form, said: str = "") -> Made | None:
        """Do something of the job's and say so; ``None`` when it can't be done, and it is said why.

        An error stands at its field of one of the forms, else in the notice line.
        """
        for form in forms:
            form.clear_errors()
        try:
            made = job()
        except JobError as error:
            self.say_error(error, *forms)
            return None
        self.front.notices.say(said) if said else self.front.notices.clear()
        return made

    def did(self, job: Callable[[], object], *forms: Form, said: str = "") -> bool:
        """Do something of the job's that hands back nothing of use here; see ``attempt``."""

        def done() -> bool:
            job()
            return True

        return self.attempt(done, *forms, said=said) is not None

    def _throw(self) -> None:
        self.front.drafts.forget(self.held_at)
        self.throw_away()
        self.focus_first()
