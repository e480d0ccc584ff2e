"""The middle and the slow end of many: median and 90th percentile, said only where enough is known.

The 90th percentile lies between the two nearest values by straight interpolation, as spreadsheets
work it out (Hyndman and Fan, "Sample quantiles in statistical packages", 1996, definition 7).
"""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal

ENOUGH = 5
"""Of fewer no percentile is told: the cases say more. Common practice, no published source."""
TENTH = Decimal("0.1")


@dataclass(frozen=True, slots=True)
class Spread:
    """How many there were, their middle, within what nine of ten lie, and the most; to a tenth."""

    count: int
    median: Decimal | None
    ninety: Decimal | None
    most: Decimal | None


def spread_of(values: Sequence[Decimal]) -> Spread:
    """Return the spread; median and percentile are ``None`` for fewer than ``ENOUGH``."""
    most = to_tenth(max(values)) if values else None
    if len(values) < ENOUGH:
        return Spread(len(values), None, None, most)
    ordered = sorted(values)
    half, nine = (percentile(ordered, share) for share in (Decimal("0.5"), Decimal("0.9")))
    return Spread(len(values), to_tenth(half), to_tenth(nine), most)


def percentile(ordered: Sequence[Decimal], share: Decimal) -> Decimal:
    """Return the value within which ``share`` (0 to 1) of them lie; ``ordered`` from the least."""
    place = share * (len(ordered) - 1)
    below = int(place)
    above = min(below + 1, len(ordered) - 1)
    return ordered[below] + (ordered[above] - ordered[below]) * (place - below)


def to_tenth(value: Decimal) -> Decimal:
    """Return the value rounded to a tenth, a half going up."""
    return value.quantize(TENTH, ROUND_HALF_UP)
