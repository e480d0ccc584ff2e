"""A new ticket: owner and machine, known or new, and what is wrong, taken in at one go."""

from shopdesk.desk.columns import two_columns
from shopdesk.desk.forms import Form, section
from shopdesk.desk.intake_machine import MachinePart
from shopdesk.desk.intake_owner import OwnerPart
from shopdesk.desk.sheet import Sheet
from shopdesk.desk.visit_form import EMPTY, VisitForm
from shopdesk.errors import JobError
from shopdesk.job.intake import take_in
from shopdesk.job.units import get_unit, units_of
from shopdesk.job.views import CustomerView, TicketView, UnitView


class NewTicket(Sheet):
    """Owner and machine at the left, the visit at the right; Ctrl+S takes the machine in."""

    def build(self) -> None:
        """Put the three parts side by side."""
        self.head("New ticket")
        self.action("Take in", "Ctrl+S", self._take_in, main=True)
        self.action("Take in, print tag", "Ctrl+P", self._take_in_and_print)
        self.action("Empty", "Alt+E", self._start_over)
        left, right = two_columns(self.body)
        self.owner = OwnerPart(left, self.front)
        self.owner.pack(fill="x")
        section(right, "This visit", top=0)
        self.visit = VisitForm(right)
        self.visit.pack(fill="x")
        self.machine = MachinePart(left, self.front, self.visit.focus_first)
        self.machine.pack(fill="x")
        self.owner.on_change = self._owner_changed
        self.machine.on_found = self._machine_found
        for form in self._forms:
            form.on_change = lambda: self.mark_typed(bool(self.unsaved()))

    @property
    def _forms(self) -> tuple[Form, ...]:
        return self.owner.form, self.machine.form, self.visit

    def begin(self, owner_id: int | None = None, unit_id: int | None = None) -> None:
        """Begin, or go on with what is typed; a known owner or machine is filled in."""
        unit = None if unit_id is None else get_unit(self.front.shift, unit_id)
        owner = unit.owner_id if unit else owner_id
        if owner is not None:
            self.owner.take(owner)
        if unit is not None:
            self.machine.take(unit)
        self.focus_first()

    def focus_first(self) -> None:
        """Begin with the owner, the machine or the complaint: what is not known yet."""
        if self.owner.known is None:
            self.owner.form.focus_first()
        elif self.machine.known is None:
            self.machine.focus_first()
        else:
            self.visit.focus_first()

    def unsaved(self) -> list[str]:
        """Return whether a new ticket is begun."""
        return ["the new ticket"] if any(form.changed for form in self._forms) else []

    def _owner_changed(self, owner: CustomerView | None) -> None:
        self.machine.offer(() if owner is None else units_of(self.front.shift, owner.id))
        if owner is not None:
            self.machine.focus_first()

    def _machine_found(self, unit: UnitView) -> None:
        if self.owner.known is None and not self.owner.called:
            self.owner.take(unit.owner_id)
            self.machine.take(unit)
        self.visit.focus_first()

    def _take_in(self) -> None:
        self._taken_in()

    def _take_in_and_print(self) -> None:
        ticket = self._taken_in()
        if ticket is not None:
            self.front.papers.tag(ticket)

    def _taken_in(self) -> TicketView | None:
        for form in self._forms:
            form.clear_errors()
        handed_on = self._is_handed_on()
        if handed_on and not self._confirm_handed_on():
            return None
        try:
            ticket = take_in(
                self.front.shift,
                self.owner.entry(),
                self.machine.entry(),
                self.visit.entry(),
                changed_hands=handed_on,
            )
        except JobError as error:
            self.say_error(error, *self._likely_forms(error))
            return None
        self._empty()
        self.front.open_ticket(ticket.id)
        self.front.show_ticket(ticket)
        self.front.notices.say(f"{ticket.tag} is taken in. Ctrl+P prints its tag.")
        return ticket

    def _is_handed_on(self) -> bool:
        """Whether a known machine is brought by somebody who is not its owner in the records."""
        unit, owner = self.machine.known, self.owner.known
        return unit is not None and (owner is None or owner.id != unit.owner_id)

    def _confirm_handed_on(self) -> bool:
        unit = self.machine.known
        assert unit is not None
        return self.front.dialogs.confirm(
            "Changed hands?",
            f"The {unit.title} is {unit.owner_name}'s in the records. "
            f"Is it {self.owner.called or 'somebody else'}'s now?",
            "Changed hands",
            "Look again",
        )

    def _likely_forms(self, error: JobError) -> tuple[Form, ...]:
        """Return the forms to look for the error's field in: several have a note."""
        if error.field == "notes":
            return tuple(form for form in self._forms if form.text_of("notes")) or self._forms
        return self._forms

    def _start_over(self) -> None:
        self._empty()
        self.owner.form.focus_first()

    def _empty(self) -> None:
        self.owner.forget()
        self.machine.form.fill({})
        self.visit.fill(EMPTY)
        self.mark_typed(False)
