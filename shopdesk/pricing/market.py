"""What parts are needed, who offers them on what terms, and what lies in the bin already."""

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum
from functools import cached_property

from shopdesk.pricing.money import MoneyError, exact, round_money

Content = tuple[str, Decimal]
"""A part and how many of it."""
STEPS = 1000
"""Quantities are whole thousandths."""


class Condition(StrEnum):
    """A part's condition, best first."""

    NEW = "new"
    REBUILT = "rebuilt"
    USED = "used"

    @property
    def as_good(self) -> tuple["Condition", ...]:
        """What will do where this will: itself and whatever is better."""
        return tuple(Condition)[: tuple(Condition).index(self) + 1]


@dataclass(frozen=True, slots=True)
class Need:
    """So many of a part, for one place where it is fitted; ``worst`` is the condition that will do.

    ``part`` is what offers and stock call the part; several needs may be of one part.
    """

    key: str
    part: str
    title: str
    quantity: Decimal
    worst: Condition = Condition.NEW


@dataclass(frozen=True, slots=True)
class Offer:
    """What a supplier asks for one pack: of one part, of several, or a kit of different parts.

    ``most`` is how many packs there are, None for as many as anyone wants.
    """

    key: str
    supplier: str
    title: str
    price: Decimal
    contents: tuple[Content, ...]
    lead_days: int = 0
    condition: Condition = Condition.NEW
    most: int | None = None

    @property
    def is_kit(self) -> bool:
        """Whether one pack holds different parts."""
        return len({part for part, _ in self.contents}) > 1


@dataclass(frozen=True, slots=True)
class Supplier:
    """Whom parts are ordered from: postage for each order, free from a sum of goods; least order.

    ``free_postage_from`` and ``least_order`` count goods without postage.
    """

    key: str
    name: str
    postage: Decimal = Decimal(0)
    free_postage_from: Decimal | None = None
    least_order: Decimal | None = None


@dataclass(frozen=True, slots=True)
class Stock:
    """What lies in the bin and is free to be used: it costs nothing more and is here at once."""

    part: str
    quantity: Decimal
    condition: Condition = Condition.NEW


@dataclass(frozen=True)
class Market:
    """All that a basket is chosen from, in an order of its own, so that equals give equal baskets.

    Needs keep their order: what lies in the bin goes to the first that it is good enough for.

    Raises:
        MoneyError: a quantity or price is not one that can be bought; the sentence names whose.
        TypeError: a float where ``Decimal`` is due.
        ValueError: a key is given twice, or an offer's supplier is not known.
    """

    needs: tuple[Need, ...]
    offers: tuple[Offer, ...]
    suppliers: tuple[Supplier, ...]
    stock: tuple[Stock, ...] = ()

    def __post_init__(self) -> None:
        """Put offers and suppliers in the order of their keys, and refuse what can't be."""
        object.__setattr__(self, "offers", tuple(sorted(self.offers, key=lambda one: one.key)))
        object.__setattr__(self, "suppliers", tuple(sorted(self.suppliers, key=lambda s: s.key)))
        for rows in (self.needs, self.offers, self.suppliers):
            _refuse_twice([row.key for row in rows])
        for need in self.needs:
            _refuse_quantity(need.title, need.quantity)
        for one in self.offers:
            _refuse_offer(one, self.supplier_of)
        for supplier in self.suppliers:
            _refuse_terms(supplier)
        for lot in self.stock:
            _steps(lot.part, lot.quantity)

    @cached_property
    def supplier_of(self) -> dict[str, Supplier]:
        """The suppliers by key."""
        return {supplier.key: supplier for supplier in self.suppliers}

    @cached_property
    def demand(self) -> dict[tuple[str, Condition], int]:
        """Thousandths that must be at hand of a part in a condition or better, stock counted off.

        Who will take a worse condition will take a better one: a part is enough if, for each
        condition, what is at least as good covers all the needs that ask for no less.
        """
        found: dict[tuple[str, Condition], int] = {}
        for part in dict.fromkeys(need.part for need in self.needs):
            for worst in Condition:
                wanted = [need for need in self.needs if need.part == part]
                asked = steps(need.quantity for need in wanted if need.worst in worst.as_good)
                here = [lot for lot in self.stock if lot.part == part]
                have = steps(lot.quantity for lot in here if lot.condition in worst.as_good)
                if asked > have and any(need.worst is worst for need in wanted):
                    found[part, worst] = asked - have
        return found

    def holding(self, offers: Iterable[Offer]) -> "Market":
        """Return the same market with these offers only."""
        return Market(self.needs, tuple(offers), self.suppliers, self.stock)


def steps(quantities: Iterable[Decimal]) -> int:
    """Return the sum of quantities in whole thousandths."""
    return int(sum(quantities, Decimal(0)) * STEPS)


def cents(amount: Decimal) -> int:
    """Return an amount of money in whole cents."""
    return int(amount * 100)


def _steps(title: str, quantity: Decimal) -> None:
    if exact(quantity) < 0 or quantity * STEPS != int(quantity * STEPS):
        raise MoneyError(f"“{title}”: {quantity} is not a quantity in whole thousandths.")


def _refuse_quantity(title: str, quantity: Decimal) -> None:
    _steps(title, quantity)
    if not quantity:
        raise MoneyError(f"“{title}”: the quantity is 0: say how many, or leave it out.")


def _refuse_money(title: str, amount: Decimal | None) -> None:
    if amount is not None and (exact(amount) < 0 or amount != round_money(amount)):
        raise MoneyError(f"“{title}”: {amount} is not a price in whole cents, zero or more.")


def _refuse_offer(one: Offer, suppliers: dict[str, Supplier]) -> None:
    if one.supplier not in suppliers:
        raise ValueError(f"the supplier {one.supplier} of offer {one.key} is not known")
    _refuse_money(one.title, one.price)
    for _, quantity in one.contents:
        _refuse_quantity(one.title, quantity)


def _refuse_terms(supplier: Supplier) -> None:
    for amount in (supplier.postage, supplier.free_postage_from, supplier.least_order):
        _refuse_money(supplier.name, amount)


def _refuse_twice(keys: list[str]) -> None:
    if len(set(keys)) < len(keys):
        raise ValueError(f"a key is given twice in {', '.join(sorted(keys))}")
