"""Parts as rows of a list: how they stand, what they cost and what they sell for."""

from collections.abc import Iterable, Sequence

from shopdesk.job.parts.prices import costs_in_force, price_by
from shopdesk.job.parts.stock_levels import levels
from shopdesk.job.parts.views import PartRow
from shopdesk.job.shop import Shop
from shopdesk.records.fetch import answers
from shopdesk.records.tables import Part

_MOST_AT_ONCE = 500
_KITS = "SELECT DISTINCT kit_id FROM kit_part WHERE kit_id IN ({})"


def part_rows(parts: Iterable[Part], shop: Shop) -> tuple[PartRow, ...]:
    """Return parts for a list, with one set of queries for all, inside a transaction."""
    rows = list(parts)
    ids = [part.id for part in rows]
    stand, costs, kits = levels(ids), costs_in_force(ids), _kits_among(ids)
    found = []
    for part in rows:
        level, cost = stand[part.id], costs[part.id]
        price = price_by(part, cost, shop)
        found.append(
            PartRow(
                id=part.id,
                number=part.number,
                name=part.name,
                condition=part.condition,
                bin=part.bin,
                quantity=level.quantity,
                reserved=level.reserved,
                free=level.free,
                on_order=level.on_order,
                price=price.price,
                price_words=price.words,
                cost=cost.cost,
                cost_words=cost.words,
                is_kit=part.id in kits,
                active=part.active,
            )
        )
    return tuple(found)


def _kits_among(ids: Sequence[int]) -> set[int]:
    found: set[int] = set()
    for start in range(0, len(ids), _MOST_AT_ONCE):
        some = ids[start : start + _MOST_AT_ONCE]
        query = _KITS.format(", ".join("?" * len(some)))
        found |= {kit_id for (kit_id,) in answers(query, *some)}
    return found
