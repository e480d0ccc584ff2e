"""Which upkeep falls due by when: the letters to send, the earliest first."""

from dataclasses import dataclass
from datetime import date

from shopdesk.job.opened import reminder_view, tag_of
from shopdesk.job.shift import Shift
from shopdesk.job.views import machine_title
from shopdesk.records.fetch import rows_by
from shopdesk.records.tables import Customer, Phone, Reminder, Unit


@dataclass(frozen=True, slots=True)
class DueReminder:
    """An open reminder, and whom to reach; ``ticket`` is the tag of the visit that made it."""

    id: int
    due_on: date
    owner: str
    phones: tuple[str, ...]
    machine: str
    titles: tuple[str, ...]
    ticket: str


def reminders_due(shift: Shift, by: date | None = None) -> tuple[DueReminder, ...]:
    """Return the open reminders that fall due up to and on ``by`` (all of them without it)."""
    with shift.records.reading():
        rows = (
            Reminder.select(Reminder, Customer, Unit)
            .join(Customer)
            .switch(Reminder)
            .join(Unit)
            .where((Reminder.state == "open") & (Reminder.due_on <= (by or date.max)))
            .order_by(Reminder.due_on, Reminder.id)
        )
        return tuple(_due(row) for row in rows)


def _due(row: Reminder) -> DueReminder:
    phones = rows_by(Phone, "customer_id", row.customer_id, "position")
    return DueReminder(
        id=row.id,
        due_on=row.due_on,
        owner=row.customer.name,
        phones=tuple(phone.number for phone in phones),
        machine=machine_title(row.unit.kind, row.unit.make, row.unit.model),
        titles=reminder_view(row).titles,
        ticket=tag_of(row.ticket.number) if row.ticket else "",
    )
