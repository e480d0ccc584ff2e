"""Opens a part whole: what it costs, holds, fits, who offers it, what came and went, who waits."""

from collections.abc import Sequence

from shopdesk.dates import local_day
from shopdesk.job.opened import tag_of
from shopdesk.job.parts.cost_history import costs_of
from shopdesk.job.parts.lists import part_rows
from shopdesk.job.parts.prices import each_of
from shopdesk.job.parts.stock import reserved_lines, waiting_lines
from shopdesk.job.parts.views import (
    FitView,
    KitPartView,
    MoveView,
    OfferView,
    PartView,
    WaitView,
)
from shopdesk.job.reference import cause_title, upkeep_tasks
from shopdesk.job.shop import Shop
from shopdesk.pricing.money import show_money, show_quantity
from shopdesk.records.fetch import rows_by
from shopdesk.records.tables import KitPart, Line, Offer, Part, PartFit, StockMove, Supplier, Ticket

_MOST_MOVES = 50
_MOST_AT_ONCE = 500


def part_view(part: Part, shop: Shop) -> PartView:
    """Return the part whole, inside a transaction."""
    (row,) = part_rows([part], shop)
    return PartView(
        row=row,
        id=part.id,
        version=part.version,
        number=part.number,
        name=part.name,
        condition=part.condition,
        fixed_price=part.price,
        price=row.price,
        price_words=row.price_words,
        cost=row.cost,
        cost_words=row.cost_words,
        bin=part.bin,
        quantity=row.quantity,
        reserved=row.reserved,
        free=row.free,
        on_order=row.on_order,
        reorder_at=part.reorder_at,
        reorder_to=part.reorder_to,
        warranty_days=part.warranty_days,
        notes=part.notes,
        active=part.active,
        is_kit=row.is_kit,
        holds=_held(part),
        fits=tuple(map(_fit, rows_by(PartFit, "part_id", part.id))),
        offers=tuple(_offer(offer, shop) for offer in offers_of(part.id)),
        moves=_moves(part, shop),
        costs=costs_of(part.id, shop),
        waits=tuple(map(_wait, [*reserved_lines(part.id), *waiting_lines(part.id)])),
    )


def _held(kit: Part) -> tuple[KitPartView, ...]:
    return tuple(
        KitPartView(row.part_id, row.part.number, row.part.name, row.quantity)
        for row in rows_by(KitPart, "kit_id", kit.id)
    )


def offers_of(part_id: int) -> list[Offer]:
    """Return the offers of suppliers we buy from, the cheapest piece first, in a transaction."""
    return offers_of_many([part_id])[part_id]


def offers_of_many(part_ids: Sequence[int]) -> dict[int, list[Offer]]:
    """Return ``offers_of`` several parts by their ids, inside a transaction."""
    found: dict[int, list[Offer]] = {part_id: [] for part_id in part_ids}
    for start in range(0, len(part_ids), _MOST_AT_ONCE):
        some = part_ids[start : start + _MOST_AT_ONCE]
        query = Offer.select(Offer, Supplier).join(Supplier)
        for row in query.where(Offer.part.in_(some) & Supplier.active):
            found[row.part_id].append(row)
    for rows in found.values():
        rows.sort(key=lambda row: (row.cost / row.pack, days_of(row), row.supplier.name))
    return found


def days_of(offer: Offer) -> int:
    """Return in how many days what is offered is here."""
    return offer.supplier.lead_days if offer.lead_days is None else offer.lead_days


def _offer(row: Offer, shop: Shop) -> OfferView:
    days = days_of(row)
    each = each_of(row.cost, row.pack)
    cost = show_money(row.cost, shop.currency)
    pack = f"{cost} for {show_quantity(row.pack)}" if row.pack != 1 else f"{cost} each"
    wait = "the same day" if not days else f"in {days} day" + ("s" if days != 1 else "")
    return OfferView(
        id=row.id,
        version=row.version,
        supplier_id=row.supplier_id,
        supplier=row.supplier.name,
        part_id=row.part_id,
        supplier_number=row.supplier_number,
        pack=row.pack,
        cost=row.cost,
        each=each,
        lead_days=row.lead_days,
        days=days,
        asked_on=local_day(row.asked_at, shop.zone),
        words=f"{row.supplier.name}: {pack}, here {wait}",
    )


def _fit(row: PartFit) -> FitView:
    cause = cause_title(row.cause, "") if row.cause else ""
    task = next((task.title for task in upkeep_tasks() if task.key == row.task), row.task)
    machine = row.model or (f"any {row.kind}" if row.kind else "any machine")
    many = "" if row.quantity == 1 else f"{show_quantity(row.quantity)} for "
    return FitView(
        id=row.id,
        kind=row.kind,
        make_model=row.model,
        cause=row.cause,
        cause_title=cause,
        task=row.task,
        task_title=task,
        quantity=row.quantity,
        words=": ".join(filter(None, (many + machine, "; ".join(filter(None, (cause, task)))))),
    )


def _moves(part: Part, shop: Shop) -> tuple[MoveView, ...]:
    rows = (
        StockMove.select(StockMove, Line, Ticket)
        .left_outer_join(Line)
        .left_outer_join(Ticket)
        .where(StockMove.part == part.id)
        .order_by(StockMove.id.desc())
        .limit(_MOST_MOVES)
    )
    return tuple(_move_view(row, shop) for row in rows)


def _move_view(row: StockMove, shop: Shop) -> MoveView:
    ticket = row.line.ticket if row.line is not None else None
    return MoveView(
        id=row.id,
        on=local_day(row.moved_at, shop.zone),
        quantity=row.quantity,
        why=row.why,
        cost=row.cost,
        tag=tag_of(ticket.number) if ticket else "",
        ticket_id=ticket.id if ticket else None,
        note=row.note,
        by=row.moved_by,
    )


def _wait(line: Line) -> WaitView:
    ticket = line.ticket
    return WaitView(
        line_id=line.id,
        ticket_id=ticket.id,
        tag=tag_of(ticket.number),
        owner=ticket.customer.name,
        quantity=line.quantity,
        supply=line.supply,
        promised_on=ticket.promised_on,
        expected_on=line.expected_on,
    )
