"""Intake: what was written down at the counter, to be put right, and the claim tag."""

import ttkbootstrap as ttk

from shopdesk.desk.columns import two_columns
from shopdesk.desk.flow import Flow
from shopdesk.desk.forms import section
from shopdesk.desk.keys import action_button
from shopdesk.desk.machine_form import MachineForm
from shopdesk.desk.page import Page
from shopdesk.desk.people import ask_machine, ask_owner
from shopdesk.desk.person_form import PersonForm
from shopdesk.desk.photo_strip import PhotoStrip
from shopdesk.desk.tidying import Tidying
from shopdesk.desk.visit_form import VisitForm
from shopdesk.job.customers import change_customer
from shopdesk.job.intake import (
    change_intake,
    change_ticket_owner,
    change_ticket_unit,
    under_warranty,
)
from shopdesk.job.opened import open_ticket
from shopdesk.job.stages import Stage
from shopdesk.job.units import change_unit
from shopdesk.job.views import TicketView


class IntakePage(Page):
    """The owner, the machine and the visit of a ticket, each changed in place."""

    title = "Intake"
    stages = (Stage.INTAKE,)

    def build(self) -> None:
        """Put visit at the left, owner and machine at the right, actions below."""
        left, right = two_columns(self.body)
        self.visit, self._owner, self._machine = (
            VisitForm(left),
            PersonForm(right),
            MachineForm(right),
        )
        for name, form, title in (
            ("visit", self.visit, "This visit"),
            ("owner", self._owner, "Owner"),
            ("machine", self._machine, "Machine"),
        ):
            section(form.master, title, top=10 if name == "machine" else 0)
            self.keep_typed(name, form).pack(fill="x")
        self._tidying = Tidying(self._owner, self.front.shift)
        self._put_actions(left)
        section(left, "Photos")
        self.photos = PhotoStrip(left, self)
        self.photos.pack(fill="x")

    def refresh(self) -> None:
        """Show what is kept."""
        ticket = self.ticket
        earlier = under_warranty(self.front.shift, ticket.unit.id, ticket.taken_in_at)
        self.visit.show(ticket, earlier)
        self._owner.show(self.ticket.owner)
        self._tidying.forget()
        self._machine.show(self.ticket.unit)
        self.photos.show_loose()

    def save(self) -> bool:
        """Keep each of the three that was changed."""
        steps = (
            (self._owner, self._save_owner),
            (self._machine, self._save_machine),
            (self.visit, self._save_visit),
        )
        return all(self.attempt(job, form, said="Saved.") for form, job in steps if form.changed)

    def _put_actions(self, parent: ttk.Frame) -> None:
        line = Flow(parent)
        line.pack(fill="x", pady=(4, 0))
        for words, key, run in (
            ("Save", "Ctrl+S", self.save),
            ("Tag as PDF", "Ctrl+P", self._print_tag),
            ("Next machine of this visit", "Alt+N", self._next_machine),
            ("Visit's slip and tags", "Alt+L", self._print_visit),
            ("Wrong owner …", "Alt+W", self._change_owner),
            ("Wrong machine …", "Alt+U", self._change_machine),
        ):
            action_button(line, self.front.keys, words, key, run).pack(side="left", padx=(0, 6))

    def _save_owner(self) -> TicketView:
        owner = self.ticket.owner
        change_customer(self.front.shift, owner.id, self._owner.entry(), owner.version)
        return open_ticket(self.front.shift, self.ticket.id)

    def _save_machine(self) -> TicketView:
        unit = self.ticket.unit
        change_unit(self.front.shift, unit.id, self._machine.entry(), unit.version)
        return open_ticket(self.front.shift, self.ticket.id)

    def _save_visit(self) -> TicketView:
        return change_intake(
            self.front.shift, self.ticket.id, self.visit.entry(), self.ticket.version
        )

    def _print_tag(self) -> None:
        if self.save():
            self.front.papers.tag(self.ticket)

    def _print_visit(self) -> None:
        if self.save():
            self.front.papers.visit(self.ticket)

    def _next_machine(self) -> None:
        if self.save():
            self.front.new_ticket(self.ticket.owner.id, None)

    def _change_owner(self) -> None:
        owner = ask_owner(self.front, "Wrong owner", f"Whose machine is {self.ticket.tag} really?")
        if owner is None:
            return
        shift, ticket = self.front.shift, self.ticket
        self.attempt(
            lambda: change_ticket_owner(shift, ticket.id, owner.id),
            said=f"{ticket.tag} and its machine are {owner.name}'s now.",
        )

    def _change_machine(self) -> None:
        shift, ticket = self.front.shift, self.ticket
        unit = ask_machine(self.front, "Wrong machine", ticket.owner, ticket.unit.id)
        if unit is None:
            return
        self.attempt(
            lambda: change_ticket_unit(shift, ticket.id, unit.id),
            said=f"{ticket.tag} is for the {unit.title} now.",
        )
