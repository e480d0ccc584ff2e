"""Parts, labour, fees, sublet work and discounts on a ticket, each with its reason."""

from collections.abc import Iterable

from peewee import fn

from shopdesk.errors import JobError
from shopdesk.job import typed
from shopdesk.job.labour.spells import free_spells
from shopdesk.job.line_entry import CONDITIONS, LineEntry, faults, fill
from shopdesk.job.opened import ticket_view
from shopdesk.job.parts.stock import let_go, settle_supply
from shopdesk.job.reckoned import SUPPLIES, reckon
from shopdesk.job.shift import Change, Shift
from shopdesk.job.stages import Stage
from shopdesk.job.standing import DECLINED, LEFT_OUT, find_ticket, standing_invoice
from shopdesk.job.views import TicketView
from shopdesk.pricing.totals import LineKind
from shopdesk.records.fetch import row_of, rows_by
from shopdesk.records.tables import Invoice, Line, Ticket

__all__ = [
    "AGREED_FEE",
    "CONDITIONS",
    "LineEntry",
    "add_line",
    "change_line",
    "decline_line",
    "drop_line",
    "drop_row",
    "faults",
    "find_open_line",
    "next_position",
    "offer_again",
    "put_back_on_offer",
    "put_line",
    "refuse_if_done",
    "refuse_unless_open",
    "turn_down",
]

AGREED_FEE = "Diagnosis, agreed at intake"
"""The fee line that a no brings with it."""


def add_line(shift: Shift, ticket_id: int, entry: LineEntry) -> TicketView:
    """Add a line; it is the last of the ticket's lines. Raises ``JobError`` at the field."""
    with shift.changing() as change:
        ticket = find_ticket(ticket_id)
        refuse_unless_open(ticket)
        put_line(change, ticket, entry)
        return _shown(change, ticket)


def put_line(change: Change, ticket: Ticket, entry: LineEntry) -> Line:
    """Add a line inside a transaction; ``reckon`` is to follow the last of them."""
    line = Line(ticket=ticket, position=next_position(ticket))
    fill(change, line, entry)
    change.add(line)
    return line


def change_line(shift: Shift, line_id: int, entry: LineEntry) -> TicketView:
    """Change a line in place. Raises ``JobError`` at the field, or once an invoice stands."""
    with shift.changing() as change:
        line, ticket = find_open_line(line_id)
        if line.reckoned == SUPPLIES:
            raise JobError(
                "Shop supplies follow the rule in the settings: "
                "drop the line to leave them out on this ticket.",
                "unit_price",
            )
        fill(change, line, entry)
        change.save(line)
        return _shown(change, ticket)


def drop_line(shift: Shift, line_id: int, why: str = "") -> TicketView:
    """Take a line off the ticket; the journal keeps it.

    Shop supplies are left out, and stay in sight with the reason, which they need.
    """
    with shift.changing() as change:
        line, ticket = find_open_line(line_id)
        supplies = line.reckoned == SUPPLIES
        reason = typed.line(why, "why", "The reason", needed=supplies)
        if supplies:
            _leave_out(change, line, reason)
        else:
            drop_row(change, line, reason)
        return _shown(change, ticket)


def drop_row(change: Change, line: Line, why: str) -> None:
    """Remove a line inside a transaction, its time and its part let go; ``reckon`` is to follow."""
    free_spells(change, line)
    let_go(change, line, why)
    change.remove(line, why)


def turn_down(shift: Shift, line_id: int) -> TicketView:
    """Note that the owner doesn't want this line; it stays in sight, uncharged.

    Raises ``JobError`` if it is done.
    """
    with shift.changing() as change:
        line, ticket = find_open_line(line_id)
        refuse_if_done(line)
        decline_line(change, line)
        return _shown(change, ticket)


def offer_again(shift: Shift, line_id: int) -> TicketView:
    """Put a declined line back on offer; the fee that the no brought with it goes."""
    with shift.changing() as change:
        line, ticket = find_open_line(line_id)
        put_back_on_offer(change, [line])
        return _shown(change, ticket)


def put_back_on_offer(change: Change, lines: Iterable[Line]) -> None:
    """Put lines of one ticket back on offer, inside a transaction; ``reckon`` is to follow."""
    for line in lines:
        if line.decision == LEFT_OUT:
            line.reason_note = ""
        line.decision = ""
        if line.part is not None:
            settle_supply(line)
        change.save(line)
        for other in rows_by(Line, "ticket_id", line.ticket_id):
            if other.description == AGREED_FEE and other.kind == LineKind.FEE:
                drop_row(change, other, "the repair is on offer again")


def find_open_line(line_id: int) -> tuple[Line, Ticket]:
    """Return the line and its ticket, in a transaction; ``JobError`` if it may not be changed."""
    line = row_of(Line, line_id)
    if line is None:
        raise JobError("That line is not on the ticket any more: open the ticket again.", "line")
    ticket = find_ticket(line.ticket_id)
    refuse_unless_open(ticket)
    return line, ticket


def refuse_unless_open(ticket: Ticket) -> None:
    """Raise ``JobError`` if the ticket's lines may not be changed: it is closed, or invoiced."""
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


def decline_line(change: Change, line: Line) -> None:
    """Mark a line as not wanted by the owner, inside a transaction; ``reckon`` is to follow."""
    if line.reckoned == SUPPLIES:
        _leave_out(change, line, "the owner does not want to pay for them")
        return
    line.decision = DECLINED
    change.save(line)


def _leave_out(change: Change, line: Line, why: str) -> None:
    """Leave a charge that the shop's rule makes off this ticket, for a reason."""
    line.decision, line.reason_note = LEFT_OUT, why
    change.save(line, why)


def _shown(change: Change, ticket: Ticket) -> TicketView:
    """Bring what follows from the lines up to date, and return the ticket whole."""
    reckon(change, ticket)
    return ticket_view(ticket, change.shop, change.today)
