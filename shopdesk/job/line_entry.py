"""A line as typed: what it must say, and what its row keeps of it."""

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, replace
from decimal import Decimal

from shopdesk.errors import JobError
from shopdesk.job import typed
from shopdesk.job.labour.rates import hourly, rate_typed
from shopdesk.job.parts.prices import cost_in_force, price_in_force
from shopdesk.job.parts.stock import let_go, settle_supply
from shopdesk.job.reasons import FREE, Reason
from shopdesk.job.reckoned import DISCOUNT
from shopdesk.job.shift import Change
from shopdesk.job.shop import Shop
from shopdesk.job.standing import ON_HAND, SUPPLIES, gross_of
from shopdesk.pricing.money import MOST_MONEY, show_money
from shopdesk.pricing.percentages import percent_of
from shopdesk.pricing.totals import ZERO, LineKind
from shopdesk.records.fetch import row_of
from shopdesk.records.tables import Finding, Line, Part

CONDITIONS = ("new", "used", "rebuilt")


@dataclass(frozen=True, slots=True)
class LineEntry:
    """A line as typed.

    For labour ``quantity`` is hours (``0.5``, ``27 min``) and an empty price is that of ``rate``,
    or the bench rate. A discount's price is an amount, or ``10 %`` of the bill. On a line without
    charge the price is what it would have cost.
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
    part_id: int | None = None
    """The part in the catalogue: it fills what is empty of name, number, condition and prices."""
    rate: str = ""
    """Name of a labour rate."""
    off: str = ""
    """What comes off this line: an amount, or ``10 %``."""


def faults(entry: LineEntry) -> tuple[JobError, ...]:
    """Return what is wrong with a line as typed, field by field, to be said all at once."""
    found: list[JobError] = []
    with _gathered(found):
        kind = _kind(entry)
    if found:
        return tuple(found)
    for read in (_description, _quantity, _typed_price, _reason, _off):
        with _gathered(found):
            read(entry, kind)
    return tuple(found)


@contextmanager
def _gathered(found: list[JobError]) -> Iterator[None]:
    try:
        yield
    except JobError as error:
        found.append(error)


def fill(change: Change, line: Line, entry: LineEntry) -> None:
    """Put what is typed on the row, inside a transaction; raises ``JobError`` at the field."""
    kind = _kind(entry)
    part = _part(entry, kind)
    if part is None and line.part_id:
        let_go(change, line, "it is no part of the catalogue any more")
    line.part = part
    if part is not None:
        entry = _with_part(entry, part, change.shop)
    line.kind, line.reason = kind, _reason(entry, kind)
    line.description = _description(entry, kind)
    line.part_number = typed.line(entry.part_number, "part_number", "The part number")
    line.reason_note = typed.line(entry.reason_note, "reason_note", "The note on the reason")
    line.finding = _finding(line, entry)
    line.renews = typed.line(entry.renews, "renews", "The upkeep task")
    _fill_quantity(line, _quantity(entry, kind))
    _fill_price(change.shop, line, entry, kind)
    line.cost = typed.optional_money(entry.cost, "cost")
    _fill_supply(change, line, entry, kind)


def _with_part(entry: LineEntry, part: Part, shop: Shop) -> LineEntry:
    """Fill from the catalogue what is left empty of a part."""
    price, cost = price_in_force(part, shop).price, cost_in_force(part).cost
    return replace(
        entry,
        description=entry.description or part.name,
        part_number=entry.part_number or part.number,
        condition=entry.condition or part.condition,
        unit_price=entry.unit_price or ("" if price is None else f"{price}"),
        cost=entry.cost or ("" if cost is None else f"{cost}"),
        part_id=None,
    )


def _fill_quantity(line: Line, quantity: Decimal) -> None:
    """Set the quantity; hours changed by hand are not those of the clock any more."""
    if line.id is not None and line.quantity != quantity:
        line.reckoned = ""
    line.quantity = quantity


def _fill_price(shop: Shop, line: Line, entry: LineEntry, kind: LineKind) -> None:
    line.rate = rate_typed(entry.rate, "rate", shop) if kind is LineKind.LABOUR else ""
    price, percent = _typed_price(entry, kind)
    if price is None and kind is LineKind.LABOUR:
        price = hourly(shop, line.rate)
    free = line.reason in FREE and kind is not LineKind.DISCOUNT
    line.value = (price or None) if free else None
    line.unit_price = ZERO if free or price is None else price
    amount, share = _off(entry, kind)
    if kind is LineKind.DISCOUNT:
        line.percent, line.off = percent, None
        line.reckoned = "" if percent is None else DISCOUNT
    else:
        line.reckoned = "" if line.reckoned == DISCOUNT else line.reckoned
        _fill_off(shop, line, *((None, None) if free else (amount, share)))
    if abs(gross_of(line)) > MOST_MONEY:
        raise JobError(
            f"This line comes to more than {MOST_MONEY:,}: check quantity and price.", "quantity"
        )


def _fill_off(shop: Shop, line: Line, amount: Decimal | None, percent: Decimal | None) -> None:
    gross = gross_of(line)
    line.percent = percent
    line.off = amount if percent is None else percent_of(gross, percent)
    if line.off is not None and line.off > gross:
        shown, most = (show_money(one, shop.currency) for one in (line.off, gross))
        raise JobError(f"The line comes to {most}: {shown} can't come off it.", "off")


def _fill_supply(change: Change, line: Line, entry: LineEntry, kind: LineKind) -> None:
    line.condition = line.supply = ""
    if kind is LineKind.PART:
        line.condition = (
            typed.choice(entry.condition, "condition", CONDITIONS, "The part's condition") or "new"
        )
        line.supply = typed.choice(entry.supply, "supply", SUPPLIES, "Where the part is") or ON_HAND
    line.expected_on = typed.day(
        entry.expected_on, "expected_on", change.today, day_first=change.shop.day_first
    )
    if line.part is not None:
        settle_supply(line, entry.supply)


def _kind(entry: LineEntry) -> LineKind:
    return LineKind(
        typed.choice(entry.kind, "kind", list(LineKind), "The kind of line", needed=True)
    )


def _part(entry: LineEntry, kind: LineKind) -> Part | None:
    if entry.part_id is None or kind is not LineKind.PART:
        return None
    part = row_of(Part, entry.part_id)
    if part is None:
        raise JobError("That part is not in the catalogue any more: choose it again.", "part_id")
    return part


def _description(entry: LineEntry, _kind: LineKind) -> str:
    return typed.line(
        entry.description, "description", "The description", needed=entry.part_id is None
    )


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
    quantity = typed.quantity(entry.quantity, "quantity")
    if kind is LineKind.DISCOUNT and _is_percent(entry.unit_price) and quantity != 1:
        raise JobError("A discount in percent is given once: type 1.", "quantity")
    return quantity


def _typed_price(entry: LineEntry, kind: LineKind) -> tuple[Decimal | None, Decimal | None]:
    """Return the price of one and, of a discount, its percentage; no price where none is needed.

    That is labour at its rate, a part of the catalogue, and what is free of charge.
    """
    if not entry.unit_price.strip():
        needless = kind is LineKind.LABOUR or entry.part_id is not None or _is_free(entry)
        if needless and kind is not LineKind.DISCOUNT:
            return None, None
        raise JobError("The price is empty: type it.", "unit_price")
    if kind is LineKind.DISCOUNT and _is_percent(entry.unit_price):
        return None, _above_zero(entry.unit_price, "unit_price")
    price = typed.money(entry.unit_price, "unit_price")
    return (-price if kind is LineKind.DISCOUNT else price), None


def _off(entry: LineEntry, kind: LineKind) -> tuple[Decimal | None, Decimal | None]:
    """Return what comes off the line: an amount, or a percentage, or neither."""
    if not entry.off.strip():
        return None, None
    if kind is LineKind.DISCOUNT:
        raise JobError("A discount is itself what comes off: type it as its price.", "off")
    if _is_percent(entry.off):
        return None, _above_zero(entry.off, "off")
    return typed.money(entry.off, "off") or None, None


def _is_free(entry: LineEntry) -> bool:
    return entry.reason.strip() in FREE


def _is_percent(text: str) -> bool:
    return text.rstrip().endswith("%")


def _above_zero(text: str, field: str) -> Decimal:
    percent = typed.percent(text, field)
    if not percent:
        raise JobError("0 % takes nothing off: type how much, or leave it empty.", field)
    return percent
