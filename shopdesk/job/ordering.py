"""Orders to suppliers: written, placed; the tickets that wait are told when their parts come."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal

from shopdesk.errors import JobError
from shopdesk.job import typed
from shopdesk.job.offers import offer_for
from shopdesk.job.order_views import (
    OrderView,
    find_order,
    find_order_line,
    goods_of,
    lines_of,
    order_view,
    postage_for,
)
from shopdesk.job.part_catalogue import find_part
from shopdesk.job.settling import pieces_of
from shopdesk.job.shift import Change, Shift
from shopdesk.job.stages import Stage
from shopdesk.job.standing import DECLINED, ON_ORDER, TO_ORDER
from shopdesk.job.stock import by_promise, waiting_lines
from shopdesk.job.suppliers import find_supplier
from shopdesk.pricing.money import show_quantity
from shopdesk.records.fetch import row_of, rows_by
from shopdesk.records.tables import Line, OrderLine, Part, PartOrder, Supplier

AGREED = (Stage.PARTS, Stage.REPAIR)
"""Stages in which what a ticket waits for was agreed to."""


@dataclass(frozen=True, slots=True)
class OrderLineEntry:
    """Packs of a part, as typed; what is left empty comes from the supplier's offer."""

    part_id: int
    packs: str = "1"
    pack: str = ""
    cost: str = ""
    supplier_number: str = ""
    expected_on: str = ""


@dataclass(frozen=True, slots=True)
class Wanted:
    """Packs of a part that are to go on an order, for which lines of tickets.

    ``cost`` is a pack's. The lines wait for the part, or for what a kit holds.
    """

    part: Part
    packs: Decimal
    pack: Decimal
    cost: Decimal
    supplier_number: str = ""
    line_ids: tuple[int, ...] = ()


def new_order(shift: Shift, supplier_id: int, note: str = "") -> OrderView:
    """Begin an order; it is being written until it is placed."""
    with shift.changing() as change:
        supplier = find_supplier(supplier_id)
        note = typed.line(note, "note", "The note")
        return order_view(write_order(change, supplier, (), note), change.shop)


def change_order(shift: Shift, order_id: int, note: str) -> OrderView:
    """Change the note on an order."""
    with shift.changing() as change:
        order = find_order(order_id)
        order.note = typed.line(note, "note", "The note")
        change.save(order)
        return order_view(order, change.shop)


def add_order_line(
    shift: Shift, order_id: int, entry: OrderLineEntry, line_ids: Sequence[int] = ()
) -> OrderView:
    """Put packs of a part on an order that is being written, for lines of tickets.

    A pack that is on it already is asked for so many times more. Raises ``JobError`` at the field.
    """
    with shift.changing() as change:
        order = _being_written(order_id)
        put_on(change, order, entry, line_ids)
        return order_view(order, change.shop)


def order_part(shift: Shift, part_id: int, supplier_id: int, packs: str = "1") -> OrderView:
    """Put packs of a part on the order being written for a supplier; without one, begin one."""
    with shift.changing() as change:
        order = order_being_written(change, find_supplier(supplier_id))
        put_on(change, order, OrderLineEntry(part_id, packs))
        return order_view(order, change.shop)


def order_being_written(change: Change, supplier: Supplier) -> PartOrder:
    """Return the supplier's newest order that is being written, or a new one, in a transaction."""
    writing = (PartOrder.supplier == supplier.id) & PartOrder.ordered_at.is_null()
    query = PartOrder.select().where(writing & PartOrder.cancelled_at.is_null())
    return query.order_by(PartOrder.id.desc()).first() or write_order(change, supplier, ())


def change_order_line(
    shift: Shift, order_line_id: int, entry: OrderLineEntry, version: int | None = None
) -> OrderView:
    """Change a line of an order that is being written; the part stays."""
    with shift.changing() as change:
        row = find_order_line(order_line_id)
        order = _being_written(row.order_id)
        row.version = row.version if version is None else version
        _fill(change, order, row, entry)
        change.save(row)
        return order_view(order, change.shop)


def drop_order_line(shift: Shift, order_line_id: int, why: str = "") -> OrderView:
    """Take a line off an order that is being written."""
    with shift.changing() as change:
        row = find_order_line(order_line_id)
        order = _being_written(row.order_id)
        for line in lines_on(row):
            line.order_line = None
            change.save(line)
        change.remove(row, typed.line(why, "why", "The reason"))
        return order_view(order, change.shop)


def place_order(shift: Shift, order_id: int, postage: str = "", expected_on: str = "") -> OrderView:
    """Note that the order went out; lines of tickets that wait are on order from now on.

    An empty ``postage`` is by the supplier's terms, an empty day by how long the offer takes.
    """
    with shift.changing() as change:
        order = _being_written(order_id)
        if not lines_of(order):
            raise JobError("There is nothing on this order: put a part on it first.", "lines")
        day = typed.day(expected_on, "expected_on", change.today, day_first=change.shop.day_first)
        _refuse_past(day, change.today)
        place_written(change, order, typed.optional_money(postage, "postage"), day)
        return order_view(order, change.shop)


def write_order(
    change: Change, supplier: Supplier, wanted: Iterable[Wanted], note: str = ""
) -> PartOrder:
    """Write an order inside a transaction; it is not placed yet."""
    order = PartOrder(number=f"P{change.next_number('order')}", supplier=supplier, note=note)
    change.add(order)
    for one in wanted:
        row = OrderLine(
            order=order,
            part=one.part,
            supplier_number=one.supplier_number,
            pack=one.pack,
            packs=one.packs,
            cost=one.cost,
        )
        change.add(row)
        _put_lines_on(change, row, one.line_ids)
    return order


