"""The warranty on what was done: on the work and on each part, as the invoice that stands says."""

from dataclasses import dataclass
from datetime import date, timedelta

from shopdesk.dates import show_date
from shopdesk.job.invoices.chain import as_issued
from shopdesk.job.paper_content import ChargeRow, InvoiceContent
from shopdesk.job.shift import Shift, load_shop
from shopdesk.job.standing import standing_invoice
from shopdesk.pricing.totals import LineKind
from shopdesk.records.fetch import rows_by
from shopdesk.records.tables import Invoice, Ticket


@dataclass(frozen=True, slots=True)
class Covered:
    """One thing that was done, and the last day on which its warranty runs."""

    what: str
    is_part: bool
    until: date


@dataclass(frozen=True, slots=True)
class Warranty:
    """What is covered on one invoice; it is the shop's own, local law may give more."""

    covered: tuple[Covered, ...]

    @property
    def until(self) -> date | None:
        """The last day on which anything is covered."""
        return max((one.until for one in self.covered), default=None)

    def running(self, today: date) -> "Warranty":
        """What is still covered on a day."""
        return Warranty(tuple(one for one in self.covered if one.until >= today))

    @property
    def words(self) -> str:
        """In a sentence: ``labour until 4 Jul 2031; Carburettor kit until 7 Apr 2032``."""
        labour = max((one.until for one in self.covered if not one.is_part), default=None)
        parts = [one for one in self.covered if one.is_part]
        days = {one.until for one in parts}
        said = [f"labour until {show_date(labour)[4:]}"] if labour else []
        if len(days) == 1:
            said.append(f"parts until {show_date(days.pop())[4:]}")
        else:
            said += [f"{one.what} until {show_date(one.until)[4:]}" for one in parts]
        return "; ".join(said)


def warranty_of(ticket: Ticket) -> Warranty:
    """Return what the standing invoice of a ticket covers, inside a transaction."""
    bill = standing_invoice(rows_by(Invoice, "ticket_id", ticket.id))
    if bill is None:
        return Warranty(())
    said = as_issued(bill)
    found = (_covered(row, said) for row in said.rows)
    return Warranty(tuple(one for one in found if one is not None))


def unit_warranty(shift: Shift, unit_id: int) -> tuple[tuple[str, Warranty], ...]:
    """Return the warranties that run on a machine today, with their visit's tag, newest first."""
    with shift.records.reading():
        today = shift.today_in(load_shop())
        tickets = Ticket.select().where(Ticket.unit == unit_id).order_by(Ticket.id.desc())
        found = [(f"T{row.number}", warranty_of(row).running(today)) for row in tickets]
    return tuple((tag, one) for tag, one in found if one.covered)


def _covered(row: ChargeRow, said: InvoiceContent) -> Covered | None:
    days = _days(row, said)
    if days is None or days <= 0:
        return None
    return Covered(row.description, row.kind == LineKind.PART, said.on + timedelta(days=days))


def _days(row: ChargeRow, said: InvoiceContent) -> int | None:
    """Return how long a row is covered: a part by its own days, else the shop's for parts."""
    if said.returned_as_is or row.kind not in (LineKind.PART, LineKind.LABOUR):
        return None
    if row.kind == LineKind.LABOUR:
        return said.warranty_days
    if row.warranty_days is not None:
        return row.warranty_days
    return said.warranty_days if said.part_warranty_days is None else said.part_warranty_days
