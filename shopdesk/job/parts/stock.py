"""The bin: every piece that comes in or goes out is a move, and none is promised twice.

All functions are called inside a transaction.
"""

from collections.abc import Iterable
from decimal import Decimal

from shopdesk.errors import JobError
from shopdesk.job import typed
from shopdesk.job.opened import tag_of
from shopdesk.job.parts.prices import cost_in_force
from shopdesk.job.parts.stock_levels import NONE, level_of
from shopdesk.job.shift import Change
from shopdesk.job.stages import Stage
from shopdesk.job.standing import DECLINED, ON_HAND, ON_ORDER, SUPPLIES, TO_ORDER
from shopdesk.pricing.money import show_quantity
from shopdesk.pricing.totals import LineKind
from shopdesk.records.fetch import row_of, rows_by
from shopdesk.records.tables import KitPart, Line, OrderLine, Part, StockMove, Ticket

RECEIVED = "received"
FITTED = "fitted"
TAKEN_OFF = "taken off again"
COUNTED = "counted"
KIT_OPENED = "kit opened"
SENT_BACK = "sent back"
SOLD = "sold over the counter"
SCRAPPED = "scrapped"


def move(
    change: Change,
    part: Part,
    quantity: Decimal,
    why: str,
    *,
    line: Line | None = None,
    order_line: OrderLine | None = None,
    cost: Decimal | None = None,
    note: str = "",
) -> None:
    """Put pieces into the bin (positive) or take them out; ``JobError`` for more than lie there."""
    if part.quantity + quantity < 0:
        raise JobError(
            f"{_in_bin(part)}: count it, or order what is missing.",
            "quantity" if line is None else "line",
        )
    part.quantity += quantity
    change.save(part)
    change.add(
        StockMove(
            part=part,
            quantity=quantity,
            why=why,
            cost=cost,
            line=line,
            order_line=order_line,
            note=note,
            moved_by=change.who,
            moved_at=change.at,
        )
    )


def supply_for(part: Part, quantity: Decimal, line: Line | None = None) -> str:
    """Return ``on hand`` where so many are free (to ``line``, if given), else ``to order``."""
    return ON_HAND if _free_for(part.id, line) >= quantity else TO_ORDER


def reserve(change: Change, line: Line) -> bool:
    """Keep for a line what is free in the bin; returns whether there was enough."""
    if line.part is None or supply_for(line.part, line.quantity, line) != ON_HAND:
        return False
    line.supply, line.expected_on = ON_HAND, None
    change.save(line)
    return True


def settle_supply(line: Line, typed_supply: str = "") -> None:
    """Set on the row, not saved yet, where the catalogue part of a line is.

    Nothing typed: on hand where enough is free, on order where an order brings it, else to order.
    Raises ``JobError`` at ``supply`` for ``on hand`` where too few are free, and at ``quantity``
    for another part or quantity of a line that is fitted.
    """
    _refuse_if_fitted_otherwise(line)
    part = line.part
    if part is None or line.done_at is not None:
        line.supply = line.supply or ON_HAND
        return
    wanted = typed.choice(typed_supply, "supply", SUPPLIES, "Where the part is")
    if line.order_line is not None and not _brings(line.order_line, part):
        line.order_line = None
    free = supply_for(part, line.quantity, line) == ON_HAND
    if wanted == ON_HAND and not free:
        raise JobError(
            f"{_spoken_for(part, line)}: count it, or say that it is to order.", "supply"
        )
    line.supply = wanted or (ON_HAND if free else ON_ORDER if _is_coming(line) else TO_ORDER)
    if not _keeps_its_order(line):
        line.order_line = None
    if line.supply != ON_ORDER:
        line.expected_on = None
    elif line.order_line is not None:
        line.expected_on = line.expected_on or line.order_line.expected_on


def take_for(change: Change, line: Line) -> None:
    """Take the part of a line out of the bin as it is fitted; ``JobError`` if too few lie there."""
    if line.part is None:
        return
    if _free_for(line.part_id or 0, line) < line.quantity:
        raise JobError(f"{_spoken_for(line.part, line)}: count it, or order it.", "line")
    cost = cost_in_force(line.part).cost if line.cost is None else line.cost
    move(change, line.part, -line.quantity, FITTED, line=line, cost=cost)


