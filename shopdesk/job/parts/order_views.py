"""Orders to suppliers as they stand: what was asked for, what came, and what is still to come."""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from shopdesk.dates import local_day
from shopdesk.job.opened import tag_of
from shopdesk.job.parts.orders import (
    OPEN_STATES,
    WRITING,
    find_order,
    goods_of,
    line_state,
    line_total,
    lines_of,
    order_state,
    packs_to_come,
    postage_for,
)
from shopdesk.job.parts.suppliers import supplier_view
from shopdesk.job.parts.views import SupplierView
from shopdesk.job.shift import Shift, load_shop
from shopdesk.job.shop import Shop
from shopdesk.pricing.money import show_money, show_quantity
from shopdesk.records.tables import Line, OrderLine, Part, PartOrder, Supplier, Ticket


@dataclass(frozen=True, slots=True)
class OrderLineView:
    """Packs of a part on an order; ``cost`` is a pack's, ``to_come`` in packs."""

    id: int
    version: int
    part_id: int
    number: str
    name: str
    condition: str
    supplier_number: str
    pack: Decimal
    packs: Decimal
    received: Decimal
    cancelled: Decimal
    to_come: Decimal
    cost: Decimal
    total: Decimal
    expected_on: date | None
    back_ordered: bool
    state: str
    tags: tuple[str, ...]
    """The tickets that it is for."""
    tickets: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class OrderView:
    """An order, whole; ``may_…`` say what may be done with it now."""

    id: int
    version: int
    number: str
    supplier: SupplierView
    state: str
    note: str
    postage: Decimal
    postage_words: str
    goods: Decimal
    total: Decimal
    short_of_least: str
    """What is missing to the least that the supplier sends, in words, or empty."""
    ordered_by: str
    ordered_on: date | None
    expected_on: date | None
    lines: tuple[OrderLineView, ...]
    may_change: bool
    may_place: bool
    may_receive: bool
    may_cancel: bool


@dataclass(frozen=True, slots=True)
class OrderRow:
    """An order in a list; ``to_come`` in words."""

    id: int
    number: str
    supplier_id: int
    supplier: str
    state: str
    ordered_on: date | None
    expected_on: date | None
    lines: int
    cost: Decimal
    to_come: str


def list_orders(shift: Shift, *, closed: bool = False) -> tuple[OrderRow, ...]:
    """Return the open orders, the newest first; with ``closed`` those behind us after them."""
    with shift.records.reading():
        shop = load_shop()
        lines: dict[int, list[OrderLine]] = {}
        for line in OrderLine.select(OrderLine, Part).join(Part).order_by(OrderLine.id):
            lines.setdefault(line.order_id, []).append(line)
        orders = PartOrder.select(PartOrder, Supplier).join(Supplier).order_by(PartOrder.id.desc())
        rows = [_order_row(order, lines.get(order.id, []), shop) for order in orders]
    still = [row for row in rows if row.state in OPEN_STATES]
    return (*still, *(row for row in rows if closed and row.state not in OPEN_STATES))


def open_order(shift: Shift, order_id: int) -> OrderView:
    """Return the order whole; raises ``JobError`` if there is none of that id."""
    with shift.records.reading():
        return order_view(find_order(order_id), load_shop())


def order_view(order: PartOrder, shop: Shop) -> OrderView:
    """Return the order whole, inside a transaction."""
    lines = lines_of(order)
    state = order_state(order, lines)
    goods = goods_of(lines)
    placed = order.ordered_at is not None
    postage = order.postage if placed else postage_for(order.supplier, goods)
    return OrderView(
        id=order.id,
        version=order.version,
        number=order.number,
        supplier=supplier_view(order.supplier),
        state=state,
        note=order.note,
        postage=postage,
        postage_words=_postage_words(order.supplier, postage, placed, shop),
        goods=goods,
        total=goods + postage,
        short_of_least=_short_of_least(order.supplier, goods, shop) if state == WRITING else "",
        ordered_by=order.ordered_by,
        ordered_on=local_day(order.ordered_at, shop.zone) if placed else None,
        expected_on=_expected(lines),
        lines=tuple(_line_view(order, line) for line in lines),
        may_change=state == WRITING,
        may_place=state == WRITING and bool(lines),
        may_receive=placed and any(map(packs_to_come, lines)),
        may_cancel=state in OPEN_STATES,
    )


def _order_row(order: PartOrder, lines: list[OrderLine], shop: Shop) -> OrderRow:
    placed = order.ordered_at is not None
    to_come = [line for line in lines if placed and packs_to_come(line)]
    return OrderRow(
        id=order.id,
        number=order.number,
        supplier_id=order.supplier_id,
        supplier=order.supplier.name,
        state=order_state(order, lines),
        ordered_on=local_day(order.ordered_at, shop.zone) if placed else None,
        expected_on=_expected(lines),
        lines=len(lines),
        cost=goods_of(lines) + order.postage,
        to_come="; ".join(
            f"{show_quantity(packs_to_come(line))} × {line.part.name}" for line in to_come
        ),
    )


def _line_view(order: PartOrder, row: OrderLine) -> OrderLineView:
    tickets = _tickets(row)
    return OrderLineView(
        id=row.id,
        version=row.version,
        part_id=row.part_id,
        number=row.part.number,
        name=row.part.name,
        condition=row.part.condition,
        supplier_number=row.supplier_number,
        pack=row.pack,
        packs=row.packs,
        received=row.received,
        cancelled=row.cancelled,
        to_come=packs_to_come(row) if order.ordered_at is not None else Decimal(0),
        cost=row.cost,
        total=line_total(row),
        expected_on=row.expected_on,
        back_ordered=row.back_ordered,
        state=line_state(order, row),
        tags=tuple(map(tag_of, tickets.values())),
        tickets=tuple(tickets),
    )


def _tickets(row: OrderLine) -> dict[int, int]:
    """Return the numbers of the tickets that the line is for, by their ids."""
    query = Ticket.select().join(Line).where(Line.order_line == row.id).order_by(Ticket.number)
    return {ticket.id: ticket.number for ticket in query}


def _expected(lines: list[OrderLine]) -> date | None:
    """Return when the last of what is to come is expected; None where that is not known."""
    days = [line.expected_on for line in lines if packs_to_come(line)]
    known = [day for day in days if day is not None]
    return max(known) if known and len(known) == len(days) else None


def _postage_words(supplier: Supplier, postage: Decimal, placed: bool, shop: Shop) -> str:
    if placed:
        return ""
    free_from = supplier.free_postage_from
    if free_from is None:
        return "by the supplier's terms"
    limit = show_money(free_from, shop.currency)
    return f"free from {limit}" if postage else f"free, as the goods come to {limit}"


def _short_of_least(supplier: Supplier, goods: Decimal, shop: Shop) -> str:
    least = supplier.least_order
    if least is None or goods >= least:
        return ""
    short, whole = (show_money(amount, shop.currency) for amount in (least - goods, least))
    return f"{short} short of the {whole} from which they send"
