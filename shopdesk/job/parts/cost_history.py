"""What a part has cost over time: each delivery, and each price that a supplier asked."""

from collections.abc import Iterator
from datetime import UTC, datetime
from decimal import Decimal
from typing import Any

import msgspec

from shopdesk.dates import local_day
from shopdesk.job.parts.prices import each_of
from shopdesk.job.parts.views import CostView
from shopdesk.job.shift import Shift, load_shop
from shopdesk.job.shop import Shop
from shopdesk.records.fetch import answers
from shopdesk.records.tables import Supplier

RECEIVED, FROM_A_KIT, ASKED = "received", "out of a kit", "asked"
_CAME = """SELECT move.moved_at, supplier.name, move.cost, move.why FROM stock_move AS move
    LEFT JOIN order_line ON order_line.id = move.order_line_id
    LEFT JOIN part_order ON part_order.id = order_line.order_id
    LEFT JOIN supplier ON supplier.id = part_order.supplier_id
    WHERE move.part_id = ? AND move.cost IS NOT NULL AND move.quantity > 0
    AND move.why IN ('received', 'kit opened')"""
_OFFER_ENTRIES = """SELECT at, row_id, after FROM journal_entry
    WHERE "table" = 'offer' AND row_id IN (SELECT row_id FROM journal_entry
    WHERE "table" = 'offer' AND action = 'added' AND after LIKE ?) ORDER BY id"""


def cost_history(shift: Shift, part_id: int) -> tuple[CostView, ...]:
    """Return what one piece cost, the newest first."""
    with shift.records.reading():
        return costs_of(part_id, load_shop())


def costs_of(part_id: int, shop: Shop) -> tuple[CostView, ...]:
    """Return what one piece cost, the newest first, inside a transaction."""
    found = [*_received(part_id, shop), *_asked(part_id, shop)]
    return tuple(view for _, view in sorted(found, key=lambda pair: pair[0], reverse=True))


def _received(part_id: int, shop: Shop) -> Iterator[tuple[datetime, CostView]]:
    for at, supplier, cents, why in answers(_CAME, part_id):
        moment = _moment(at)
        what = RECEIVED if why == RECEIVED else FROM_A_KIT
        each = Decimal(cents).scaleb(-2)
        yield moment, CostView(local_day(moment, shop.zone), supplier or "", each, what)


def _asked(part_id: int, shop: Shop) -> Iterator[tuple[datetime, CostView]]:
    """Tell from the journal what offers of the part asked, each time that the cost changed."""
    names = {row.id: row.name for row in Supplier.select()}
    offers: dict[int, dict[str, Any]] = {}
    for at, offer_id, after in answers(_OFFER_ENTRIES, f'%"part_id":{part_id},%'):
        changed = msgspec.json.decode(after)
        offer = offers.setdefault(offer_id, {})
        offer.update(changed)
        if offer.get("part_id") != part_id or not changed.keys() & {"cost", "pack"}:
            continue
        moment = _moment(at)
        each = each_of(Decimal(offer["cost"]).scaleb(-2), Decimal(offer["pack"]) / 1000)
        supplier = names.get(offer["supplier_id"], "")
        yield moment, CostView(local_day(moment, shop.zone), supplier, each, ASKED)


def _moment(kept: Any) -> datetime:
    moment = kept if isinstance(kept, datetime) else datetime.fromisoformat(str(kept))
    return moment.replace(tzinfo=UTC)
