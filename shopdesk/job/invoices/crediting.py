"""Credits a part of an invoice: some of its lines, or an amount. The invoice goes on standing."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from shopdesk.errors import JobError
from shopdesk.job import typed
from shopdesk.job.invoices.chain import as_issued, keep_invoice
from shopdesk.job.invoices.credit_content import Note
from shopdesk.job.opened import ticket_view
from shopdesk.job.paper_content import InvoiceContent
from shopdesk.job.shift import Change, Shift
from shopdesk.job.standing import TicketRows, find_ticket, rows_of
from shopdesk.job.views import TicketView
from shopdesk.pricing.money import show_quantity
from shopdesk.records.tables import Invoice, Ticket

_NONE_STANDS = "No invoice stands for this ticket: there is nothing to credit."


@dataclass(frozen=True, slots=True)
class PartCredit:
    """What is credited, as typed: how many of which rows of the invoice, or an amount with tax."""

    why: str
    quantities: tuple[tuple[int, str], ...] = ()
    """Number of the row, from 1, and how many of it."""
    amount: str = ""


@dataclass(frozen=True, slots=True)
class CreditableRow:
    """A row of the standing invoice of which something is left to credit."""

    row: int
    kind: str
    description: str
    quantity: Decimal
    """What is left of it."""
    unit_price: Decimal
    net: Decimal
    """What that comes to, as the price is written."""


def may_be_credited(shift: Shift, ticket_id: int) -> tuple[CreditableRow, ...]:
    """Return the rows of the ticket's standing invoice that can be credited; none without one."""
    with shift.records.reading():
        rows = rows_of(find_ticket(ticket_id))
        if rows.standing_invoice is None:
            return ()
        return _creditable(note_on(rows, rows.standing_invoice))


def part_comes_to(shift: Shift, ticket_id: int, entry: PartCredit) -> Decimal:
    """Return what such a credit would come to with its tax; writes nothing, needs no reason.

    Raises ``JobError`` at the field as ``credit_part`` does.
    """
    with shift.records.reading():
        rows = rows_of(find_ticket(ticket_id))
        if rows.standing_invoice is None:
            raise JobError(_NONE_STANDS, "invoice")
        return -_content(note_on(rows, rows.standing_invoice), entry).totals.total


def credit_part(shift: Shift, ticket_id: int, entry: PartCredit) -> TicketView:
    """Credit some rows of the standing invoice, or an amount with its tax, for a printed reason.

    May be done on a closed ticket too. Raises ``JobError`` at the field (``quantity_<row>``) for
    more than is left, and for the whole rest: that is ``pickup.credit_invoice``.
    """
    reason = typed.line(entry.why, "why", "The reason", needed=True)
    with shift.changing() as change:
        ticket = find_ticket(ticket_id)
        rows = rows_of(ticket)
        note = standing_note(change, rows, reason)
        content = _content(note, entry)
        if content.totals.total + note.left.total == 0:
            raise JobError(
                "That is all that is left of the invoice: credit the whole of it, "
                "so that its lines can be changed.",
                "amount",
            )
        return keep_note(change, ticket, rows, content)


def standing_note(change: Change, rows: TicketRows, reason: str) -> Note:
    """Return the next credit note on the standing invoice; ``JobError`` where none stands."""
    invoice = rows.standing_invoice
    if invoice is None:
        raise JobError(_NONE_STANDS, "invoice")
    number = f"C{change.next_number('credit note')}"
    made = note_on(rows, invoice)
    return Note(number, change.today, reason, made.invoice, made.earlier)


def note_on(rows: TicketRows, invoice: Invoice) -> Note:
    """Return a nameless note on an invoice, to ask what is left of it."""
    earlier = [as_issued(bill) for bill in rows.invoices if bill.credits_id == invoice.id]
    said = as_issued(invoice)
    return Note("", said.on, "", said, earlier)


def keep_note(
    change: Change, ticket: Ticket, rows: TicketRows, content: InvoiceContent
) -> TicketView:
    """Insert the credit note on the standing invoice and return the ticket as it is then."""
    keep_invoice(change, ticket, content, rows.standing_invoice)
    return ticket_view(ticket, change.shop, change.today)


def _content(note: Note, entry: PartCredit) -> InvoiceContent:
    quantities = tuple((row, words) for row, words in entry.quantities if words.strip())
    if entry.amount.strip():
        if quantities:
            raise JobError("Choose lines or type an amount, not both.", "amount")
        amount = typed.money(entry.amount, "amount")
        if not amount:
            raise JobError("Nothing is credited by 0: type how much it is.", "amount")
        with typed.at_field("amount"):
            return note.of_amount(amount)
    if not quantities:
        raise JobError("Type how many of a line are credited, or an amount.", "amount")
    chosen = _quantities(note, quantities)
    with typed.at_field(f"quantity_{quantities[0][0]}"):
        return note.of_lines(chosen)


def _quantities(note: Note, entries: Sequence[tuple[int, str]]) -> Mapping[int, Decimal]:
    left = {each.row: each for each in _creditable(note)}
    found: dict[int, Decimal] = {}
    for row, words in entries:
        field = f"quantity_{row}"
        quantity = typed.quantity(words, field)
        if row not in left:
            raise JobError("Nothing is left of that line to credit: leave it out.", field)
        if quantity > left[row].quantity:
            most = show_quantity(left[row].quantity)
            raise JobError(f"Only {most} of this line can be credited: type that or less.", field)
        found[row] = quantity
    return found


def _creditable(note: Note) -> tuple[CreditableRow, ...]:
    return tuple(
        CreditableRow(number, row.kind, row.description, row.quantity, row.unit_price, row.net)
        for number, row in note.left_rows().items()
        if row.quantity > 0 and row.net > 0
    )
