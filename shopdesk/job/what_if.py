"""What lines would come to on a ticket, without putting them there."""

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from shopdesk.job.reckoned import (
    DISCOUNT,
    SUPPLIES,
    diagnosis_credited,
    discount_on,
    is_diagnosis,
    lines_discounted,
    supplies_of,
)
from shopdesk.job.shop import Shop
from shopdesk.job.standing import LEFT_OUT, TicketRows, gross_of, priced, tax_rule
from shopdesk.pricing.totals import LineKind, Totals, total
from shopdesk.records.tables import Line


@dataclass(frozen=True, slots=True)
class PlainLine:
    """A line that is thought of: the price of one, and what comes off. ``reason`` as kept."""

    kind: LineKind
    quantity: Decimal
    unit_price: Decimal
    off: Decimal | None = None
    reason: str = ""


def price_lines(rows: TicketRows, shop: Shop, lines: Iterable[PlainLine]) -> Totals:
    """Return what ``lines`` alone would come to on this ticket, to the cent; nothing is kept.

    With the shop supplies, the ticket's discounts in percent and the credit of the diagnosis that
    would follow, and the owner's tax. Nothing is taken off as paid. Inside a transaction.
    """
    thought = [_row(line) for line in lines]
    _credit(thought, shop)
    left_out = any(line.reckoned == SUPPLIES and line.decision == LEFT_OUT for line in rows.lines)
    supplies = supplies_of(thought, shop)
    if supplies and not left_out:
        thought.append(_row(PlainLine(LineKind.FEE, Decimal(1), supplies)))
    whole = lines_discounted(thought)
    for line in rows.live_lines:
        if line.reckoned == DISCOUNT:
            off = -discount_on(whole, line)
            thought.append(_row(PlainLine(LineKind.DISCOUNT, Decimal(1), off)))
    return total([priced(line, shop, rows.ticket) for line in thought], tax_rule(shop))


def _credit(lines: list[Line], shop: Shop) -> None:
    """Let the diagnosis come off whole where a repair is among the lines and the shop does so."""
    if diagnosis_credited(lines, shop):
        for line in lines:
            if is_diagnosis(line):
                line.off = gross_of(line)


def _row(line: PlainLine) -> Line:
    return Line(
        kind=line.kind,
        quantity=line.quantity,
        unit_price=line.unit_price,
        off=line.off,
        reason=line.reason,
    )
