"""Pickup: telling the owner, the invoice, the hand-over; or what became of one never fetched."""

from shopdesk.errors import JobError
from shopdesk.job import typed
from shopdesk.job.invoices.chain import as_issued, keep_invoice
from shopdesk.job.invoices.crediting import keep_note, standing_note
from shopdesk.job.invoices.e_invoicing import refuse_unfit
from shopdesk.job.labour.spells import stop_clocks
from shopdesk.job.moving import go_on
from shopdesk.job.opened import tag_of, ticket_view
from shopdesk.job.paper_content import InvoiceContent
from shopdesk.job.paperwork import invoice_content
from shopdesk.job.shift import Change, Shift, load_shop
from shopdesk.job.shop import Shop
from shopdesk.job.stages import (
    NOT_FETCHED,
    Stage,
    missing_to_close_unfetched,
    missing_to_invoice,
)
from shopdesk.job.standing import (
    TicketRows,
    find_ticket,
    refuse_below_zero,
    refuse_if_closed,
    refuse_over_agreed,
    rows_of,
    standing_of,
    totals_of,
)
from shopdesk.job.unfetched import missing_before_disposal
from shopdesk.job.views import TicketView
from shopdesk.records.tables import Invoice, Ticket


def tell_ready(shift: Shift, ticket_id: int, how: str) -> TicketView:
    """Note that the owner was told that the machine is ready, and how; it is their move then."""
    words = typed.line(how, "how", "How they were told", needed=True)
    with shift.changing() as change:
        ticket = _in_pickup(ticket_id)
        ticket.told_ready_at = change.at
        change.save(ticket, f"told ready: {words}")
        return ticket_view(ticket, change.shop, change.today)


def issue_invoice(shift: Shift, ticket_id: int) -> TicketView:
    """Issue the invoice of the lines as they stand; it is the ticket's last and never changes.

    Raises ``JobError``: not in Pickup, one stands already, nothing to charge, more than was
    approved, or the work is not done, back together and proved.
    """
    with shift.changing() as change:
        ticket = _in_pickup(ticket_id)
        rows = rows_of(ticket)
        _refuse_invoice(change, rows)
        number = str(change.next_number("invoice"))
        content = invoice_content(rows, change.shop, number, change.today)
        keep_invoice(change, ticket, content, None)
        return ticket_view(ticket, change.shop, change.today)


def credit_invoice(shift: Shift, ticket_id: int, why: str) -> TicketView:
    """Take back what is left of the standing invoice with a credit note, for a printed reason.

    What was agreed about its balance goes with it. Raises ``JobError`` on a closed ticket.
    """
    reason = typed.line(why, "why", "The reason", needed=True)
    with shift.changing() as change:
        ticket = find_ticket(ticket_id)
        refuse_if_closed(ticket)
        rows = rows_of(ticket)
        content = standing_note(change, rows, reason).of_rest()
        ticket.balance_reason = ""
        change.save(ticket)
        return keep_note(change, ticket, rows, content)


def invoice_as_issued(shift: Shift, invoice_id: int) -> InvoiceContent:
    """Return what an invoice or credit note said when it was issued."""
    with shift.records.reading():
        row = Invoice.get_or_none(Invoice.id == invoice_id)
    if row is None:
        raise JobError("That invoice is not in the records: open the ticket again.", "invoice")
    return as_issued(row)


def hand_over(shift: Shift, ticket_id: int) -> TicketView:
    """Hand the machine back and close the ticket. Raises ``JobError`` that says what is missing."""
    return go_on(shift, ticket_id, Stage.CLOSED)


def agree_balance(shift: Shift, ticket_id: int, why: str) -> TicketView:
    """Note what was agreed about money still owed, so that it may go; empty takes it back."""
    with shift.changing() as change:
        ticket = _in_pickup(ticket_id)
        ticket.balance_reason = typed.line(why, "balance_reason", "What was agreed")
        change.save(ticket)
        return ticket_view(ticket, change.shop, change.today)


def refuse_unfetched(shift: Shift, ticket_id: int) -> None:
    """Raise ``JobError`` if the ticket may not be closed as never fetched, and say what is missing.

    For asking what became of the machine only where the answer can be kept.
    """
    with shift.records.reading():
        _refuse_unfetched(rows_of(_in_pickup(ticket_id)), load_shop())


def missing_letters(shift: Shift, ticket_id: int) -> str:
    """Return which letter about a machine was not sent yet, in words, or nothing."""
    with shift.records.reading():
        return missing_before_disposal(_in_pickup(ticket_id))


def close_unfetched(
    shift: Shift, ticket_id: int, became: str, without_letters: str = ""
) -> TicketView:
    """Close a ticket whose machine was never fetched, saying what became of it.

    Nothing is sold or scrapped unannounced: raises ``JobError`` at ``without_letters`` until the
    letters went out, or it is said why they did not. Check your local law first.
    """
    words = typed.line(became, "became", "What became of the machine", needed=True)
    why = typed.line(without_letters, "without_letters", "Why no letters")
    with shift.changing() as change:
        ticket = _in_pickup(ticket_id)
        _refuse_unfetched(rows_of(ticket), change.shop)
        _refuse_unannounced(ticket, why)
        stop_clocks(change, ticket.id)
        ticket.stage = Stage.CLOSED
        ticket.balance_reason = ticket.balance_reason or f"never fetched: {words}"
        ticket.outcome = NOT_FETCHED
        ticket.became = words
        ticket.closed_at = change.at
        change.save(ticket, f"{words}; no letters: {why}" if why else words)
        unit = ticket.unit
        unit.gone_on, unit.gone_how = change.today, f"never fetched: {words}"
        change.save(unit, f"never fetched on {tag_of(ticket.number)}")
        return ticket_view(ticket, change.shop, change.today)


def _refuse_unannounced(ticket: Ticket, why: str) -> None:
    missing = missing_before_disposal(ticket)
    if missing and not why:
        raise JobError(
            f"Nothing is sold or scrapped unannounced, and {missing}: send it (Ctrl+5), or say why "
            "it is closed without. Check your local law.",
            "without_letters",
        )


def _in_pickup(ticket_id: int) -> Ticket:
    ticket = find_ticket(ticket_id)
    if ticket.stage != Stage.PICKUP:
        raise JobError(f"This ticket is in {ticket.stage}: that is done in Pickup.", "stage")
    return ticket


def _refuse_unfetched(rows: TicketRows, shop: Shop) -> None:
    missing = missing_to_close_unfetched(standing_of(rows, shop))
    if missing:
        raise JobError(f"Not yet closed as never fetched: {'; '.join(missing)}.", "stage")


def _refuse_invoice(change: Change, rows: TicketRows) -> None:
    if rows.standing_invoice is not None:
        raise JobError(
            f"Invoice {rows.standing_invoice.number} stands already: print it again, or credit it.",
            "invoice",
        )
    if not rows.live_lines:
        raise JobError(
            "There is nothing to charge: add a line, or hand the machine over without an invoice.",
            "lines",
        )
    refuse_unfit(change.shop)
    refuse_below_zero(totals_of(rows, change.shop).total)
    refuse_over_agreed(rows, change.shop, "The invoice")
    missing = missing_to_invoice(standing_of(rows, change.shop))
    if missing:
        raise JobError(f"Not yet invoiced: {'; '.join(missing)}.", "stage")
