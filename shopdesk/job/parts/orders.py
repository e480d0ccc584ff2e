"""Orders as they are kept: finding one, its lines and sums, and how it stands."""

from decimal import Decimal

from shopdesk.errors import JobError
from shopdesk.pricing.money import round_money
from shopdesk.records.fetch import row_of, rows_by
from shopdesk.records.tables import OrderLine, PartOrder, Supplier

WRITING, ORDERED, PART_RECEIVED, BACK_ORDERED, ORDER_RECEIVED, CANCELLED = STATES = (
    *("being written", "ordered", "part received", "back-ordered", "received", "cancelled"),
)
"""How an order, or a line of one, stands. Derived, never typed."""
OPEN_STATES = (WRITING, ORDERED, PART_RECEIVED, BACK_ORDERED)


def find_order(order_id: int) -> PartOrder:
    """Return the row (inside a transaction); raises ``JobError`` if there is none."""
    order = row_of(PartOrder, order_id)
    if order is None:
        raise JobError("That order is not in the records: choose one of the list.", "order")
    return order


def find_order_line(order_line_id: int) -> OrderLine:
    """Return the row (inside a transaction); raises ``JobError`` if there is none."""
    line = row_of(OrderLine, order_line_id)
    if line is None:
        raise JobError("That line is not on the order any more: open the order again.", "line")
    return line


def lines_of(order: PartOrder) -> list[OrderLine]:
    """Return the lines of an order in the order in which they were written."""
    return rows_by(OrderLine, "order_id", order.id)


def packs_to_come(line: OrderLine) -> Decimal:
    """Return how many packs the supplier still owes."""
    owed: Decimal = line.packs - line.received - line.cancelled
    return owed


def goods_of(lines: list[OrderLine]) -> Decimal:
    """Return what the packs that were not cancelled cost, without postage."""
    return sum(map(line_total, lines), Decimal("0.00"))


def postage_for(supplier: Supplier, goods: Decimal) -> Decimal:
    """Return the postage by the supplier's terms."""
    free_from = supplier.free_postage_from
    is_free = free_from is not None and goods >= free_from
    postage: Decimal = Decimal("0.00") if is_free else supplier.postage
    return postage


def line_state(order: PartOrder, line: OrderLine) -> str:
    """Return how a line of an order stands."""
    if line.packs == line.cancelled or (order.cancelled_at is not None and not line.received):
        return CANCELLED
    if order.ordered_at is None:
        return WRITING
    if not packs_to_come(line):
        return ORDER_RECEIVED
    if line.back_ordered:
        return BACK_ORDERED
    return PART_RECEIVED if line.received else ORDERED


def order_state(order: PartOrder, lines: list[OrderLine]) -> str:
    """Return how an order stands: back-ordered when all that is to come is."""
    if order.cancelled_at is not None:
        return CANCELLED
    if order.ordered_at is None:
        return WRITING
    states = {line_state(order, line) for line in lines} - {CANCELLED}
    coming = states - {ORDER_RECEIVED}
    if not coming:
        return ORDER_RECEIVED if states else CANCELLED
    if coming == {BACK_ORDERED}:
        return BACK_ORDERED
    return PART_RECEIVED if any(line.received for line in lines) else ORDERED


def line_total(line: OrderLine) -> Decimal:
    """Return what the packs of a line cost that were not cancelled."""
    return round_money((line.packs - line.cancelled) * line.cost)
