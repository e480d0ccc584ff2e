"""What is remembered: a machine's visits over all its owners, an owner's tickets, the journal."""

from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal

from shopdesk.bench.checks import Verdict
from shopdesk.dates import local_day
from shopdesk.job.opened import tag_of
from shopdesk.job.paperwork import why_words
from shopdesk.job.reference import cause_title
from shopdesk.job.shift import Shift, load_shop
from shopdesk.job.shop import Shop
from shopdesk.job.stages import Stage
from shopdesk.job.standing import TicketRows, is_work, rows_of_many, totals_of
from shopdesk.job.units import find_unit
from shopdesk.job.views import VisitView
from shopdesk.pricing.totals import ZERO, LineKind
from shopdesk.records.tables import Customer, JournalEntry, Ownership, Ticket, Unit


@dataclass(frozen=True, slots=True)
class OwnedFor:
    """An owner of a machine, from when until when."""

    owner: str
    since: date
    until: date | None


@dataclass(frozen=True, slots=True)
class JournalLine:
    """One change of a ticket, as kept."""

    at: datetime
    who: str
    action: str
    table: str
    row_id: int
    before: str
    after: str
    why: str


def unit_history(shift: Shift, unit_id: int) -> tuple[VisitView, ...]:
    """Return the visits of a machine over all its owners, newest first."""
    return _visits(shift, Ticket.unit == unit_id)


def customer_history(shift: Shift, customer_id: int) -> tuple[VisitView, ...]:
    """Return the tickets that a customer brought, newest first."""
    return _visits(shift, Ticket.customer == customer_id)


def unit_owners(shift: Shift, unit_id: int) -> tuple[OwnedFor, ...]:
    """Return whose the machine was, first to last."""
    with shift.records.reading():
        return owners_of(find_unit(unit_id))


def owners_of(unit: Unit) -> tuple[OwnedFor, ...]:
    """Do what ``unit_owners`` does, inside a transaction."""
    rows = (
        Ownership.select(Ownership, Customer)
        .join(Customer)
        .where(Ownership.unit == unit.id)
        .order_by(Ownership.since, Ownership.id)
    )
    return tuple(OwnedFor(row.customer.name, row.since, row.until) for row in rows)


def ticket_journal(shift: Shift, ticket_id: int) -> tuple[JournalLine, ...]:
    """Return every change of a ticket and what hangs on it, in order."""
    with shift.records.reading():
        rows = (
            JournalEntry.select()
            .where(JournalEntry.ticket_id == ticket_id)
            .order_by(JournalEntry.id)
        )
        return tuple(
            JournalLine(
                row.at,
                row.who,
                row.action,
                row.table,
                row.row_id,
                row.before,
                row.after,
                row.why,
            )
            for row in rows
        )


def _visits(shift: Shift, condition: object) -> tuple[VisitView, ...]:
    with shift.records.reading():
        return visits_where(condition, load_shop())


def visits_where(condition: object, shop: Shop) -> tuple[VisitView, ...]:
    """Return the visits of the tickets that fulfil a condition, newest first, in a transaction."""
    tickets = list(
        Ticket.select(Ticket, Customer)
        .join(Customer)
        .where(condition)
        .order_by(Ticket.taken_in_at.desc(), Ticket.id.desc())
    )
    return tuple(_visit(rows, shop) for rows in rows_of_many(tickets))


def _visit(rows: TicketRows, shop: Shop) -> VisitView:
    ticket = rows.ticket
    bill = rows.standing_invoice
    done = [line for line in rows.live_lines if is_work(line) and line.done_at]
    return VisitView(
        ticket_id=ticket.id,
        number=ticket.number,
        tag=tag_of(ticket.number),
        stage=Stage(ticket.stage),
        outcome=ticket.outcome,
        owner=ticket.customer.name,
        taken_in_on=local_day(ticket.taken_in_at, shop.zone),
        closed_on=local_day(ticket.closed_at, shop.zone) if ticket.closed_at else None,
        complaint=ticket.complaint,
        failed=tuple(
            f"{row.title}: {row.shown}" for row in rows.findings if row.verdict == Verdict.FAIL
        ),
        done=tuple(f"{line.description} ({why_words(line)})" for line in done),
        cause_title=cause_title(ticket.cause, ticket.cause_words),
        total=bill.total if bill else totals_of(rows, shop).total,
        comeback_of=ticket.comeback_of.number if ticket.comeback_of_id else None,
        charged=sum((one.total for one in rows.invoices), ZERO),
        hours=sum((one.quantity for one in done if one.kind == LineKind.LABOUR), Decimal(0)),
        parts=tuple(one.description for one in done if one.kind == LineKind.PART),
    )
