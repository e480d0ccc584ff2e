"""Which way out we would take ourselves: the one rule, in one place.

The lowest cost per hour of life among the ways with a fair chance. What a way costs is what is
expected to be paid until the machine runs, with what falls due soon and is left undone. Another
machine has no doubt about it: it runs. Leaving it is never suggested. Where no repair has a fair
chance nothing is, unless another machine costs less per hour than every repair.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum


class Kind(StrEnum):
    """What a way out does."""

    REPAIR = "repair"
    ANOTHER = "another"
    LEAVE = "leave"


@dataclass(frozen=True, slots=True)
class Way:
    """One way out, as far as it is judged.

    `cost` is all that is expected to be paid, `hour` that for an hour of life (None where unknown).
    """

    key: str
    kind: Kind
    chance: Decimal
    price_now: Decimal
    cost: Decimal
    hour: Decimal | None


def suggested(ways: Sequence[Way], fair_chance: Decimal) -> str | None:
    """Return the key of the way we would take; None where none can be named yet.

    Where the hours of life of a repair are not known its cost decides, and another machine, which
    can't be compared then, is left out. Of two alike the one with the lower price now is taken.
    """
    repairs = [way for way in ways if way.kind is Kind.REPAIR]
    fair = [way for way in repairs if way.chance >= fair_chance]
    another = next((way for way in ways if way.kind is Kind.ANOTHER), None)
    if any(way.hour is None for way in repairs):
        return _least(fair)
    if another is None or another.hour is None:
        return _least(fair)
    if not fair:
        cheaper = all(_hour(another) < _hour(way) for way in repairs)
        return another.key if repairs and cheaper else None
    return _least([*fair, another])


def _least(ways: Sequence[Way]) -> str | None:
    best = min(ways, key=lambda way: (_hour(way), way.price_now), default=None)
    return best.key if best else None


def _hour(way: Way) -> Decimal:
    return way.cost if way.hour is None else way.hour
