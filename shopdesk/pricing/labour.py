"""Bench time billed in tenths of an hour, and what a part sells for, from what it cost.

Labour in tenths of an hour is common practice, no published source. 29 CFR 785.48(b) accepts
rounding to the nearest tenth for payroll where it evens out over time; always up never does.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import ROUND_CEILING, ROUND_HALF_UP, Decimal
from enum import StrEnum

from shopdesk.pricing.money import MoneyError, exact, round_money

TENTH = Decimal("0.1")
MINUTES_IN_A_TENTH = 6


class TenthRule(StrEnum):
    """Which tenth of an hour part of a tenth is billed as."""

    NEAREST = "nearest"
    UP = "up"


def tenths(minutes: Decimal, rule: TenthRule) -> Decimal:
    """Return `minutes` at the bench as hours with one decimal; half a tenth goes up.

    Raises:
        MoneyError: `minutes` is below zero.
    """
    if exact(minutes) < 0:
        raise MoneyError(f"{minutes} minutes is below zero: type the time at the bench again.")
    rounding = {TenthRule.NEAREST: ROUND_HALF_UP, TenthRule.UP: ROUND_CEILING}[TenthRule(rule)]
    return (minutes / MINUTES_IN_A_TENTH).quantize(Decimal(1), rounding) * TENTH


def price_from_margin(cost: Decimal, margin: Decimal) -> Decimal:
    """Return the price of which `margin` percent is kept: cost / (1 - margin), in whole cents.

    Raises:
        MoneyError: `cost` is below zero, or `margin` is not from 0 to less than 100.
    """
    if not 0 <= exact(margin) < 100:
        raise MoneyError(f"A margin of {margin}% has no price: set one from 0 to less than 100.")
    return round_money(_cost(cost) * 100 / (100 - margin))


def price_from_markup(cost: Decimal, markup: Decimal) -> Decimal:
    """Return the price with `markup` percent of `cost` added, in whole cents.

    Raises:
        MoneyError: `cost` or `markup` is below zero.
    """
    if exact(markup) < 0:
        raise MoneyError(f"A markup of {markup}% is below zero: set zero or more.")
    return round_money(_cost(cost) * (100 + markup) / 100)


@dataclass(frozen=True, slots=True)
class MarkupBand:
    """The markup, in percent, on parts that cost up to `up_to`; None is "and all above"."""

    up_to: Decimal | None
    markup: Decimal


def price_from_bands(cost: Decimal, bands: Sequence[MarkupBand]) -> Decimal:
    """Return the price of a part that cost `cost`, marked up by the band it falls in.

    A dearer part never sells for less than a cheaper one: just over a band's edge, where the
    markup drops, the price stays at what the edge sells for until the lower markup passes it.

    Raises:
        MoneyError: `cost` is below zero, or the bands don't rise to one without an upper edge.
    """
    _check_bands(bands)
    own = next(i for i, band in enumerate(bands) if band.up_to is None or cost <= band.up_to)
    lower = [(band.up_to, band.markup) for band in bands[:own] if band.up_to is not None]
    return max(
        price_from_markup(up_to, markup) for up_to, markup in [*lower, (cost, bands[own].markup)]
    )


def _cost(cost: Decimal) -> Decimal:
    if exact(cost) < 0:
        raise MoneyError(f"A cost of {cost} is below zero: type what the part cost.")
    return cost


def _check_bands(bands: Sequence[MarkupBand]) -> None:
    edges = [band.up_to for band in bands[:-1]]
    known = [edge for edge in edges if edge is not None]
    if not bands or bands[-1].up_to is not None or known != edges:
        raise MoneyError("The markup bands need one last band, and only one, for all above.")
    if known != sorted(set(known)):
        raise MoneyError("The markup bands must rise: put the lowest cost first, each once.")
