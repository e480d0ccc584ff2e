"""Orders to suppliers: written, placed; the tickets that wait are told when their parts come."""

from collections.abc import Sequence

from shopdesk.errors import JobError
from shopdesk.job import typed
from shopdesk.job.parts.order_entry import OrderLineEntry, fill, refuse_past
from shopdesk.job.parts.order_views import OrderView, order_view
from shopdesk.job.parts.order_writing import (
    lines_on,
    order_being_written,
    place_written,
    put_on,
    write_order,
)
from shopdesk.job.parts.orders import find_order, find_order_line, lines_of
from shopdesk.job.parts.suppliers import find_supplier
from shopdesk.job.shift import Shift
from shopdesk.records.tables import PartOrder

__all__ = [
    "OrderLineEntry",
    "add_order_line",
    "change_order",
    "change_order_line",
    "drop_order_line",
    "new_order",
    "order_part",
    "place_order",
]


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


def change_order_line(
    shift: Shift, order_line_id: int, entry: OrderLineEntry, version: int | None = None
) -> OrderView:
    """Change a line of an order that is being written; the part stays."""
    with shift.changing() as change:
        row = find_order_line(order_line_id)
        order = _being_written(row.order_id)
        row.version = row.version if version is None else version
        fill(change, order, row, entry)
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
        refuse_past(day, change.today)
        place_written(change, order, typed.optional_money(postage, "postage"), day)
        return order_view(order, change.shop)


def _being_written(order_id: int) -> PartOrder:
    order = find_order(order_id)
    if order.ordered_at is not None or order.cancelled_at is not None:
        raise JobError(
            f"Order {order.number} went out already or was cancelled: write a new one.", "order"
        )
    return order
