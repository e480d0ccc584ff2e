"""What parts cost us and what they sell for, each with the words that say where it comes from."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from shopdesk.job.shop import Shop
from shopdesk.pricing.money import round_money
from shopdesk.pricing.part_price import PartPrice, part_price
from shopdesk.records.fetch import answers
from shopdesk.records.tables import Part

_MOST_AT_ONCE = 500
_LAST_RECEIVED = """SELECT move.part_id, move.cost, supplier.name FROM stock_move AS move
    LEFT JOIN order_line ON order_line.id = move.order_line_id
    LEFT JOIN part_order ON part_order.id = order_line.order_id
    LEFT JOIN supplier ON supplier.id = part_order.supplier_id
    WHERE move.id IN (SELECT MAX(id) FROM stock_move
    WHERE part_id IN ({}) AND why = 'received' AND cost IS NOT NULL GROUP BY part_id)"""
_OFFERED = """SELECT offer.part_id, offer.cost, offer.pack, supplier.name FROM offer
    JOIN supplier ON supplier.id = offer.supplier_id
    WHERE offer.part_id IN ({}) AND supplier.active ORDER BY offer.id"""


@dataclass(frozen=True, slots=True)
class PartCost:
    """What one piece costs us, None where it is not known, and where that comes from."""

    cost: Decimal | None
    words: str


UNKNOWN = PartCost(None, "not known: nothing received yet, and nobody offers it")


def each_of(cost: Decimal, pack: Decimal) -> Decimal:
    """Return what one piece costs of a pack that costs ``cost``, in whole cents."""
    return round_money(cost / pack)


def cost_in_force(part: Part) -> PartCost:
    """Return what one costs: as last received, else by the cheapest offer; inside a transaction."""
    return costs_in_force([part.id])[part.id]


def costs_in_force(part_ids: Sequence[int]) -> dict[int, PartCost]:
    """Return ``cost_in_force`` of several parts by their ids, inside a transaction."""
    found = dict.fromkeys(part_ids, UNKNOWN)
    for start in range(0, len(part_ids), _MOST_AT_ONCE):
        some = part_ids[start : start + _MOST_AT_ONCE]
        found |= _cheapest_offers(some) | _last_received(some)
    return found


def price_in_force(part: Part, shop: Shop) -> PartPrice:
    """Return what one sells for: its fixed price, else by what it costs; inside a transaction."""
    return price_by(part, cost_in_force(part), shop)


def prices_in_force(parts: Iterable[Part], shop: Shop) -> dict[int, PartPrice]:
    """Return ``price_in_force`` of several parts by their ids, inside a transaction."""
    known = list(parts)
    costs = costs_in_force([part.id for part in known])
    return {part.id: price_by(part, costs[part.id], shop) for part in known}


def price_by(part: Part, cost: PartCost, shop: Shop) -> PartPrice:
    """Return the price of a part whose cost is known."""
    return part_price(part.price, cost.cost, shop.part_markups, shop.part_margin)


def _last_received(part_ids: Sequence[int]) -> dict[int, PartCost]:
    return {
        part_id: PartCost(_money(cents), f"last received, from {supplier}")
        for part_id, cents, supplier in _asked(_LAST_RECEIVED, part_ids)
    }


def _cheapest_offers(part_ids: Sequence[int]) -> dict[int, PartCost]:
    cheapest: dict[int, tuple[Decimal, str]] = {}
    for part_id, cents, pack, supplier in _asked(_OFFERED, part_ids):
        each = _money(cents) * 1000 / Decimal(pack)
        if part_id not in cheapest or each < cheapest[part_id][0]:
            cheapest[part_id] = (each, supplier)
    return {
        part_id: PartCost(round_money(each), f"cheapest offer, of {supplier}")
        for part_id, (each, supplier) in cheapest.items()
    }


def _asked(query: str, part_ids: Sequence[int]) -> list[tuple[Any, ...]]:
    return answers(query.format(", ".join("?" * len(part_ids))), *part_ids)


def _money(cents: int) -> Decimal:
    return Decimal(cents).scaleb(-2)
