"""A new ticket: find or write down the owner and the machine, then what is wrong with it, in one go."""

import tkinter as tk

import ttkbootstrap as ttk

from shopdesk.desk import look
from shopdesk.desk.forms import section
from shopdesk.desk.intake_page import two_columns
from shopdesk.desk.keys import action_button
from shopdesk.desk.machine_form import MachineForm
from shopdesk.desk.people import known_owners
from shopdesk.desk.person_form import EMPTY as NEW_OWNER
from shopdesk.desk.person_form import PersonForm
from shopdesk.desk.sheet import Sheet
from shopdesk.desk.suggest import Suggestions
from shopdesk.desk.visit_form import EMPTY as NEW_VISIT
from shopdesk.desk.visit_form import VisitForm
from shopdesk.errors import JobError
from shopdesk.job.customers import CustomerEntry, change_customer, get_customer
from shopdesk.job.intake import take_in
from shopdesk.job.units import UnitEntry, change_unit, get_unit, units_of
from shopdesk.job.views import CustomerView, TicketView, UnitView

_OTHER = "another machine"


class NewTicket(Sheet):
    """Owner and machine at the left, the visit at the right; Ctrl+S takes it in, Ctrl+P prints the tag as well."""

    def build(self) -> None:
        """Put the three forms side by side."""
        self.head("New ticket")
        self._owner: CustomerView | None = None
        self._unit: UnitView | None = None
        self._units: tuple[UnitView, ...] = ()
        self.action("Take in", "Ctrl+S", self._take_in, main=True)
        self.action("Take in, print tag", "Ctrl+P", self._take_in_and_print)
        left, right = two_columns(self.body)
        self._put_owner(left)
        self._put_machine(left)
        section(right, "This visit", top=0)
        self._visit = VisitForm(right)
        self._visit.pack(fill="x")
        for form in self._forms:
            form.on_change = lambda: self.mark_typed(bool(self.unsaved()))

    @property
    def _forms(self) -> tuple[PersonForm, MachineForm, VisitForm]:
        return self._person, self._machine, self._visit

    def begin(self, owner_id: int | None = None, unit_id: int | None = None) -> None:
        """Begin, or go on with what is typed; a known owner or machine is filled in."""
        if unit_id is not None:
            unit = get_unit(self.front.shift, unit_id)
            self._take_owner(unit.owner_id)
            self._take_unit(unit)
        elif owner_id is not None:
            self._take_owner(owner_id)
        self.focus_first()

    def focus_first(self) -> None:
        """Begin with the owner, or with the complaint when owner and machine are known."""
        if self._unit is not None:
            self._visit.focus_first()
        elif self._owner is not None:
            self._which.focus_set()
        else:
            self._person.focus_first()

    def unsaved(self) -> list[str]:
        """Return whether a new ticket is begun."""
        return ["the new ticket"] if any(form.changed for form in self._forms) else []

    def _put_owner(self, parent: ttk.Frame) -> None:
        section(parent, "Owner", top=0)
        self._known = ttk.Frame(parent)
        self._known_words = ttk.Label(self._known, font=look.STRONG)
        self._known_words.pack(side="left", padx=(0, 8))
        action_button(self._known, self.front.keys, "Someone else", "Alt+W", self._forget_owner).pack(side="left")
        self._person = PersonForm(parent)
        self._person.pack(fill="x")
        entry = self._person.name_field.input
        assert isinstance(entry, ttk.Entry)
        self.suggestions = Suggestions(
            entry, lambda words: () if self._owner else known_owners(self.front.shift, words), self._take_owner, wide=True
        )
        self._person.name_field.on_enter = self._name_entered

    def _put_machine(self, parent: ttk.Frame) -> None:
        section(parent, "Machine")
        self._choice = ttk.Frame(parent)
        ttk.Label(self._choice, text="Which of theirs", font=look.SMALL).pack(side="left", padx=(0, 8))
        self._which = ttk.Combobox(self._choice, state="readonly")
        self._which.pack(side="left", fill="x", expand=True)
        self._which.bind("<<ComboboxSelected>>", lambda _event: self._unit_chosen())
        self._which.bind("<Return>", self._which_entered)
        self._machine = MachineForm(parent)
        self._machine.pack(fill="x")

    def _name_entered(self) -> None:
        if not self.suggestions.take_chosen():
            self._person.name_field.leave()

    def _which_entered(self, _event: "tk.Event[tk.Misc]") -> str:
        if self._unit is not None:
            self._visit.focus_first()
        else:
            self._machine.focus_first()
        return "break"

    def _take_owner(self, customer_id: int) -> None:
        shift = self.front.shift
        self._owner = get_customer(shift, customer_id)
        self._person.show(self._owner)
        self._known_words.configure(text=f"Known owner: {self._owner.name}")
        self._known.pack(fill="x", pady=(0, 6), before=self._person)
        self._units = units_of(shift, customer_id)
        names = [f"{unit.title}{f', serial {unit.serial}' if unit.serial else ''}" for unit in self._units]
        self._which.configure(values=[*names, _OTHER])
        self._choice.pack(fill="x", pady=(0, 6), before=self._machine)
        self._take_unit(self._units[0] if len(self._units) == 1 else None)
        self._which.focus_set()

    def _forget_owner(self) -> None:
        self._owner, self._units = None, ()
        self._known.pack_forget()
        self._choice.pack_forget()
        self._person.fill(NEW_OWNER)
        self._take_unit(None)
        self._person.focus_first()

    def _unit_chosen(self) -> None:
        place = self._which.current()
        self._take_unit(self._units[place] if 0 <= place < len(self._units) else None)

    def _take_unit(self, unit: UnitView | None) -> None:
        if unit is None and self._unit is not None:
            self._machine.fill({})
        self._unit = unit
        if unit is not None:
            self._machine.show(unit)
        known = [one.id for one in self._units]
        self._which.current(known.index(unit.id) if unit is not None and unit.id in known else len(known)) if known else self._which.set(_OTHER)

    def _take_in(self) -> None:
        self._taken_in()

    def _take_in_and_print(self) -> None:
        ticket = self._taken_in()
        if ticket is not None:
            self.front.papers.tag(ticket)

    def _taken_in(self) -> TicketView | None:
        for form in self._forms:
            form.clear_errors()
        try:
            ticket = take_in(self.front.shift, self._owner_entry(), self._unit_entry(), self._visit.entry())
        except JobError as error:
            self.say_error(error, *self._likely_forms(error))
            return None
        self._empty()
        self.front.show_ticket(ticket)
        self.front.open_ticket(ticket.id)
        self.front.notices.say(f"{ticket.tag} is taken in. Ctrl+P prints its tag.")
        return ticket

    def _owner_entry(self) -> int | CustomerEntry:
        if self._owner is None:
            return self._person.entry()
        if self._person.changed:
            self._owner = change_customer(self.front.shift, self._owner.id, self._person.entry(), self._owner.version)
            self._person.settle()
        return self._owner.id

    def _unit_entry(self) -> int | UnitEntry:
        if self._unit is None:
            return self._machine.entry()
        if self._machine.changed:
            self._unit = change_unit(self.front.shift, self._unit.id, self._machine.entry(), self._unit.version)
            self._machine.settle()
        return self._unit.id

    def _likely_forms(self, error: JobError) -> tuple[PersonForm | MachineForm | VisitForm, ...]:
        """Return the forms in the order in which an error at a field that several have belongs to them."""
        if error.field == "notes":
            return tuple(form for form in self._forms if form.text_of("notes")) or self._forms
        return self._forms

    def _empty(self) -> None:
        self._forget_owner()
        self._machine.fill({})
        self._visit.fill(NEW_VISIT)
        self.mark_typed(False)
