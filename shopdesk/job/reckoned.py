"""Charges that follow from a ticket's other lines: supplies, discounts, the credited diagnosis.

They are ordinary lines, seen and printed as such, whose amounts are worked out anew after every
change of the ticket's lines, and never once an invoice stands.
"""

from collections.abc import Sequence
from decimal import Decimal

from shopdesk.errors import JobError
from shopdesk.job.opened import ticket_view
from shopdesk.job.reasons import Reason
from shopdesk.job.shift import Change, Shift
from shopdesk.job.shop import Shop
from shopdesk.job.stages import Stage
from shopdesk.job.standing import (
    LEFT_OUT,
    find_ticket,
    gross_of,
    is_work,
    live,
    net_of,
    standing_invoice,
)
from shopdesk.job.views import TicketView
from shopdesk.pricing.money import show_money, show_percent
from shopdesk.pricing.percentages import percent_of, supplies_charge
from shopdesk.pricing.totals import ZERO, LineKind
from shopdesk.records.fetch import rows_by
from shopdesk.records.tables import Invoice, Line, Ticket

SUPPLIES, DISPOSAL, DISCOUNT = "supplies", "disposal", "discount"
"""What works a line out (``Line.reckoned``): the shop's rules, or a percentage of the bill."""
WHOLE = Decimal(100)
DISPOSAL_WORDS = "Disposal of what is left with us"
_OF_WORDS = {LineKind.PART: "parts", LineKind.LABOUR: "labour"}
CREDITED_WORDS = "credited with the repair"
_WHY = "follows the other lines"


def reckon(change: Change, ticket: Ticket) -> None:
    """Bring the charges that follow from a ticket's lines up to date, inside a transaction."""
    lines = _lines(ticket)
    if ticket.stage == Stage.CLOSED or _invoiced(ticket):
        return
    for line in live(lines):
        _reckon_off(change, line, lines)
    _reckon_supplies(change, ticket, lines)
    for line in live(_lines(ticket)):
        if line.reckoned == DISPOSAL:
            line.unit_price = change.shop.disposal_fee
        elif line.reckoned == DISCOUNT:
            line.unit_price = -discount_on(lines_discounted(_lines(ticket)), line)
        change.save(line, _WHY)


def charge_disposal(shift: Shift, ticket_id: int) -> TicketView:
    """Put the shop's disposal fee on the ticket; it follows the fee in the settings until invoiced.

    Raises ``JobError``: the shop has none, it is on the ticket already, or it can't be changed.
    """
    with shift.changing() as change:
        ticket = find_ticket(ticket_id)
        if ticket.stage == Stage.CLOSED or _invoiced(ticket):
            raise JobError("This ticket's lines can't be changed any more.", "stage")
        if not change.shop.disposal_fee:
            raise JobError("The shop has no disposal fee: set one in the settings first.", "lines")
        lines = _lines(ticket)
        if any(line.reckoned == DISPOSAL for line in live(lines)):
            raise JobError("The disposal fee is on this ticket already.", "lines")
        change.add(_fee(ticket, lines, DISPOSAL, DISPOSAL_WORDS, change.shop.disposal_fee))
        reckon(change, ticket)
        return ticket_view(ticket, change.shop, change.today)


def lines_discounted(lines: Sequence[Line]) -> Decimal:
    """Return what a percentage of the bill is taken of: all that is charged but discounts."""
    return sum((net_of(line) for line in live(lines) if line.kind != LineKind.DISCOUNT), ZERO)


def discount_on(amount: Decimal, line: Line) -> Decimal:
    """Return what a discount in percent comes to, zero or more."""
    return percent_of(amount, line.percent or Decimal(0))


def supplies_of(lines: Sequence[Line], shop: Shop) -> Decimal:
    """Return what the shop supplies come to for these lines."""
    base = sum((net_of(line) for line in live(lines) if line.kind in shop.supplies.of), ZERO)
    return supplies_charge(base, shop.supplies.percent, shop.supplies.cap)


def supplies_words(shop: Shop) -> str:
    """Return the rule as it stands on the line: ``Shop supplies, 5% of labour, at most $15.00``."""
    of = " and ".join(words for kind, words in _OF_WORDS.items() if kind in shop.supplies.of)
    cap = shop.supplies.cap
    most = f", at most {show_money(cap, shop.currency)}" if cap is not None else ""
    return f"Shop supplies, {show_percent(shop.supplies.percent)} of {of}{most}"


def is_diagnosis(line: Line) -> bool:
    """Whether a line charges for finding the cause, as a fee or by time."""
    return line.reason == Reason.DIAGNOSIS and line.kind in (LineKind.FEE, LineKind.LABOUR)


def is_credited(line: Line) -> bool:
    """Whether a line for the diagnosis is credited, as a repair is done with it."""
    return is_diagnosis(line) and line.percent == WHOLE


def diagnosis_credited(lines: Sequence[Line], shop: Shop) -> bool:
    """Whether the diagnosis is credited: the shop does so, and a repair is on offer with it."""
    repair = (is_work(line) and not is_diagnosis(line) for line in live(lines))
    return shop.credit_diagnosis and any(repair)


def _reckon_off(change: Change, line: Line, lines: Sequence[Line]) -> None:
    """Let what comes off a line follow its price; the diagnosis comes off whole with a repair."""
    if line.kind == LineKind.DISCOUNT:
        return
    if is_diagnosis(line) and change.shop.credit_diagnosis:
        if diagnosis_credited(lines, change.shop):
            line.percent = WHOLE
        elif line.percent == WHOLE:
            line.percent = line.off = None
    if line.percent is not None:
        line.off = percent_of(gross_of(line), line.percent)
    change.save(line, _WHY)


def _reckon_supplies(change: Change, ticket: Ticket, lines: Sequence[Line]) -> None:
    """Add, change or take away the line for shop supplies, unless it is left out here."""
    charge = supplies_of(lines, change.shop)
    line = next((line for line in lines if line.reckoned == SUPPLIES), None)
    if line is None and charge:
        change.add(_fee(ticket, lines, SUPPLIES, supplies_words(change.shop), charge))
    elif line is not None and line.decision != LEFT_OUT and not charge:
        change.remove(line, _WHY)
    elif line is not None and line.decision != LEFT_OUT:
        line.decision = ""
        line.unit_price, line.description = charge, supplies_words(change.shop)
        change.save(line, _WHY)


def _fee(ticket: Ticket, lines: Sequence[Line], reckoned: str, words: str, amount: Decimal) -> Line:
    return Line(
        ticket=ticket,
        position=max((line.position for line in lines), default=-1) + 1,
        kind=LineKind.FEE,
        description=words,
        quantity=Decimal(1),
        unit_price=amount,
        reason=Reason.WITH_IT,
        reckoned=reckoned,
    )


def _lines(ticket: Ticket) -> list[Line]:
    return rows_by(Line, "ticket_id", ticket.id, "position")


def _invoiced(ticket: Ticket) -> bool:
    return standing_invoice(rows_by(Invoice, "ticket_id", ticket.id)) is not None
