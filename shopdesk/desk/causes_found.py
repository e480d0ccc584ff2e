"""What it turned out to be, once it is known: the likeliest causes are offered first."""

import tkinter as tk
from collections.abc import Sequence

import ttkbootstrap as ttk

from shopdesk.desk import look
from shopdesk.desk.fields import wrapping
from shopdesk.desk.forms import Form
from shopdesk.desk.keys import action_button
from shopdesk.desk.page import Page
from shopdesk.job.causes import hint, say_cause
from shopdesk.job.ranking import CauseView


class CauseFound(ttk.Frame):
    """One row to fill in for a ``page``'s ticket; Enter notes it, an empty cause takes it back."""

    def __init__(self, parent: tk.Misc, page: Page) -> None:
        super().__init__(parent)
        self._page = page
        self.form = form = Form(self, columns=10)
        self._choice = form.choice("cause", "What it turned out to be  Alt+T", [], span=4)
        form.line("words", "In your words", "needed for something else", span=4)
        form.submit_with(self.say)
        form.pack(fill="x")
        button = action_button(form, page.front.keys, "Note the cause", "", self.say)
        button.grid(row=0, column=8, columnspan=2, sticky="sw", pady=(0, 6))
        self._hint = wrapping(ttk.Label(self, font=look.SMALL))
        page.front.keys.add(self, "Alt+T", "Say what it turned out to be", form.focus_first)

    @property
    def hint(self) -> str:
        """What is asked for, where the cause is not said yet."""
        return str(self._hint.cget("text"))

    def show(self, causes: Sequence[CauseView]) -> None:
        """Offer these causes, and show what is noted."""
        ticket = self._page.ticket
        self._choice.offer([("", ""), *((cause.key, cause.title) for cause in causes)])
        self.form.fill({"cause": ticket.cause, "words": ticket.cause_words})
        wanted = hint(ticket)
        self._hint.configure(text=wanted)
        if wanted:
            self._hint.pack(fill="x")
        else:
            self._hint.pack_forget()

    def choose(self, key: str) -> None:
        """Put a cause into the form, for noting it."""
        self.form.restore({"cause": key})
        self.form["words"].focus_input()

    def say(self) -> bool:
        """Note what is chosen."""
        form, front, ticket_id = self.form, self._page.front, self._page.ticket.id
        key, words = form.text_of("cause"), form.text_of("words")
        said = "The cause is noted." if key else "No cause is noted any more."
        return self._page.attempt(
            lambda: say_cause(front.shift, ticket_id, key, words), form, said=said
        )
