"""What the credit notes took back of the invoice that stands, line by line, and why."""

from decimal import Decimal

from shopdesk.job.invoices.chain import as_issued
from shopdesk.job.paper_content import CreditRow
from shopdesk.job.standing import TicketRows
from shopdesk.pricing.money import show_quantity
from shopdesk.records.tables import Invoice


def credits_on_standing(rows: TicketRows) -> tuple[CreditRow, ...]:
    """Return what each credit note allowed on the ticket's standing invoice, above zero."""
    return tuple(CreditRow(-note.total, as_issued(note).reason) for note in _notes(rows))


def credited_by_line(rows: TicketRows) -> dict[int, str]:
    """Return by its id why a line of the standing invoice was credited: ``1 of 3: one broke``.

    The how many is left out of a line that was credited whole. Lines that no note names are not in
    it; the rows of an invoice are the lines in their order, which can't change while it stands.
    """
    notes = [as_issued(note) for note in _notes(rows)]
    found = {}
    for number, line in enumerate(rows.live_lines, 1):
        taken = [
            (row.quantity, note.reason)
            for note in notes
            for row in note.rows
            if row.of_row == number
        ]
        if taken:
            quantity = -sum((each for each, _ in taken), Decimal(0))
            why = "; ".join(dict.fromkeys(why for _, why in taken))
            part = f"{show_quantity(quantity)} of {show_quantity(line.quantity)}: "
            found[line.id] = why if quantity == line.quantity else f"{part}{why}"
    return found


def _notes(rows: TicketRows) -> list[Invoice]:
    bill = rows.standing_invoice
    return [note for note in rows.invoices if bill is not None and note.credits_id == bill.id]