def put_back(change: Change, line: Line) -> None:
    """Put what a line took out back into the bin, as its tick is taken off."""
    for part, taken in _taken_parts(line):
        move(change, part, taken, TAKEN_OFF, line=line, cost=line.cost)


def let_go(change: Change, line: Line, why: str = "") -> None:
    """Before a line is removed: put back what it took out, and let its moves point to it no more.

    The moves' notes keep the ticket's tag.
    """
    put_back(change, line)
    for row in rows_by(StockMove, "line_id", line.id):
        row.line = None
        row.note = ", ".join(filter(None, (row.note, f"for {tag_of(line.ticket.number)}")))
        change.save(row, why)


def reserved_lines(part_id: int) -> list[Line]:
    """Return the lines that have the part reserved, the one promised first first."""
    return by_promise(line for line in _open_lines(part_id) if line.supply == ON_HAND)


def waiting_lines(part_id: int) -> list[Line]:
    """Return the lines that wait for the part, the one promised first first."""
    return by_promise(
        line
        for line in _open_lines(part_id)
        if line.supply in (TO_ORDER, ON_ORDER) and line.ticket.stage != Stage.CLOSED
    )


def by_promise(lines: Iterable[Line]) -> list[Line]:
    """Sort lines by the day their tickets are promised for; those without a day come last."""

    def place(line: Line) -> tuple[bool, str, int, int, int]:
        day = line.ticket.promised_on
        return day is None, str(day or ""), line.ticket.number, line.position, line.id

    return sorted(lines, key=place)


def _open_lines(part_id: int) -> Iterable[Line]:
    query = (
        Line.select(Line, Ticket)
        .join(Ticket)
        .where(
            (Line.part == part_id)
            & (Line.kind == LineKind.PART)
            & (Line.decision != DECLINED)
            & Line.done_at.is_null()
        )
    )
    return list(query)


def _taken_parts(line: Line) -> list[tuple[Part, Decimal]]:
    taken: dict[int, Decimal] = {}
    for row in rows_by(StockMove, "line_id", line.id):
        taken[row.part_id] = taken.get(row.part_id, NONE) - row.quantity
    return [(Part.get_by_id(part_id), quantity) for part_id, quantity in taken.items() if quantity]


def _free_for(part_id: int, line: Line | None) -> Decimal:
    return level_of(part_id, (line.id or 0) if line else 0).free


def _brings(order_line: OrderLine, part: Part) -> bool:
    """Whether the order line is for the part, or for a kit that holds it."""
    if order_line.part_id == part.id:
        return True
    held = {row.part_id for row in rows_by(KitPart, "kit_id", order_line.part_id)}
    return part.id in held or any(_holds(part_id, part.id) for part_id in held)


def _holds(kit_id: int, part_id: int) -> bool:
    held = {row.part_id for row in rows_by(KitPart, "kit_id", kit_id)}
    return part_id in held or any(_holds(inner, part_id) for inner in held)


def _keeps_its_order(line: Line) -> bool:
    """Whether the line is rightly on its order: not if it is on hand before that brings anything.

    Nor if that order is behind us, unless it was what brought the part.
    """
    row = line.order_line
    if row is None or _is_coming(line):
        return line.supply == ON_ORDER
    being_written = row.order.ordered_at is None and row.order.cancelled_at is None
    return being_written == (line.supply != ON_HAND)


def _is_coming(line: Line) -> bool:
    row = line.order_line
    return (
        row is not None
        and row.order.ordered_at is not None
        and row.packs > row.received + row.cancelled
    )


def _refuse_if_fitted_otherwise(line: Line) -> None:
    stored = row_of(Line, line.id) if line.done_at is not None else None
    if stored is None or (stored.part_id, stored.quantity) == (line.part_id, line.quantity):
        return
    raise JobError(
        f"“{line.description}” is fitted already, {show_quantity(stored.quantity)} of it: "
        "take its tick off before changing the part or how many.",
        "quantity",
    )


def _in_bin(part: Part) -> str:
    return f"The bin holds {show_quantity(part.quantity)} of “{part.name}”"


def _spoken_for(part: Part, line: Line) -> str:
    level = level_of(part.id, line.id or 0)
    others = f", {show_quantity(level.reserved)} kept for other work" if level.reserved else ""
    return f"{_in_bin(part)}{others}; this needs {show_quantity(line.quantity)}"
