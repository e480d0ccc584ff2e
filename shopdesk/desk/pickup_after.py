"""What goes home with the machine, and after: the summary, old parts, the reminder of upkeep."""

import tkinter as tk

import ttkbootstrap as ttk

from shopdesk.dates import show_date
from shopdesk.desk.flow import Flow
from shopdesk.desk.forms import Form, wrapping
from shopdesk.desk.keys import action_button
from shopdesk.desk.page import Page
from shopdesk.desk.rows import Column, RowList
from shopdesk.job.after import STATES, make_reminder, set_reminder_state
from shopdesk.job.opened import open_ticket
from shopdesk.job.upkeep_plan import PlanRow, PlanView, upkeep_plan
from shopdesk.job.views import TicketView

_NEXT_SHOWN = 3


class After(ttk.Frame):
    """Works for a ``page``; its form is ``reminder``."""

    def __init__(self, parent: tk.Misc, page: Page) -> None:
        super().__init__(parent)
        self._page = page
        keys = page.front.keys
        self._old = wrapping(ttk.Label(self))
        self._old.pack(fill="x", pady=(0, 4))
        action_button(self, keys, "Print the work performed and why", "Alt+W", self._summary).pack(
            anchor="w"
        )
        self._next = wrapping(ttk.Label(self))
        self._next.pack(fill="x", pady=(8, 0))
        self.reminder = form = Form(self, columns=6)
        form.line("due_on", "Upkeep falls due", "empty: as worked out", span=3)
        form.pack(fill="x", pady=(8, 0))
        form.submit_with(self._make)
        button = action_button(form, keys, "Make the reminder", "Alt+R", self._make)
        button.grid(row=0, column=3, columnspan=3, sticky="sw", pady=(0, 6))
        self._list = RowList(
            self,
            [Column("Due", 130), Column("What", 160, grows=True), Column("State", 70)],
            lines=2,
            empty="No reminder was made: Alt+R makes one.",
        )
        self._list.pack(fill="x", pady=(0, 4))
        self._list.on_open(self._print)
        line = Flow(self)
        line.pack(fill="x")
        for words, key, run in (
            ("Print the reminder", "Alt+L", self._print_chosen),
            ("For the owner's calendar", "Alt+J", self._calendar),
            ("What became of it …", "Alt+S", self._became),
        ):
            action_button(line, keys, words, key, run).pack(side="left", padx=(0, 8))

    @property
    def old_parts(self) -> str:
        """What is said of the old parts."""
        return str(self._old.cget("text"))

    def show(self, ticket: TicketView) -> None:
        """Show a ticket's old parts and reminders."""
        wanted = "The owner wants the old parts back: put them with the machine."
        self._old.configure(
            text=wanted if ticket.old_parts_back else "The owner did not ask for the old parts."
        )
        self._next.configure(text=_next_words(upkeep_plan(self._page.front.shift, ticket.unit.id)))
        self.reminder.fill({})
        self._list.show(
            [
                (one.id, (show_date(one.due_on), "; ".join(one.titles), one.state))
                for one in ticket.reminders
            ]
        )

    def _summary(self) -> None:
        self._page.front.papers.summary(self._page.ticket)

    def _make(self) -> None:
        page, due_on = self._page, self.reminder.text_of("due_on")
        page.attempt(
            lambda: make_reminder(page.front.shift, page.ticket.id, due_on),
            self.reminder,
            said="The reminder is made.",
            empty=True,
        )

    def _chosen(self) -> int | None:
        reminders = self._page.ticket.reminders
        if not reminders:
            self._page.front.notices.trouble("There is no reminder yet: make it first.")
            return None
        return self._list.selected or reminders[-1].id

    def _print_chosen(self) -> None:
        chosen = self._chosen()
        if chosen is not None:
            self._print(chosen)

    def _print(self, reminder_id: int) -> None:
        ticket = self._page.ticket
        self._page.front.papers.reminder(
            ticket, next(one for one in ticket.reminders if one.id == reminder_id)
        )

    def _calendar(self) -> None:
        chosen, ticket = self._chosen(), self._page.ticket
        if chosen is not None:
            self._page.front.papers.calendar(
                ticket, next(one for one in ticket.reminders if one.id == chosen)
            )

    def _became(self) -> None:
        chosen, page = self._chosen(), self._page
        if chosen is None:
            return
        place = page.front.dialogs.choose("The reminder", "What became of it?", STATES)
        if place is not None:
            page.attempt(
                lambda: self._set_state(chosen, STATES[place]),
                said=f"The reminder is {STATES[place]}.",
            )

    def _set_state(self, reminder_id: int, state: str) -> TicketView:
        shift = self._page.front.shift
        set_reminder_state(shift, reminder_id, state)
        return open_ticket(shift, self._page.ticket.id)


def _next_words(plan: PlanView) -> str:
    """Return what is overdue, what is due next, and who can do it."""
    dated = [(row.due_on, row) for row in plan.rows if row.due_on is not None]
    now = [_task_words(row) for due_on, row in dated if due_on <= plan.on]
    ahead = [
        f"{show_date(due_on)[4:]} {_task_words(row)}" for due_on, row in dated if due_on > plan.on
    ]
    said = [f"Overdue, due now: {'; '.join(now)}."] if now else []
    said += [f"Next: {'; '.join(ahead[:_NEXT_SHOWN])}."] if ahead else []
    return " ".join(said) or "No upkeep of this machine has a day."


def _task_words(row: PlanRow) -> str:
    return f"{row.title} ({'the owner can' if row.owner_can else 'better left to us'})"
