"""How many of a part lie in the bin, are spoken for, are free, and are on their way."""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from shopdesk.records.fetch import answers

NONE = Decimal(0)
_THOUSANDTHS = Decimal(1000)
_MILLIONTHS = Decimal(1_000_000)
_MOST_AT_ONCE = 500

_IN_BIN = "SELECT id, quantity FROM part WHERE id IN ({})"
_RESERVED = """SELECT part_id, SUM(quantity) FROM line
    WHERE part_id IN ({}) AND kind = 'part' AND supply = 'on hand'
    AND decision <> 'declined' AND done_at IS NULL AND id <> ? GROUP BY part_id"""
_COMING = """SELECT placed.part_id, SUM((packs - received - cancelled) * pack)
    FROM order_line AS placed JOIN part_order ON part_order.id = placed.order_id
    WHERE placed.part_id IN ({}) AND ordered_at IS NOT NULL GROUP BY placed.part_id"""


@dataclass(frozen=True, slots=True)
class Level:
    """How a part stands; ``reserved`` of ``quantity`` are for lines that are not done yet."""

    quantity: Decimal
    reserved: Decimal
    on_order: Decimal

    @property
    def free(self) -> Decimal:
        """What lies in the bin for nobody."""
        return self.quantity - self.reserved


def level_of(part_id: int, but_line: int = 0) -> Level:
    """Return how one part stands, inside a transaction; ``but_line`` does not count as reserved."""
    return levels([part_id], but_line)[part_id]


def levels(part_ids: Sequence[int], but_line: int = 0) -> dict[int, Level]:
    """Return how parts stand by their ids, inside a transaction."""
    found: dict[int, Level] = {}
    for start in range(0, len(part_ids), _MOST_AT_ONCE):
        some = part_ids[start : start + _MOST_AT_ONCE]
        marks = ", ".join("?" * len(some))
        lying = dict(answers(_IN_BIN.format(marks), *some))
        reserved = dict(answers(_RESERVED.format(marks), *some, but_line))
        coming = dict(answers(_COMING.format(marks), *some))
        for part_id in some:
            found[part_id] = Level(
                Decimal(lying.get(part_id, 0)) / _THOUSANDTHS,
                Decimal(reserved.get(part_id, 0)) / _THOUSANDTHS,
                Decimal(coming.get(part_id, 0)) / _MILLIONTHS,
            )
    return found
