"""What becomes of an order under way: later than said, owed by the supplier, or called off."""

from datetime import date

from shopdesk.errors import JobError
from shopdesk.job import typed
from shopdesk.job.parts.order_views import OrderView, order_view
from shopdesk.job.parts.order_writing import lines_on
from shopdesk.job.parts.orders import find_order, find_order_line, lines_of, packs_to_come
from shopdesk.job.parts.settling import settle_lines
from shopdesk.job.shift import Change, Shift
from shopdesk.job.standing import ON_ORDER
from shopdesk.records.tables import OrderLine, PartOrder


def change_expected(
    shift: Shift, order_id: int, expected_on: str, order_line_id: int | None = None
) -> OrderView:
    """Change the day for which what is still to come is expected, of one line or of all.

    Empty: nobody knows. The lines of the tickets that wait follow.
    """
    with shift.changing() as change:
        order = _placed(order_id)
        day = _day(change, expected_on)
        for row in lines_of(order):
            if packs_to_come(row) and order_line_id in (None, row.id):
                _expect(change, row, day)
        return order_view(order, change.shop)


def back_order(shift: Shift, order_line_id: int, expected_on: str = "") -> OrderView:
    """Note that the supplier owes what is still to come of a line, for which day if they said."""
    with shift.changing() as change:
        row = find_order_line(order_line_id)
        order = _placed(row.order_id)
        if not packs_to_come(row):
            raise JobError(f"Nothing is to come any more of “{row.part.name}”.", "line")
        row.back_ordered = True
        _expect(change, row, _day(change, expected_on))
        return order_view(order, change.shop)


def cancel_order_line(shift: Shift, order_line_id: int, why: str = "") -> OrderView:
    """Call off what is still to come of a line; tickets that wait for it are to order again."""
    with shift.changing() as change:
        row = find_order_line(order_line_id)
        order = find_order(row.order_id)
        if not packs_to_come(row):
            raise JobError(f"Nothing is to come any more of “{row.part.name}”.", "line")
        reason = typed.line(why, "why", "The reason")
        _cancel(change, order, [row], reason)
        return order_view(order, change.shop)


def cancel_order(shift: Shift, order_id: int, why: str = "") -> OrderView:
    """Call off all that is still to come of an order; tickets that wait are to order again."""
    with shift.changing() as change:
        order = find_order(order_id)
        open_lines = [row for row in lines_of(order) if packs_to_come(row)]
        if order.cancelled_at is not None or (order.ordered_at is not None and not open_lines):
            raise JobError(f"Nothing is to come any more of order {order.number}.", "order")
        reason = typed.line(why, "why", "The reason")
        _cancel(change, order, open_lines, reason)
        return order_view(order, change.shop)


def _placed(order_id: int) -> PartOrder:
    order = find_order(order_id)
    if order.ordered_at is None or order.cancelled_at is not None:
        raise JobError(f"Order {order.number} is not under way: place it first.", "order")
    return order


def _day(change: Change, expected_on: str) -> date | None:
    day = typed.day(expected_on, "expected_on", change.today, day_first=change.shop.day_first)
    if day is not None and day < change.today:
        raise JobError(f"{day:%d %b %Y} is over: type the day it is expected.", "expected_on")
    return day


def _expect(change: Change, row: OrderLine, day: date | None) -> None:
    row.expected_on = day
    change.save(row)
    for line in lines_on(row):
        if line.supply == ON_ORDER:
            line.expected_on = day
            change.save(line)


def _cancel(change: Change, order: PartOrder, rows: list[OrderLine], reason: str) -> None:
    """Call off what is to come; an order that never brought and never will is itself cancelled."""
    for row in rows:
        row.cancelled += packs_to_come(row)
        row.back_ordered = False
        change.save(row, reason)
    if not any(row.received or packs_to_come(row) for row in lines_of(order)):
        order.cancelled_at = change.at
        change.save(order, reason)
    for row in rows:
        _let_go_of_written(change, order, row)
        settle_lines(change, row)


def _let_go_of_written(change: Change, order: PartOrder, row: OrderLine) -> None:
    """Let lines wait for no line of an order that never went out."""
    for line in lines_on(row) if order.ordered_at is None else ():
        line.order_line = None
        change.save(line, f"order {order.number} never went out")
