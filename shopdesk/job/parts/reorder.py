"""The reorder list: what runs low, how many to order, from whom, and what that costs."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import ROUND_CEILING, Decimal

from shopdesk.errors import JobError
from shopdesk.job.paper_content import ReorderContent, ReorderPaperRow
from shopdesk.job.paperwork import letterhead
from shopdesk.job.parts.opened import days_of, offers_of_many
from shopdesk.job.parts.order_entry import OrderLineEntry
from shopdesk.job.parts.order_views import OrderView, order_view
from shopdesk.job.parts.order_writing import order_being_written, put_on
from shopdesk.job.parts.stock_levels import Level, levels
from shopdesk.job.parts.suppliers import find_supplier
from shopdesk.job.shift import Shift, load_shop
from shopdesk.job.standing import ON_HAND
from shopdesk.pricing.money import show_quantity
from shopdesk.records.fetch import answers
from shopdesk.records.tables import Line, Offer, Part

_SPOKEN_FOR = """SELECT line.part_id, SUM(line.quantity) FROM line
    JOIN order_line ON order_line.id = line.order_line_id AND order_line.part_id = line.part_id
    WHERE line.kind = 'part' AND line.decision <> 'declined' AND line.done_at IS NULL
    AND line.supply IN ('on order', 'to order') GROUP BY line.part_id"""
_BEING_WRITTEN = """SELECT part_id, SUM((packs - cancelled) * pack) FROM order_line
    JOIN part_order ON part_order.id = order_line.order_id
    WHERE ordered_at IS NULL AND cancelled_at IS NULL GROUP BY part_id"""
Cell = str | Decimal | date | None
HEADINGS: tuple[Cell, ...] = (
    *("Number", "Name", "Condition", "Bin", "Free", "On order", "Order at", "Up to", "Wanted"),
    *("Packs", "Pieces in a pack", "Supplier", "Supplier's number", "A pack costs", "Cost"),
)


@dataclass(frozen=True, slots=True)
class ReorderRow:
    """A part that runs low. ``on_order`` counts what is for no ticket, orders being written too.

    ``packs`` of ``pack`` pieces are the cheapest way to ``wanted``; without a supplier nobody
    offers it.
    """

    part_id: int
    number: str
    name: str
    condition: str
    bin: str
    free: Decimal
    on_order: Decimal
    reorder_at: Decimal
    reorder_to: Decimal
    wanted: Decimal
    packs: Decimal
    pack: Decimal
    supplier_id: int | None
    supplier: str
    supplier_number: str
    cost_each: Decimal | None
    """Of a pack."""
    cost: Decimal | None
    words: str


def reorder_list(shift: Shift) -> tuple[ReorderRow, ...]:
    """Return the parts that run low, by supplier and name; those that nobody offers first."""
    with shift.records.reading():
        return reorder_rows()


def reorder_cells(rows: Iterable[ReorderRow]) -> tuple[tuple[Cell, ...], ...]:
    """Return the list as plain cells, the headings first."""
    return (HEADINGS, *(_cells(row) for row in rows))


def order_these(shift: Shift, part_ids: Sequence[int]) -> tuple[OrderView, ...]:
    """Put parts of the list on the orders being written, one for each supplier.

    Raises ``JobError`` for a part that nobody offers, or that is not on the list any more.
    """
    with shift.changing() as change:
        rows = {row.part_id: row for row in reorder_rows()}
        orders = {}
        for part_id in part_ids:
            row = rows.get(part_id)
            if row is None:
                raise JobError("That part runs low no more: look at the list again.", "part")
            if row.supplier_id is None:
                raise JobError(
                    f"Nobody offers “{row.name}”: write down who sells it first.", "part"
                )
            order = order_being_written(change, find_supplier(row.supplier_id))
            entry = OrderLineEntry(
                part_id,
                packs=show_quantity(row.packs),
                pack=show_quantity(row.pack),
                cost=str(row.cost_each),
                supplier_number=row.supplier_number,
            )
            put_on(change, order, entry)
            orders[order.id] = order
        return tuple(order_view(order, change.shop) for order in orders.values())


def reorder_content(shift: Shift) -> ReorderContent:
    """Return the list as a paper says it."""
    with shift.records.reading():
        shop = load_shop()
        rows = tuple(
            ReorderPaperRow(
                number=row.number,
                name=row.name,
                bin=row.bin,
                free=row.free,
                on_order=row.on_order,
                packs=row.packs,
                pack=row.pack,
                supplier=row.supplier,
                supplier_number=row.supplier_number,
                cost=row.cost,
            )
            for row in reorder_rows()
        )
        return ReorderContent(letterhead(shop), shift.today_in(shop), rows)


def reorder_rows() -> tuple[ReorderRow, ...]:
    """Return ``reorder_list`` inside a transaction."""
    reserved = Line.select(Line.part).where((Line.supply == ON_HAND) & Line.done_at.is_null())
    may_be_low = (Part.quantity <= Part.reorder_at) | Part.id.in_(reserved)
    parts = list(Part.select().where(Part.active & Part.reorder_at.is_null(False) & may_be_low))
    stand = levels([part.id for part in parts])
    spoken_for = _scaled(_SPOKEN_FOR, Decimal(1000))
    written = _scaled(_BEING_WRITTEN, Decimal(1_000_000))
    low = []
    for part in parts:
        coming = stand[part.id].on_order + written.get(part.id, Decimal(0))
        coming = max(Decimal(0), coming - spoken_for.get(part.id, Decimal(0)))
        if stand[part.id].free + coming <= (part.reorder_at or 0):
            low.append((part, stand[part.id], coming))
    offers = offers_of_many([part.id for part, *_ in low])
    rows = (_row(part, level, coming, offers[part.id]) for part, level, coming in low)
    return tuple(sorted(rows, key=lambda row: (row.supplier.casefold(), row.name.casefold())))


def _row(part: Part, level: Level, coming: Decimal, offers: Sequence[Offer]) -> ReorderRow:
    wanted = (part.reorder_to or Decimal(1)) - level.free - coming
    best = min(offers, key=lambda offer: _place(offer, wanted), default=None)
    packs = _packs(wanted, best.pack) if best else wanted
    pieces = packs * best.pack if best else wanted
    return ReorderRow(
        part_id=part.id,
        number=part.number,
        name=part.name,
        condition=part.condition,
        bin=part.bin,
        free=level.free,
        on_order=coming,
        reorder_at=part.reorder_at or Decimal(0),
        reorder_to=part.reorder_to or Decimal(0),
        wanted=wanted,
        packs=packs,
        pack=best.pack if best else Decimal(1),
        supplier_id=best.supplier_id if best else None,
        supplier=best.supplier.name if best else "",
        supplier_number=best.supplier_number if best else "",
        cost_each=best.cost if best else None,
        cost=packs * best.cost if best else None,
        words=_words(packs, best, pieces - wanted),
    )


def _words(packs: Decimal, best: Offer | None, more: Decimal) -> str:
    if best is None:
        return "nobody offers it: write down who sells it"
    many = show_quantity(packs)
    if best.pack != 1:
        many += f" pack{'s' if packs != 1 else ''} of {show_quantity(best.pack)}"
    over = f", {show_quantity(more)} more than wanted" if more else ""
    return f"{many} from {best.supplier.name}{over}"


def _packs(wanted: Decimal, pack: Decimal) -> Decimal:
    return (wanted / pack).to_integral_value(ROUND_CEILING)


def _place(offer: Offer, wanted: Decimal) -> tuple[Decimal, int, str]:
    return _packs(wanted, offer.pack) * offer.cost, days_of(offer), offer.supplier.name


def _scaled(query: str, scale: Decimal) -> dict[int, Decimal]:
    return {part_id: Decimal(steps) / scale for part_id, steps in answers(query)}


def _cells(row: ReorderRow) -> tuple[Cell, ...]:
    return (
        row.number,
        row.name,
        row.condition,
        row.bin,
        row.free,
        row.on_order,
        row.reorder_at,
        row.reorder_to,
        row.wanted,
        row.packs,
        row.pack,
        row.supplier,
        row.supplier_number,
        row.cost_each,
        row.cost,
    )
