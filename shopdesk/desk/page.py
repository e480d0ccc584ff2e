"""A page of a ticket: built when first seen, filled from the ticket, nothing typed lost."""

import tkinter as tk
from collections.abc import Callable, Mapping
from typing import ClassVar

import ttkbootstrap as ttk

from shopdesk.desk.fields import Value
from shopdesk.desk.forms import Form
from shopdesk.desk.front import Front
from shopdesk.desk.scrolling import ScrollPage
from shopdesk.errors import JobError
from shopdesk.job.opened import open_ticket
from shopdesk.job.stages import Stage
from shopdesk.job.views import TicketView

Draft = Mapping[str, Mapping[str, Value]]


class Page(ttk.Frame):
    """Make one by giving it a ``title``, ``build`` and ``refresh``.

    ``build`` puts widgets into ``self.body`` once; ``refresh`` shows ``self.ticket`` in them, and
    is called again after every change. Forms made known by ``keep_typed`` keep what is typed in
    them when another ticket is opened.
    """

    title: ClassVar[str]
    stages: ClassVar[tuple[Stage, ...]]
    """The stages of a ticket that open on this page."""
    scrolls: ClassVar[bool] = True

    def __init__(self, parent: tk.Misc, front: Front) -> None:
        super().__init__(parent)
        self.front = front
        self.on_typed: Callable[[], object] = lambda: None
        self._ticket: TicketView | None = None
        self._forms: dict[str, Form] = {}
        self._scroll = ScrollPage(self) if self.scrolls else None
        self.body: ttk.Frame = self._scroll.inside if self._scroll else ttk.Frame(self, padding=12)
        (self._scroll or self.body).pack(fill="both", expand=True)
        self.build()

    def build(self) -> None:
        """Put the page's widgets into ``self.body``."""
        raise NotImplementedError

    def refresh(self) -> None:
        """Show ``self.ticket`` as it is now."""
        raise NotImplementedError

    def save(self) -> bool:
        """Keep what is typed here (Ctrl+S, and before going on); false when it can't be yet."""
        return True

    def focus_first(self) -> None:
        """Put the focus where work on this page begins."""
        first = next(iter(self._forms.values()), None)
        if first is not None:
            first.focus_first()

    @property
    def ticket(self) -> TicketView:
        """The ticket that the page shows."""
        assert self._ticket is not None, "the page was asked for its ticket before it was shown one"
        return self._ticket

    @property
    def changed(self) -> bool:
        """Whether anything typed here is not kept yet."""
        return any(form.changed for form in self._forms.values())

    def shows(self, ticket: TicketView) -> bool:
        """Whether it is this ticket that the page shows."""
        return self._ticket is not None and self._ticket.id == ticket.id

    def keep_typed(self, name: str, form: Form) -> Form:
        """Let the page look after what is typed in a form."""
        self._forms[name] = form
        form.on_change = lambda: self.on_typed()
        return form

    def draft(self) -> Draft:
        """Return what is typed and not kept yet, by form and field."""
        found = {name: form.draft() for name, form in self._forms.items()}
        return {name: draft for name, draft in found.items() if draft}

    def show(self, ticket: TicketView, draft: Draft | None = None) -> None:
        """Show a ticket, and over it what was typed and not kept: ``draft``, or what is here."""
        same = self.shows(ticket)
        typed = draft if draft is not None else (self.draft() if same else {})
        self._ticket = ticket
        self.refresh()
        for name, values in typed.items():
            self._forms[name].restore(values)
        if self._scroll and not same:
            self._scroll.to_top()

    def attempt(
        self,
        job: Callable[[], TicketView],
        form: Form | None = None,
        *,
        said: str = "",
        empty: bool = False,
    ) -> bool:
        """Do something of the job's and show what came of it; returns whether it was done.

        An error stands at its field of ``form``, else in the notice line; what was typed stays.
        Once done, ``form`` counts as kept (or is emptied), and ``said`` stands in the notice line.
        """
        if form is not None:
            form.clear_errors()
        try:
            ticket = job()
        except JobError as error:
            self.say_error(error, form)
            return False
        if form is not None:
            form.fill({}) if empty else form.settle()
        self.front.notices.say(said) if said else self.front.notices.clear()
        self.front.show_ticket(ticket)
        return True

    def anew(self, job: Callable[[], object]) -> TicketView:
        """Do something of the job's that hands back no ticket, and read the ticket anew."""
        job()
        return open_ticket(self.front.shift, self.ticket.id)

    def say_error(self, error: JobError, form: Form | None = None) -> None:
        """Show an error at its field, else in the notice line."""
        if form is None or not form.show_error(error):
            self.front.notices.trouble(error.sentence)
