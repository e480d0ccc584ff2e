"""What the job hands out about buying parts: what is needed, and three baskets to choose from.

Days are in the shop's zone; money and quantities are ``Decimal``.
"""

from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal

from shopdesk.job.buying.market import Shopping
from shopdesk.pricing.basket import Basket

CHEAPEST, SOONEST, BY_DAY = AIMS = ("cheapest", "soonest", "by the day")
"""What a basket is chosen for."""


@dataclass(frozen=True, slots=True)
class NeedView:
    """A part that is needed: for a line of a ticket, or (no line) for the bin."""

    line_id: int | None
    ticket_id: int | None
    tag: str
    title: str
    number: str
    condition: str
    quantity: Decimal
    where: str
    """Where it is, in words: ``to order``, ``on order P3, here Thu 3 Dec``, ``in the bin``."""
    to_order: bool
    part_id: int | None = None
    """Of the catalogue's part, if it is known."""
    trouble: str = ""
    """Why nobody can be asked for it, and what to do."""


@dataclass(frozen=True, slots=True)
class PurchaseView:
    """What a basket buys from one supplier."""

    supplier: str
    words: str
    """``Northbank: 3 parts, $41.20 + $8.50 postage (free from $60.00), here Thu 3 Dec``"""
    items: tuple[str, ...]
    total: Decimal


@dataclass(frozen=True, slots=True)
class BasketView:
    """One way to buy all that is needed; ``trouble`` says why there is none."""

    aim: str
    title: str
    total: Decimal | None
    ready_on: date | None
    ready: str
    """``all here Thu 3 Dec``"""
    purchases: tuple[PurchaseView, ...]
    notes: tuple[str, ...]
    """What comes from the bin, what kits save, what is left over."""
    question: str
    """What is asked once before it is ordered."""
    trouble: str = ""
    same_as: str = ""
    """The title of an earlier one that buys the same."""
    basket: Basket | None = field(default=None, repr=False, compare=False)


@dataclass(frozen=True, slots=True)
class BuyingView:
    """What is needed and how it can be had; ``order_basket`` takes it back with the aim chosen."""

    ticket_id: int | None
    """None: for all tickets that wait, and for the bin."""
    by: date | None
    needs: tuple[NeedView, ...]
    baskets: tuple[BasketView, ...]
    """Cheapest, soonest, by the day; none where nothing is to be ordered."""
    empty: str
    """What to do where nothing is to be ordered."""
    refused: str
    """Why nothing may be ordered yet, or empty."""
    shopping: Shopping = field(repr=False, compare=False)

    @property
    def lacking(self) -> tuple[str, ...]:
        """What nobody can be asked for, and what to do about it."""
        return tuple(need.trouble for need in self.needs if need.trouble)

    def basket(self, aim: str) -> BasketView | None:
        """Return the basket of that aim."""
        return next((one for one in self.baskets if one.aim == aim), None)


@dataclass(frozen=True, slots=True)
class Ordered:
    """What came of ordering a basket."""

    numbers: tuple[str, ...]
    """Of the orders."""
    words: str
