"""What a part sells for: its own price, or from what it cost by the shop's markup or margin."""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from shopdesk.pricing.money import MoneyError, exact, round_money, show_percent


@dataclass(frozen=True, slots=True)
class MarkupBand:
    """The markup, in percent, on parts that cost up to `up_to`; None is "and all above"."""

    up_to: Decimal | None
    markup: Decimal


@dataclass(frozen=True, slots=True)
class PartPrice:
    """What one sells for, None where that is not known, and in words where it comes from."""

    price: Decimal | None
    words: str


def part_price(
    fixed: Decimal | None,
    cost: Decimal | None,
    bands: Sequence[MarkupBand],
    margin: Decimal | None,
) -> PartPrice:
    """Return the price in force: the fixed one, else from the cost by bands, else by margin.

    With neither bands nor margin it sells for what it costs.

    Raises:
        MoneyError: see `price_from_bands` and `price_from_margin`.
    """
    if fixed is not None:
        return PartPrice(fixed, "fixed price")
    if cost is None:
        return PartPrice(None, "no price: it has no fixed one, and what it costs is not known")
    if bands:
        return PartPrice(price_from_bands(cost, bands), _band_words(cost, bands))
    if margin is not None:
        words = f"cost by the shop's margin of {show_percent(margin)}"
        return PartPrice(price_from_margin(cost, margin), words)
    return PartPrice(round_money(cost), "what it costs: the shop has no markup and no margin")


def _band_words(cost: Decimal, bands: Sequence[MarkupBand]) -> str:
    markup = bands[_band_of(cost, bands)].markup
    if price_from_bands(cost, bands) > price_from_markup(cost, markup):
        return "held at what the dearest part of the markup band below sells for"
    return f"cost and {show_percent(markup)} by the shop's markup bands"


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


def price_from_bands(cost: Decimal, bands: Sequence[MarkupBand]) -> Decimal:
    """Return the price of a part that cost `cost`, marked up by the band it falls in.

    A dearer part never sells for less than a cheaper one: just over a band's edge, where the
    markup drops, the price stays at what the edge sells for until the lower markup passes it.

    Raises:
        MoneyError: `cost` is below zero, or the bands don't rise to one without an upper edge.
    """
    _check_bands(bands)
    own = _band_of(cost, bands)
    lower = [(band.up_to, band.markup) for band in bands[:own] if band.up_to is not None]
    return max(
        price_from_markup(up_to, markup) for up_to, markup in [*lower, (cost, bands[own].markup)]
    )


def _band_of(cost: Decimal, bands: Sequence[MarkupBand]) -> int:
    return next(i for i, band in enumerate(bands) if band.up_to is None or cost <= band.up_to)


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
