"""The parts basket: what to buy where, so that all needs are met, exactly at the least cost.

Single parts, packs and kits, each supplier's postage with its threshold and least order, own stock
first; cheapest, soonest, or cheapest by a day. `shopdesk.pricing.basket_model` finds the packs;
what they come to is reckoned here, in money.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

from shopdesk.pricing.basket_lack import BasketError, lacks, soonest_days, within
from shopdesk.pricing.basket_model import best_packs
from shopdesk.pricing.basket_shares import Leftover, Share, deal_out
from shopdesk.pricing.market import Market, Offer, Supplier
from shopdesk.pricing.totals import ZERO


class Postage(StrEnum):
    """Why postage is paid on an order, or not."""

    PAID = "paid"
    SAVED = "free from the sum that the goods reach"
    NONE = "the supplier asks none"


@dataclass(frozen=True, slots=True)
class Pick:
    """So many packs of an offer."""

    offer: Offer
    packs: int

    @property
    def cost(self) -> Decimal:
        """What the packs cost."""
        return self.offer.price * self.packs


@dataclass(frozen=True, slots=True)
class SupplierOrder:
    """What is bought from one supplier."""

    supplier: Supplier
    picks: tuple[Pick, ...]

    @property
    def goods(self) -> Decimal:
        """What the goods cost."""
        return sum((pick.cost for pick in self.picks), ZERO)

    @property
    def why(self) -> Postage:
        """Why postage is paid, or not."""
        free_from = self.supplier.free_postage_from
        if not self.supplier.postage:
            return Postage.NONE
        return Postage.PAID if free_from is None or self.goods < free_from else Postage.SAVED

    @property
    def postage(self) -> Decimal:
        """What its postage costs."""
        return self.supplier.postage if self.why is Postage.PAID else ZERO

    @property
    def total(self) -> Decimal:
        """Goods and postage."""
        return self.goods + self.postage

    @property
    def ready_days(self) -> int:
        """In how many days the last of it is here."""
        return max(pick.offer.lead_days for pick in self.picks)


@dataclass(frozen=True, slots=True)
class Basket:
    """What to buy, who gets what of it, and what is left over.

    ``without_kits`` is what the best basket of single parts and packs costs on the same terms; None
    if there is none.
    """

    orders: tuple[SupplierOrder, ...]
    shares: tuple[Share, ...]
    leftovers: tuple[Leftover, ...]
    without_kits: Decimal | None

    @property
    def picks(self) -> tuple[Pick, ...]:
        """All that is bought."""
        return tuple(pick for order in self.orders for pick in order.picks)

    @property
    def kits(self) -> tuple[Pick, ...]:
        """The kits among it."""
        return tuple(pick for pick in self.picks if pick.offer.is_kit)

    @property
    def total(self) -> Decimal:
        """What all of it costs, with postage."""
        return sum((order.total for order in self.orders), ZERO)

    @property
    def saved_by_kits(self) -> Decimal | None:
        """What the kits save against single parts; None if these can't be had."""
        return None if self.without_kits is None else self.without_kits - self.total

    @property
    def ready_days(self) -> int:
        """In how many days all is here; 0 if nothing is bought."""
        return max((order.ready_days for order in self.orders), default=0)

    @property
    def from_stock(self) -> tuple[Share, ...]:
        """What the needs get from the bin."""
        return tuple(share for share in self.shares if not share.offer)


def cheapest(market: Market, days: int | None = None) -> Basket:
    """Return the cheapest basket, of those that are here within so many days if they are given.

    Of several at one price: that of the fewest suppliers, then with the fewest leftovers, then the
    soonest, then the first by key.

    Raises:
        BasketError: not all can be had (by then); it names each need and why.
    """
    missing = lacks(market, days)
    if missing:
        raise BasketError(missing)
    timely = within(market, days)
    packs = best_packs(timely)
    orders = _orders(timely, packs)
    shares, leftovers = deal_out(timely, packs)
    return Basket(orders, shares, leftovers, _without_kits(timely, orders))


def soonest(market: Market) -> Basket:
    """Return the basket that is here soonest, and of those the cheapest.

    Raises:
        BasketError: not all can be had; it names each need and why.
    """
    return cheapest(market, soonest_days(market))


def _orders(market: Market, packs: Mapping[str, int]) -> tuple[SupplierOrder, ...]:
    picks = [Pick(one, packs[one.key]) for one in market.offers if packs.get(one.key)]
    orders = (
        SupplierOrder(
            supplier, tuple(pick for pick in picks if pick.offer.supplier == supplier.key)
        )
        for supplier in market.suppliers
    )
    return tuple(order for order in orders if order.picks)


def _without_kits(market: Market, orders: tuple[SupplierOrder, ...]) -> Decimal | None:
    if not any(pick.offer.is_kit for order in orders for pick in order.picks):
        return sum((order.total for order in orders), ZERO)
    singles = market.holding(one for one in market.offers if not one.is_kit)
    if lacks(singles):
        return None
    return sum((order.total for order in _orders(singles, best_packs(singles))), ZERO)
