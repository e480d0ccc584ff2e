"""The till at the end of the day: type what was counted, and see whether it is right."""

import tkinter as tk
from collections.abc import Callable
from datetime import date

import ttkbootstrap as ttk

from shopdesk.desk.fields import wrapping
from shopdesk.desk.forms import Form, section
from shopdesk.desk.front import Front
from shopdesk.desk.keys import action_button
from shopdesk.errors import JobError
from shopdesk.job.reports.till import CountEntry, Till, count_till, till


class TillForm(ttk.Frame):
    """What was counted, what lay in the till in the morning, what is taken out; ``on_kept`` hears.

    ``front.notices`` says what has no place in the form.
    """

    def __init__(self, parent: tk.Misc, front: Front) -> None:
        super().__init__(parent)
        self.on_kept: Callable[[], object] = lambda: None
        self._front = front
        self._day: date | None = None
        section(self, "Count the till")
        self._words = wrapping(ttk.Label(self))
        self._words.pack(fill="x", pady=(0, 4))
        self.form = Form(self, columns=4)
        self.form.line("counted", "Cash counted")
        self.form.line("opening", "In it in the morning", "empty: what was left")
        self.form.line("taken_out", "Taken out", "to the bank")
        self.form.line("note", "Note")
        self.form.submit_with(self.keep, "note")
        self.form.pack(fill="x")
        action_button(self, front.keys, "Keep the count", "Alt+K", self.keep).pack(anchor="w")

    def show(self, day: date) -> None:
        """Show the till of that day; what is typed stays."""
        self._day = day
        kept = till(self._front.shift, day)
        self._words.configure(text=_in_words(kept))
        if not self.form.changed:
            self.form.fill(_values(kept))

    def throw_away(self) -> None:
        """Show what is kept, and nothing of what was typed."""
        self.form.fill({})
        if self._day is not None:
            self.show(self._day)

    def keep(self) -> None:
        """Keep the count, or say at its field what is wrong."""
        if self._day is None:
            return
        self.form.clear_errors()
        try:
            kept = count_till(self._front.shift, self._day, self.form.into(CountEntry))
        except JobError as error:
            if not self.form.show_error(error):
                self._front.notices.trouble(error.sentence)
            return
        self.form.fill(_values(kept))
        self.show(self._day)
        self._front.notices.say("The count is kept.")
        self.on_kept()


def _values(kept: Till) -> dict[str, str | bool]:
    if kept.counted is None:
        return {}
    return {
        "counted": f"{kept.counted:.2f}",
        "opening": f"{kept.opening:.2f}" if kept.opening is not None else "",
        "taken_out": f"{kept.taken_out:.2f}" if kept.taken_out else "",
        "note": kept.note,
    }


def _in_words(kept: Till) -> str:
    if kept.counted is not None:
        return f"Counted by {kept.counted_by or 'nobody named'}; counting again takes its place."
    if kept.should_be is None:
        return "No earlier count says what lay in the till in the morning: type that too."
    return f"There should be {kept.should_be:,.2f} in it ({kept.opening_words})."
