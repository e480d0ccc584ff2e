"""What is still to pay for a machine that waits: the work, and storage by the terms, each once."""

from dataclasses import dataclass
from decimal import Decimal

from shopdesk.job.invoices.crediting import note_on
from shopdesk.job.shop import Shop
from shopdesk.job.standing import STORAGE, TicketRows, priced, rates_for, tax_rule
from shopdesk.pricing.money import MoneyError
from shopdesk.pricing.storage import Storage
from shopdesk.pricing.totals import ZERO, LineKind, PricedLine, total


@dataclass(frozen=True, slots=True)
class StillToPay:
    """The work and the storage apart: what stands on the ticket for storage is not in the work."""

    work: Decimal
    """With its tax, less what was paid; below zero when the owner gets money back."""
    storage: Decimal
    """By the terms as of today, as prices are written."""
    storage_tax: Decimal
    """What comes on top of it; 0 where prices are written with their tax, or none is taken."""
    storage_settled: Decimal
    """What was paid for it already, with tax: what was paid over the work."""


def still_to_pay(rows: TicketRows, shop: Shop, storage: Storage | None) -> StillToPay:
    """Return what is owed for the work and for storage, inside a transaction.

    ``storage`` is what the terms ask for by today, ``None`` before the owner was told.
    """
    work_lines = [
        priced(line, shop, rows.ticket) for line in rows.live_lines if line.reckoned != STORAGE
    ]
    charge = storage.charge if storage else ZERO
    fee = PricedLine(LineKind.FEE, charge, rates_for(LineKind.FEE, shop, rows.ticket))
    rule = tax_rule(shop)
    work, whole = total(work_lines, rule), total([*work_lines, fee], rule)
    with_tax = whole.total - work.total
    left = rows.balance - _storage_billed(rows) if rows.standing_invoice else work.total - rows.paid
    settled = min(max(-left, ZERO), with_tax)
    return StillToPay(left + settled, charge, with_tax - charge, settled)


def _storage_billed(rows: TicketRows) -> Decimal:
    """Return what is left of the storage on the standing invoice, with its tax."""
    if rows.standing_invoice is None:
        return ZERO
    note = note_on(rows, rows.standing_invoice)
    left = note.left_rows()
    billed = {
        number: left[number].quantity
        for number, line in enumerate(rows.live_lines, 1)
        if line.reckoned == STORAGE and left[number].quantity > 0
    }
    if not billed:
        return ZERO
    try:
        return -note.of_lines(billed).totals.total
    except MoneyError:
        return note.left.total
