"""Where the teardown stands, in one line on the pages of the bench."""

import tkinter as tk

import ttkbootstrap as ttk

from shopdesk.desk import look
from shopdesk.desk.fields import wrapping
from shopdesk.desk.signs import Sign, SignMark
from shopdesk.job.views import TicketView


class TeardownStrip(ttk.Frame):
    """Says how much is apart and what is not right; the log itself is on Teardown."""

    def __init__(self, parent: tk.Misc) -> None:
        super().__init__(parent)
        self._sign = SignMark(self, Sign.CAUTION)
        self._words = wrapping(ttk.Label(self, font=look.SMALL))
        self._words.pack(side="left", fill="x", expand=True)

    @property
    def words(self) -> str:
        """What is said."""
        return str(self._words.cget("text"))

    def show(self, ticket: TicketView) -> None:
        """Show where a ticket's teardown stands."""
        self._words.configure(text=teardown_words(ticket))
        if not_right(ticket):
            self._sign.pack(side="left", padx=(0, 6), before=self._words)
        else:
            self._sign.pack_forget()


def teardown_words(ticket: TicketView) -> str:
    """Return how many steps are apart and back, and what is left over."""
    steps = ticket.reassembly
    if not steps:
        return "Taken apart: nothing yet; what comes off is noted on Teardown (Alt+6)."
    back = sum(step.done for step in steps)
    count = "1 step" if len(steps) == 1 else f"{len(steps)} steps"
    wrong = not_right(ticket)
    over = f"  Not right yet: {'; '.join(wrong)}." if wrong else ""
    return f"Taken apart: {count}, {back} back.{over}  Teardown (Alt+6)"


def not_right(ticket: TicketView) -> list[str]:
    """Return what is left over at steps that were ticked as back, and not explained."""
    return [
        step.left_over
        for step in ticket.reassembly
        if step.done and step.left_over and not step.explained
    ]
