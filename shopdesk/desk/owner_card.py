"""An owner's card: who they are, which machines they have, and what was done for them."""

from shopdesk.desk.card import Card
from shopdesk.desk.forms import section
from shopdesk.desk.person_form import PersonForm
from shopdesk.desk.rows import Column, RowList
from shopdesk.desk.visit_rows import VisitRows
from shopdesk.job.customers import change_customer, get_customer
from shopdesk.job.history import customer_history
from shopdesk.job.units import units_of
from shopdesk.job.views import CustomerView


class OwnerCard(Card):
    """Particulars above, machines and visits below."""

    page = "owner"

    def build(self) -> None:
        """Put the form over the two lists."""
        self._owner: CustomerView | None = None
        self.action("Save", "Ctrl+S", self.save, main=True)
        self.action("New ticket for them", "Alt+N", self._new_ticket)
        self.action("Written down twice …", "Alt+W", self._same)
        self._person = PersonForm(self.body, columns=4, whole=True)
        self.watch_form(self._person)
        self._person.pack(fill="x")
        section(self.body, "Machines")
        columns = [
            Column("Machine", 240, grows=True),
            Column("Engine", 110),
            Column("Serial", 160),
            Column("Note", 220),
        ]
        self._machines = RowList(
            self.body,
            columns,
            lines=4,
            empty="No machine of theirs is written down: Alt+N takes one in.",
        )
        self._machines.pack(fill="x")
        self._machines.on_open(self.front.open_machine)
        section(self.body, "Visits")
        self._visits = VisitRows(self.body, self.front.open_ticket)
        self._visits.pack(fill="both", expand=True)

    def fill(self, known: int) -> None:
        """Show what is kept of the owner."""
        shift = self.front.shift
        self._owner = get_customer(shift, known)
        self.head(self._owner.name)
        self._person.show(self._owner)
        units = units_of(shift, known)
        self._machines.show(
            [(unit.id, (unit.title, unit.engine, unit.serial, unit.notes)) for unit in units]
        )
        self._visits.show_visits(customer_history(shift, known), shift.shop.currency)

    def keep(self, known: int) -> None:
        """Change the owner."""
        assert self._owner is not None
        self._owner = change_customer(
            self.front.shift, known, self._person.entry(), self._owner.version
        )

    @property
    def called(self) -> str:
        """Return the owner's name."""
        return f"the card of {self._owner.name}" if self._owner else "an owner's card"

    def focus_first(self) -> None:
        """Begin with the machines, or with the name where there are none."""
        if self._machines.tree.get_children():
            self._machines.focus_list()
        else:
            self._person.focus_first()

    def _same(self) -> None:
        from shopdesk.desk.merge_sheet import OwnersMerge

        if self._owner is not None and self.save():
            self.front.open_card(OwnersMerge, self._owner.id)

    def _new_ticket(self) -> None:
        if self._owner is not None and self.save():
            self.front.new_ticket(self._owner.id, None)
