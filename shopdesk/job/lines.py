"""Parts, labour, fees, sublet work and discounts on a ticket, each with its reason."""

from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from decimal import Decimal

from peewee import fn

from shopdesk.errors import JobError
from shopdesk.job import typed
from shopdesk.job.opened import ticket_view
from shopdesk.job.reasons import Reason
from shopdesk.job.shift import Change, Shift
from shopdesk.job.stages import Stage
from shopdesk.job.standing import DECLINED, ON_HAND, SUPPLIES, find_ticket, standing_invoice
from shopdesk.job.views import TicketView
from shopdesk.pricing.money import MOST_MONEY
from shopdesk.pricing.totals import ZERO, LineKind, line_net
from shopdesk.records.fetch import row_of, rows_by
from shopdesk.records.tables import Finding, Invoice, Line, Ticket

AGREED_FEE = "Diagnosis, agreed at intake"
"""The fee line that a no brings with it."""
CONDITIONS = ("new", "used", "rebuilt")


@dataclass(frozen=True, slots=True)
class LineEntry:
    """A line as typed.

    For labour ``quantity`` is hours (``0.5``, ``27 min``) and an empty price is the bench rate.
    """

    kind: str
    description: str
    quantity: str = "1"
    unit_price: str = ""
    reason: str = ""
    reason_note: str = ""
    part_number: str = ""
    condition: str = ""
    cost: str = ""
    finding_id: int | None = None
    renews: str = ""
    """Key of the upkeep task that this part renews."""
    supply: str = ""
    expected_on: str = ""


def faults(entry: LineEntry) -> tuple[JobError, ...]:
    """Return what is wrong with a line as typed, field by field, to be said all at once."""
    found: list[JobError] = []
    with _gathered(found):
        kind = _kind(entry)
    if found:
        return tuple(found)
    for read in (_description, _quantity, _typed_price, _reason):
        with _gathered(found):
            read(entry, kind)
    return tuple(found)


@contextmanager
def _gathered(found: list[JobError]) -> Iterator[None]:
    try:
        yield
    except JobError as error:
        found.append(error)


def add_line(shift: Shift, ticket_id: int, entry: LineEntry) -> TicketView:
    """Add a line; it is the last of the ticket's lines. Raises ``JobError`` at the field."""
    with shift.changing() as change:
        ticket = find_ticket(ticket_id)
        line = Line(ticket=ticket, position=next_position(ticket))
        _refuse_unless_open(ticket)
        _fill(change, line, entry)
        change.add(line)
        return ticket_view(ticket, change.shop, change.today)


def change_line(shift: Shift, line_id: int, entry: LineEntry) -> TicketView:
    """Change a line in place. Raises ``JobError`` at the field, or once an invoice stands."""
    with shift.changing() as change:
        line, ticket = find_open_line(line_id)
        _fill(change, line, entry)
        change.save(line)
        return ticket_view(ticket, change.shop, change.today)


def drop_line(shift: Shift, line_id: int, why: str = "") -> TicketView:
    """Take a line off the ticket; the journal keeps it."""
    with shift.changing() as change:
        line, ticket = find_open_line(line_id)
        change.remove(line, typed.line(why, "why", "The reason"))
        return ticket_view(ticket, change.shop, change.today)


def turn_down(shift: Shift, line_id: int) -> TicketView:
    """Note that the owner doesn't want this line; it stays in sight, uncharged.

    Raises ``JobError`` if it is done.
    """
    with shift.changing() as change:
        line, ticket = find_open_line(line_id)
        refuse_if_done(line)
        decline_line(change, line)
        return ticket_view(ticket, change.shop, change.today)


def offer_again(shift: Shift, line_id: int) -> TicketView:
    """Put a declined line back on offer; the fee that the no brought with it goes."""
    with shift.changing() as change:
        line, ticket = find_open_line(line_id)
        put_back_on_offer(change, [line])
        return ticket_view(ticket, change.shop, change.today)


def put_back_on_offer(change: Change, lines: Iterable[Line]) -> None:
    """Put declined lines of one ticket back on offer, inside a transaction."""
    for line in lines:
        line.decision = ""
        change.save(line)
        for other in rows_by(Line, "ticket_id", line.ticket_id):
            if other.description == AGREED_FEE and other.kind == LineKind.FEE:
                change.remove(other, "the repair is on offer again")


def find_open_line(line_id: int) -> tuple[Line, Ticket]:
    """Return the line and its ticket, in a transaction; ``JobError`` if it may not be changed."""
    line = row_of(Line, line_id)
    if line is None:
        raise JobError("That line is not on the ticket any more: open the ticket again.", "line")
    ticket = find_ticket(line.ticket_id)
    _refuse_unless_open(ticket)
    return line, ticket


