"""What the cards of owners and machines share: particulars changed in place, nothing lost."""

import tkinter as tk
from collections.abc import Callable

from shopdesk.desk.forms import Form
from shopdesk.desk.front import Front
from shopdesk.desk.sheet import Sheet
from shopdesk.errors import JobError
from shopdesk.job.drafts import Content, Place

_FORM = "particulars"


class Card(Sheet):
    """A sheet about one thing known by its id; what was typed about another waits for it."""

    form: Form
    known: int | None = None

    def __init__(self, parent: tk.Misc, front: Front, leave: Callable[[], object]) -> None:
        self._forms: dict[str, Form] = {}
        super().__init__(parent, front, leave)

    def show(self, known: int) -> None:
        """Show the thing of that id, and over it what was typed and not kept."""
        held = self.front.drafts.find(Place(self.page, known))
        self.fill(known)
        self.known = known
        if held is not None:
            self._restore(held.content)
        self.mark_typed()
        self._scroll.to_top()
        self.focus_first()

    def come_back(self, place: Place) -> None:
        """Show the thing again that stood here."""
        self.show(place.about)

    def fill(self, known: int) -> None:
        """Show what is kept of the thing."""
        raise NotImplementedError

    def keep(self, known: int) -> None:
        """Hand what is typed to the job."""
        raise NotImplementedError

    @property
    def held_at(self) -> Place:
        """Where what is typed about the thing is held."""
        return Place(self.page, self.known or 0)

    def draft(self) -> Content:
        """Return what is typed about the thing and not kept."""
        found = {name: form.draft() for name, form in self._forms.items()}
        return {name: typed for name, typed in found.items() if typed}

    def show_anew(self) -> None:
        """Show the thing as it is now, and over it what is typed and not kept."""
        if self.known is not None:
            typed = self.draft()
            self.fill(self.known)
            self._restore(typed)
            self.mark_typed()

    def deed(self, job: Callable[[], object], *forms: Form, said: str = "") -> bool:
        """Do something with the thing and show it as it is then; returns whether it was done."""
        done = self.did(job, *forms, said=said)
        if done:
            self.show_anew()
            self.front.refresh_board()
        return done

    def throw_away(self) -> None:
        """Show what is kept of the thing."""
        if self.known is not None:
            self.fill(self.known)

    def save(self) -> bool:
        """Keep what is typed; false when it can't be kept yet."""
        if self.known is None or not self.form.changed:
            return True
        self.form.clear_errors()
        before = self.held_at
        try:
            self.keep(self.known)
        except JobError as error:
            self.say_error(error, self.form)
            return False
        self.form.settle()
        if self.held_at != before:
            self.front.drafts.forget(before)
        self.show_anew()
        self.front.drafts.gather()
        self.front.notices.say("Saved.")
        return True

    def watch_form(self, form: Form) -> None:
        """Take this form as the one that holds the particulars."""
        self.form = form
        self.keep_typed(_FORM, form)

    def keep_typed(self, name: str, form: Form) -> None:
        """Look after what is typed in a form."""
        self._forms[name] = form
        form.on_change = self.mark_typed

    def _restore(self, content: Content) -> None:
        for name in content.keys() & self._forms.keys():
            self._forms[name].restore(content[name])
