"""What can't be had at all, or not by the day, and why: said part by part, with what to do."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

from shopdesk.pricing.market import STEPS, Condition, Market, Need, Offer, Supplier, cents, steps
from shopdesk.pricing.money import show_money, show_quantity


class Why(StrEnum):
    """Why a part can't be had."""

    NOBODY = "nobody offers it"
    CONDITION = "only in a worse condition"
    LATE = "only later"
    LEAST_ORDER = "the least order is not reached"
    TOO_FEW = "too few of it"


@dataclass(frozen=True, slots=True)
class Lack:
    """A need that can't be met; ``soonest_days`` is when it could be, if it is only late."""

    need: str
    title: str
    why: Why
    sentence: str
    soonest_days: int | None = None


class BasketError(ValueError):
    """No basket holds all that is needed; its text names each need, why, and what to do."""

    def __init__(self, lacks: Sequence[Lack]) -> None:
        super().__init__(" ".join(dict.fromkeys(lack.sentence for lack in lacks)))
        self.lacks = tuple(lacks)


def within(market: Market, days: int | None) -> Market:
    """Return the market with only the offers that come within so many days."""
    if days is None:
        return market
    return market.holding(one for one in market.offers if one.lead_days <= days)


def soonest_days(market: Market) -> int:
    """Return the least days within which all can be had.

    Raises:
        BasketError: it can't be had at all.
    """
    for days in sorted({0, *(one.lead_days for one in market.offers)}):
        if not _short(within(market, days)):
            return days
    raise BasketError(lacks(market))


def lacks(market: Market, days: int | None = None) -> tuple[Lack, ...]:
    """Return the needs that can't be met within so many days (None: whenever), in their order."""
    timely = within(market, days)
    short = _short(timely)
    found = (
        _lack(market, timely, need, short[need.part, need.worst], days)
        for need in market.needs
        if (need.part, need.worst) in short
    )
    return tuple(found)


def _short(market: Market) -> dict[tuple[str, Condition], int]:
    """Return how many thousandths can be had of what can't be had in full, the bin counted off."""
    open_to_us = [one for one in market.offers if _reachable(market, one.supplier)]
    short = {}
    for (part, worst), wanted in market.demand.items():
        had = _most(open_to_us, part, worst)
        if had is not None and had < wanted:
            short[part, worst] = had
    return short


def _most(offers: Iterable[Offer], part: str, worst: Condition) -> int | None:
    """Return the most that offers give of a part; None for as much as anyone wants."""
    had = 0
    for one in offers:
        held = steps(quantity for name, quantity in one.contents if name == part)
        if held and one.condition in worst.as_good:
            if one.most is None:
                return None
            had += held * one.most
    return had


def _reachable(market: Market, supplier: str) -> bool:
    """Whether the supplier has enough for its own least order."""
    least = cents(market.supplier_of[supplier].least_order or Decimal(0))
    own = [one for one in market.offers if one.supplier == supplier]
    if not least or any(one.most is None and one.price for one in own):
        return True
    return sum(cents(one.price) * (one.most or 0) for one in own) >= least


def _lack(market: Market, timely: Market, need: Need, had: int, days: int | None) -> Lack:
    offered = [one for one in market.offers if need.part in (part for part, _ in one.contents)]
    if not offered:
        return _nobody(need)
    good = [one for one in offered if one.condition in need.worst.as_good]
    if not good:
        return _worse(need, offered)
    if days is not None and not any(one.lead_days <= days for one in good):
        return _late(need, min(one.lead_days for one in good), days)
    in_time = [one for one in good if days is None or one.lead_days <= days]
    if not any(_reachable(timely, one.supplier) for one in in_time):
        return _too_small(need, [market.supplier_of[one.supplier] for one in in_time])
    return _too_few(need, had, days)


def _nobody(need: Need) -> Lack:
    words = f"Nobody offers “{need.title}”: note a supplier's price for it, or leave it out."
    return Lack(need.key, need.title, Why.NOBODY, words)


def _worse(need: Need, offered: Sequence[Offer]) -> Lack:
    only = " and ".join(each for each in Condition if any(one.condition is each for one in offered))
    words = (
        f"“{need.title}” is only offered {only}, and {need.worst} is asked for: "
        "ask the owner whether that will do, or find another supplier."
    )
    return Lack(need.key, need.title, Why.CONDITION, words)


def _late(need: Need, soonest: int, days: int) -> Lack:
    words = (
        f"“{need.title}” comes in {_days(soonest)} at the soonest, not within {_days(days)}: "
        "name a later day, or ask another supplier."
    )
    return Lack(need.key, need.title, Why.LATE, words, soonest)


def _too_small(need: Need, suppliers: Sequence[Supplier]) -> Lack:
    terms = dict.fromkeys(
        f"{supplier.name} (least order {show_money(supplier.least_order or Decimal(0))})"
        for supplier in suppliers
    )
    words = (
        f"“{need.title}” is only offered by {' and '.join(terms)}, and all that we know of there "
        "comes to less: note more of its offers, or ask whether it sends less."
    )
    return Lack(need.key, need.title, Why.LEAST_ORDER, words)


def _too_few(need: Need, had: int, days: int | None) -> Lack:
    by = "" if days is None else f" within {_days(days)}"
    words = (
        f"Only {show_quantity(Decimal(had) / STEPS)} more of “{need.title}” can be had{by}, "
        "and that is not enough: ask another supplier."
    )
    return Lack(need.key, need.title, Why.TOO_FEW, words)


def _days(days: int) -> str:
    return "1 day" if days == 1 else f"{days} days"