def _refuse_unless_open(ticket: Ticket) -> None:
    if ticket.stage == Stage.CLOSED:
        raise JobError("This ticket is closed: reopen it to change its lines.", "stage")
    invoice = standing_invoice(rows_by(Invoice, "ticket_id", ticket.id))
    if invoice is not None:
        raise JobError(
            f"Invoice {invoice.number} stands: write a credit note for it before changing lines.",
            "stage",
        )


def next_position(ticket: Ticket) -> int:
    """Return the place after the ticket's last line, inside a transaction."""
    last = Line.select(fn.MAX(Line.position)).where(Line.ticket == ticket.id).scalar()
    return 0 if last is None else last + 1


def refuse_if_done(line: Line) -> None:
    """Raise ``JobError`` if the line was ticked as done: it can't be unwanted any more."""
    if line.done_at is not None:
        raise JobError(f"“{line.description}” is done already: take its tick off first.", "line")


def _fill(change: Change, line: Line, entry: LineEntry) -> None:
    line.kind = kind = _kind(entry)
    line.description = _description(entry, kind)
    line.part_number = typed.line(entry.part_number, "part_number", "The part number")
    line.reason = _reason(entry, kind)
    line.reason_note = typed.line(entry.reason_note, "reason_note", "The note on the reason")
    line.finding = _finding(line, entry)
    line.renews = typed.line(entry.renews, "renews", "The upkeep task")
    line.quantity = _quantity(entry, kind)
    line.unit_price = _price(change, entry, kind, Reason(line.reason))
    line.cost = typed.optional_money(entry.cost, "cost")
    _fill_supply(change, line, entry, kind)
    if abs(line_net(line.quantity, line.unit_price)) > MOST_MONEY:
        raise JobError(
            f"This line comes to more than {MOST_MONEY:,}: check quantity and price.", "quantity"
        )


def _fill_supply(change: Change, line: Line, entry: LineEntry, kind: LineKind) -> None:
    if kind is LineKind.PART:
        line.condition = (
            typed.choice(entry.condition, "condition", CONDITIONS, "The part's condition") or "new"
        )
        line.supply = typed.choice(entry.supply, "supply", SUPPLIES, "Where the part is") or ON_HAND
    else:
        line.condition = line.supply = ""
    line.expected_on = typed.day(
        entry.expected_on, "expected_on", change.today, day_first=change.shop.day_first
    )


def _kind(entry: LineEntry) -> LineKind:
    return LineKind(
        typed.choice(entry.kind, "kind", list(LineKind), "The kind of line", needed=True)
    )


def _description(entry: LineEntry, _kind: LineKind) -> str:
    return typed.line(entry.description, "description", "The description", needed=True)


def _reason(entry: LineEntry, kind: LineKind) -> Reason:
    usual = Reason.DIAGNOSIS if kind is LineKind.FEE else Reason.ASKED
    needed = kind in (LineKind.PART, LineKind.LABOUR)
    return Reason(
        typed.choice(entry.reason, "reason", list(Reason), "The reason", needed=needed) or usual
    )


def _finding(line: Line, entry: LineEntry) -> Finding | None:
    if entry.finding_id is None:
        return None
    finding = row_of(Finding, entry.finding_id)
    if finding is None or finding.ticket_id != line.ticket_id:
        raise JobError(
            "That finding is not on this ticket: choose one of its findings.", "finding_id"
        )
    return finding


def _quantity(entry: LineEntry, kind: LineKind) -> Decimal:
    if kind is LineKind.LABOUR:
        return typed.bench_hours(entry.quantity, "quantity")
    return typed.quantity(entry.quantity, "quantity")


def _price(change: Change, entry: LineEntry, kind: LineKind, reason: Reason) -> Decimal:
    if reason is Reason.COMEBACK:
        return ZERO
    price = _typed_price(entry, kind)
    return change.shop.bench_rate if price is None else price


def _typed_price(entry: LineEntry, kind: LineKind) -> Decimal | None:
    """Return the price of one; ``None`` for labour at the bench rate, or free of charge."""
    bench_rate = kind is LineKind.LABOUR and not entry.unit_price.strip()
    if bench_rate or entry.reason == Reason.COMEBACK:
        return None
    if not entry.unit_price.strip():
        raise JobError("The price is empty: type it.", "unit_price")
    price = typed.money(entry.unit_price, "unit_price")
    return -price if kind is LineKind.DISCOUNT else price


def decline_line(change: Change, line: Line) -> None:
    """Mark a line as not wanted by the owner, inside a transaction."""
    line.decision = DECLINED
    change.save(line)
