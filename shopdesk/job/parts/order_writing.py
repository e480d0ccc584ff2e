"""Orders in the making, inside a transaction: what goes on them, for which tickets, and placing."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal

from shopdesk.errors import JobError
from shopdesk.job.parts.catalogue import find_part
from shopdesk.job.parts.offers import offer_for
from shopdesk.job.parts.order_entry import OrderLineEntry, fill
from shopdesk.job.parts.orders import goods_of, lines_of, postage_for
from shopdesk.job.parts.settling import pieces_of
from shopdesk.job.parts.stock import by_promise, waiting_lines
from shopdesk.job.shift import Change
from shopdesk.job.stages import Stage
from shopdesk.job.standing import DECLINED, ON_ORDER, TO_ORDER
from shopdesk.records.fetch import row_of, rows_by
from shopdesk.records.tables import Line, OrderLine, Part, PartOrder, Supplier

AGREED = (Stage.PARTS, Stage.REPAIR)
"""Stages in which what a ticket waits for was agreed to."""


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


def order_being_written(change: Change, supplier: Supplier) -> PartOrder:
    """Return the supplier's newest order that is being written, or a new one, in a transaction."""
    writing = (PartOrder.supplier == supplier.id) & PartOrder.ordered_at.is_null()
    query = PartOrder.select().where(writing & PartOrder.cancelled_at.is_null())
    return query.order_by(PartOrder.id.desc()).first() or write_order(change, supplier, ())


def put_on(
    change: Change, order: PartOrder, entry: OrderLineEntry, line_ids: Iterable[int] = ()
) -> None:
    """Put packs on an order being written, inside a transaction; see ``add_order_line``."""
    row = OrderLine(order=order, part=find_part(entry.part_id))
    fill(change, order, row, entry)
    same = next((line for line in lines_of(order) if _is_same(line, row)), None)
    if same is None:
        change.add(row)
    else:
        same.packs += row.packs
        same.expected_on = row.expected_on or same.expected_on
        change.save(same)
    _put_lines_on(change, same or row, line_ids)


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
        for line in [*lines_on(row), *_more_for(row)]:
            line.order_line, line.supply, line.expected_on = row, ON_ORDER, row.expected_on
            change.save(line)


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


def _more_for(row: OrderLine) -> list[Line]:
    """Return the lines that wait for the part and may have what of the packs is for nobody yet.

    Not of a kit that is to be opened for its contents.
    """
    known = lines_on(row)
    if any(line.part_id != row.part_id for line in known):
        return []
    left = row.packs * row.pack - sum((line.quantity for line in known), Decimal(0))
    found = []
    for line in waiting_lines(row.part_id):
        free = line.supply == TO_ORDER and line.order_line_id is None
        if free and line.ticket.stage in AGREED and line.quantity <= left:
            left -= line.quantity
            found.append(line)
    return found


def _is_same(line: OrderLine, other: OrderLine) -> bool:
    return (line.part_id, line.pack, line.cost) == (other.part_id, other.pack, other.cost)


def _usual_day(change: Change, order: PartOrder, row: OrderLine) -> date:
    offer = offer_for(order.supplier, row.part, row.pack)
    days = order.supplier.lead_days
    if offer is not None and offer.lead_days is not None:
        days = offer.lead_days
    return change.today + timedelta(days=days)
