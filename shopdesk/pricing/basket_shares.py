"""Deals out what is bought and what lies in the bin: own stock first, the rest is left over."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from decimal import Decimal

from shopdesk.pricing.market import Condition, Market, Need


@dataclass(frozen=True, slots=True)
class Share:
    """So many that one need gets from an offer, or from the bin (``offer`` is empty)."""

    need: str
    part: str
    offer: str
    condition: Condition
    quantity: Decimal


@dataclass(frozen=True, slots=True)
class Leftover:
    """So many of a part that are bought and not needed: they go into stock."""

    part: str
    offer: str
    condition: Condition
    quantity: Decimal


@dataclass
class _Lot:
    """What is left of one source of a part."""

    part: str
    offer: str
    condition: Condition
    left: Decimal


def deal_out(
    market: Market, packs: Mapping[str, int]
) -> tuple[tuple[Share, ...], tuple[Leftover, ...]]:
    """Return what each need gets, and what is left of what was bought.

    The most particular needs are served first: whatever is good enough for them is good enough for
    those that come after, so no order among the sources can leave anybody short.
    """
    lots = [*_bin(market), *_bought(market, packs)]
    picky = sorted(market.needs, key=lambda need: len(need.worst.as_good))
    shares = [share for need in picky for share in _served(need, lots)]
    place = {need.key: place for place, need in enumerate(market.needs)}
    left = [
        Leftover(lot.part, lot.offer, lot.condition, lot.left)
        for lot in lots
        if lot.offer and lot.left
    ]
    return tuple(sorted(shares, key=lambda share: place[share.need])), tuple(left)


def _bin(market: Market) -> Iterable[_Lot]:
    return (_Lot(lot.part, "", lot.condition, lot.quantity) for lot in market.stock)


def _bought(market: Market, packs: Mapping[str, int]) -> Iterable[_Lot]:
    for one in market.offers:
        held: dict[str, Decimal] = {}
        for part, quantity in one.contents:
            held[part] = held.get(part, Decimal(0)) + quantity * packs.get(one.key, 0)
        yield from (_Lot(part, one.key, one.condition, left) for part, left in held.items() if left)


def _served(need: Need, lots: Iterable[_Lot]) -> Iterable[Share]:
    wanted = need.quantity
    for lot in lots:
        given = min(wanted, lot.left)
        if given and lot.part == need.part and lot.condition in need.worst.as_good:
            lot.left -= given
            wanted -= given
            yield Share(need.key, need.part, lot.offer, lot.condition, given)
    if wanted:
        raise AssertionError(f"the basket is short of {wanted} of {need.part}")
