"""Keeps what tickets wait for true: on order is only what an order still brings."""

from decimal import Decimal

from shopdesk.job.parts.kits import contents_of
from shopdesk.job.parts.orders import packs_to_come
from shopdesk.job.parts.stock import waiting_lines
from shopdesk.job.parts.stock_levels import level_of
from shopdesk.job.shift import Change
from shopdesk.job.standing import ON_HAND, ON_ORDER, TO_ORDER
from shopdesk.records.fetch import rows_by
from shopdesk.records.tables import Line, OrderLine


def pieces_of(row: OrderLine, packs: Decimal) -> dict[int, Decimal]:
    """Return by part how many pieces so many packs bring: a kit's contents as well as itself."""
    pieces = packs * row.pack
    held = contents_of(row.part)
    return {row.part_id: pieces} | {part.id: each * pieces for part, each in held}


def settle_lines(change: Change, row: OrderLine) -> None:
    """After a delivery or a cancellation: put right all lines that wait for what a line brings.

    What is free in the bin and what is to come, with any order, goes to the lines on order: first
    to those whose own order still brings something, then by their promised days. A line that it
    does not reach is to order again. Called inside a transaction.
    """
    for part_id in pieces_of(row, Decimal(1)):
        _settle(change, part_id)


def _settle(change: Change, part_id: int) -> None:
    waiting = waiting_lines(part_id)
    ours = [line for line in waiting if line.supply == ON_ORDER and line.order_line_id is not None]
    coming = _coming(part_id, ours)
    free = level_of(part_id).free
    left = free + sum(coming.values(), Decimal(0))
    for line in sorted(ours, key=lambda line: line.order_line_id not in coming):
        if line.quantity > left:
            _to_order(change, line)
            continue
        left -= line.quantity
        if line.order_line_id not in coming:
            _bring_otherwise(change, line, coming)


def _coming(part_id: int, lines: list[Line]) -> dict[int, Decimal]:
    """Return by order line what it still brings: kits count where they are to be opened."""
    rows = {row.id: row for row in rows_by(OrderLine, "part_id", part_id)}
    rows |= {line.order_line.id: line.order_line for line in lines if line.order_line is not None}
    brought = {
        row_id: pieces_of(row, packs_to_come(row)).get(part_id, Decimal(0))
        for row_id, row in rows.items()
        if row.order.ordered_at is not None
    }
    return {row_id: pieces for row_id, pieces in brought.items() if pieces}


def _bring_otherwise(change: Change, line: Line, coming: dict[int, Decimal]) -> None:
    """Let the line wait for another order, or have what lies free where none is under way."""
    rows = [OrderLine.get_by_id(row_id) for row_id in coming]
    rows.sort(key=lambda row: (row.expected_on is None, str(row.expected_on), row.id))
    if rows:
        line.order_line, line.expected_on = rows[0], rows[0].expected_on
    else:
        line.supply, line.expected_on = ON_HAND, None
    change.save(line)


def _to_order(change: Change, line: Line) -> None:
    number = line.order_line.order.number if line.order_line is not None else ""
    line.supply, line.expected_on, line.order_line = TO_ORDER, None, None
    change.save(line, f"no more of it comes with order {number}")