def place_written(
    change: Change, order: PartOrder, postage: Decimal | None = None, day: date | None = None
) -> None:
    """Place an order inside a transaction; ``None`` leaves it to the supplier's terms."""
    lines = lines_of(order)
    terms = postage_for(order.supplier, goods_of(lines))
    order.postage = terms if postage is None else postage
    order.ordered_at = change.at
    order.ordered_by = change.who
    change.save(order)
    for row in lines:
        row.expected_on = row.expected_on or day or _usual_day(change, order, row)
        change.save(row)
        _put_waiting_on(change, row)
        for line in lines_on(row):
            line.supply, line.expected_on = ON_ORDER, row.expected_on
            change.save(line)


def put_on(
    change: Change, order: PartOrder, entry: OrderLineEntry, line_ids: Iterable[int] = ()
) -> None:
    """Put packs on an order being written, inside a transaction; see ``add_order_line``."""
    row = OrderLine(order=order, part=find_part(entry.part_id))
    _fill(change, order, row, entry)
    same = next((line for line in lines_of(order) if _is_same(line, row)), None)
    if same is None:
        change.add(row)
    else:
        same.packs += row.packs
        same.expected_on = row.expected_on or same.expected_on
        change.save(same)
    _put_lines_on(change, same or row, line_ids)


def lines_on(row: OrderLine) -> list[Line]:
    """Return the ticket lines that wait for an order line, the one promised first first."""
    rows = rows_by(Line, "order_line_id", row.id)
    return by_promise(line for line in rows if _waits(line))


def _waits(line: Line) -> bool:
    wanted = line.decision != DECLINED and line.done_at is None
    return wanted and line.supply in (TO_ORDER, ON_ORDER)


def _put_lines_on(change: Change, row: OrderLine, line_ids: Iterable[int]) -> None:
    brings = pieces_of(row, row.packs)
    for line_id in line_ids:
        line = row_of(Line, line_id)
        if line is None or line.part_id not in brings or not _waits(line):
            raise JobError(
                "That line waits for none of what is ordered here: open the ticket again.", "line"
            )
        if not _comes_in_a_kit(line):
            line.order_line = row
            change.save(line)


def _comes_in_a_kit(line: Line) -> bool:
    """Whether an order line brings it in a kit already: that one has to be opened for it."""
    row = line.order_line
    return row is not None and row.part_id != line.part_id and row.order.cancelled_at is None


def _put_waiting_on(change: Change, row: OrderLine) -> None:
    """Let what of a line's packs is for nobody yet be for lines that wait for the part.

    Not of a kit that is to be opened for its contents.
    """
    known = lines_on(row)
    if any(line.part_id != row.part_id for line in known):
        return
    left = row.packs * row.pack - sum((line.quantity for line in known), Decimal(0))
    for line in waiting_lines(row.part_id):
        free = line.supply == TO_ORDER and line.order_line_id is None
        if free and line.ticket.stage in AGREED and line.quantity <= left:
            left -= line.quantity
            line.order_line = row
            change.save(line)


def _being_written(order_id: int) -> PartOrder:
    order = find_order(order_id)
    if order.ordered_at is not None or order.cancelled_at is not None:
        raise JobError(
            f"Order {order.number} went out already or was cancelled: write a new one.", "order"
        )
    return order


def _fill(change: Change, order: PartOrder, row: OrderLine, entry: OrderLineEntry) -> None:
    pack = typed.optional_quantity(entry.pack, "pack")
    offer = offer_for(order.supplier, row.part, pack)
    row.packs = _whole(entry.packs, "packs")
    row.pack = pack or (offer.pack if offer else Decimal(1))
    number = typed.line(entry.supplier_number, "supplier_number", "The supplier's number")
    row.supplier_number = number or (offer.supplier_number if offer else "")
    cost = typed.optional_money(entry.cost, "cost")
    if cost is None and offer is None:
        raise JobError(
            f"{order.supplier.name} has no offer for that pack of “{row.part.name}”: "
            "type what a pack costs.",
            "cost",
        )
    row.cost = offer.cost if cost is None and offer else cost
    row.expected_on = typed.day(
        entry.expected_on, "expected_on", change.today, day_first=change.shop.day_first
    )
    _refuse_past(row.expected_on, change.today)


def _whole(typed_packs: str, field: str) -> Decimal:
    packs = typed.quantity(typed_packs, field)
    if packs != int(packs):
        raise JobError(f"{show_quantity(packs)} packs: type a whole number of packs.", field)
    return packs


def _is_same(line: OrderLine, other: OrderLine) -> bool:
    return (line.part_id, line.pack, line.cost) == (other.part_id, other.pack, other.cost)


def _usual_day(change: Change, order: PartOrder, row: OrderLine) -> date:
    offer = offer_for(order.supplier, row.part, row.pack)
    days = order.supplier.lead_days
    if offer is not None and offer.lead_days is not None:
        days = offer.lead_days
    return change.today + timedelta(days=days)


def _refuse_past(day: date | None, today: date) -> None:
    if day is not None and day < today:
        raise JobError(f"{day:%d %b %Y} is over: type the day it is expected.", "expected_on")
