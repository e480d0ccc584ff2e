"""A page of a ticket: built when first seen, filled from the ticket, nothing typed lost."""

import tkinter as tk
from collections.abc import Callable
from typing import ClassVar

import ttkbootstrap as ttk

from shopdesk.desk.drafts import Typed
from shopdesk.desk.forms import Form
from shopdesk.desk.front import Front
from shopdesk.desk.put_back import PutBack
from shopdesk.desk.scrolling import ScrollPage
from shopdesk.errors import JobError
from shopdesk.job.drafts import Content, Place
from shopdesk.job.opened import open_ticket
from shopdesk.job.stages import Stage
from shopdesk.job.views import TicketView

Draft = Content


class Page(ttk.Frame):
    """Make one by giving it a ``title``, ``build`` and ``refresh``.

    ``build`` puts widgets into ``self.body`` once; ``refresh`` shows ``self.ticket`` in them, and
    is called again after every change. What is typed in forms made known by ``keep_typed`` is held
    as a draft until it is kept or emptied, whatever is opened meanwhile.
    """

    title: ClassVar[str]
    short: ClassVar[str] = ""
    """The title where there is little room, if it is another one."""
    stages: ClassVar[tuple[Stage, ...]]
    """The stages of a ticket that open on this page."""
    scrolls: ClassVar[bool] = True

    def __init__(self, parent: tk.Misc, front: Front) -> None:
        super().__init__(parent)
        self.front = front
        self.on_typed: Callable[[], object] = lambda: None
        self._ticket: TicketView | None = None
        self._forms: dict[str, Form] = {}
        self._showing = False
        self.put_back = PutBack(self, front, self.throw_away)
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

    def focus_typed(self) -> None:
        """Put the focus where something is typed and not kept, else where work begins."""
        typed = (form[name] for form in self._forms.values() for name in form.draft())
        field = next((one for one in typed if one.winfo_manager()), None)
        if field is None:
            self.focus_first()
        else:
            field.focus_input()

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

    def held_at(self, ticket: TicketView) -> Place:
        """Return where what is typed here for a ticket is held."""
        return Place(self.title, ticket.id)

    def draft(self) -> Draft:
        """Return what is typed and not kept yet, by form and field."""
        found = {name: form.draft() for name, form in self._forms.items()}
        return {name: draft for name, draft in found.items() if draft}

    def typed(self) -> Typed | None:
        """Return what is typed for the ticket; none while another one is being brought in."""
        if self._ticket is None or self._showing:
            return None
        called = f"{self._ticket.tag} {self.title}"
        return Typed(self.held_at(self._ticket), called, self.draft())

    def mark_put_back(self) -> None:
        """Say, or say no more, that what stands here was left by an earlier window."""
        held = None if self._ticket is None else self.front.drafts.held(self.held_at(self._ticket))
        self.put_back.show(held, self._scroll or self.body)

    def to_top(self) -> None:
        """Show the top of the page."""
        if self._scroll:
            self._scroll.to_top()

    def throw_away(self) -> None:
        """Show what is kept, and nothing of what was typed."""
        self.front.drafts.forget(self.held_at(self.ticket))
        self.show(self.ticket, {})
        self.focus_first()

    def show(self, ticket: TicketView, draft: Draft | None = None) -> None:
        """Show a ticket, and over it what was typed and not kept: ``draft``, or what is here."""
        same = self.shows(ticket)
        typed = draft if draft is not None else (self.draft() if same else {})
        self._showing, self._ticket = True, ticket
        self.refresh()
        for name in typed.keys() & self._forms.keys():
            self._forms[name].restore(typed[name])
        self._showing = False
        if not same:
            self.to_top()

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
        self.front.drafts.gather()
        return True

    def ask_for(self, form: Form, name: str, sentence: str) -> None:
        """Put the cursor into a field that is empty, and say what to type there."""
        form.restore({name: ""})
        form[name].focus_input()
        self.front.notices.trouble(sentence)

    def anew(self, job: Callable[[], object]) -> TicketView:
        """Do something of the job's that hands back no ticket, and read the ticket anew."""
        job()
        return open_ticket(self.front.shift, self.ticket.id)

    def say_error(self, error: JobError, form: Form | None = None) -> None:
        """Show an error at its field, else in the notice line."""
        if form is None or not form.show_error(error):
            self.front.notices.trouble(error.sentence)
