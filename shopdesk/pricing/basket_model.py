"""Chooses packs so that all needs are met at the least cost: the whole-number program.

Minimise goods + postage over whole packs n, orders made y and postages paid p (yes or no), where

* what is bought of a part covers its need, condition by condition (``Market.demand``),
* packs come only with an order: n <= most * y,
* an order is no smaller than its supplier's least: goods >= least * y,
* postage is paid unless the goods reach its threshold: goods >= free from * (y - p).

All numbers in it are whole (cents, thousandths). Baskets of one price are told apart by weights too
small to outweigh a cent.
"""

from itertools import pairwise
from math import gcd

from shopdesk.pricing.market import Condition, Market, Offer, Supplier, cents, steps
from shopdesk.pricing.whole_numbers import RowRule, Terms, least

_FINEST = 10_000
"""Leftovers are told apart to one part in so many of all that could be bought."""


def best_packs(market: Market) -> dict[str, int]:
    """Return the packs, by offer, of the cheapest basket; it must be known that there is one.

    Of those of one price: the fewest orders, then the fewest leftovers, then the soonest.
    """
    model = _Model(market)
    best = least(model.goal(), model.most, model.rows)
    packs = {key: best[column] for key, column in model.bought_of.items()}
    return {key: bought for key, bought in packs.items() if bought}


class _Model:
    """The program: a column for each decision, a row for each rule."""

    def __init__(self, market: Market) -> None:
        self.market = market
        self.most: list[int] = []
        self.rows: list[RowRule] = []
        self._put_columns()
        for (part, worst), wanted in market.demand.items():
            self._cover(part, worst, wanted)
        for one in market.offers:
            self._come_with(one)
        for supplier in market.suppliers:
            self._hold_to_terms(supplier)

    def _put_columns(self) -> None:
        market = self.market
        most = {one.key: _most_packs(market, one) for one in market.offers}
        self.bought_of = {one.key: self._column(most[one.key]) for one in market.offers}
        self.order_of = {supplier.key: self._column(1) for supplier in market.suppliers}
        self.postage_of = {s.key: self._column(1) for s in market.suppliers if s.postage}
        leads = sorted({one.lead_days for one in market.offers})
        self.wait_of = {lead: self._column(1) for lead in leads[1:]}
        waits = list(self.wait_of.values())
        for sooner, later in pairwise(waits):
            self._row({sooner: 1, later: -1})

    def _cover(self, part: str, worst: Condition, wanted: int) -> None:
        good = (one for one in self.market.offers if one.condition in worst.as_good)
        self._row({self.bought_of[one.key]: _held(one, part) for one in good}, wanted)

    def _come_with(self, one: Offer) -> None:
        column = self.bought_of[one.key]
        self._row({self.order_of[one.supplier]: self.most[column], column: -1})
        if one.lead_days in self.wait_of:
            self._row({self.wait_of[one.lead_days]: self.most[column], column: -1})

    def _hold_to_terms(self, supplier: Supplier) -> None:
        own = (one for one in self.market.offers if one.supplier == supplier.key)
        goods = {self.bought_of[one.key]: cents(one.price) for one in own}
        order = self.order_of[supplier.key]
        if supplier.least_order:
            self._row({**goods, order: -cents(supplier.least_order)})
        if supplier.postage and supplier.free_postage_from is None:
            self._row({self.postage_of[supplier.key]: 1, order: -1})
        elif supplier.postage and supplier.free_postage_from is not None:
            free_from = cents(supplier.free_postage_from)
            self._row({**goods, self.postage_of[supplier.key]: free_from, order: -free_from})

    def goal(self) -> Terms:
        """What is to be as small as it can be: first cost, then orders, leftovers, waiting."""
        goal: dict[int, int] = {}
        weight = 1
        for terms in (self._waiting(), self._bought(), self._orders(), self._cost()):
            for column, factor in terms.items():
                goal[column] = goal.get(column, 0) + weight * factor
            weight *= 1 + sum(self.most[column] * factor for column, factor in terms.items())
        return goal

    def _cost(self) -> Terms:
        goods = {self.bought_of[one.key]: cents(one.price) for one in self.market.offers}
        postage = {
            self.postage_of[s.key]: cents(s.postage) for s in self.market.suppliers if s.postage
        }
        return goods | postage

    def _orders(self) -> Terms:
        return dict.fromkeys(self.order_of.values(), 1)

    def _bought(self) -> Terms:
        """How much is bought of everything: what of it is not needed is left over."""
        held = {self.bought_of[one.key]: _held(one) for one in self.market.offers}
        all_of_it = sum(self.most[column] * quantity for column, quantity in held.items())
        step = max(gcd(*held.values()), -(-all_of_it // _FINEST), 1)
        return {column: -(-quantity // step) for column, quantity in held.items()}

    def _waiting(self) -> Terms:
        """How many of the offers' lead times are waited through, the shortest not counted."""
        return dict.fromkeys(self.wait_of.values(), 1)

    def _column(self, most: int) -> int:
        """Make a decision that is a whole number from 0 to ``most``."""
        self.most.append(most)
        return len(self.most) - 1

    def _row(self, terms: Terms, at_least: int = 0) -> None:
        """Make a rule: the sum is ``at_least`` or more."""
        used = {column: factor for column, factor in terms.items() if factor}
        if used:
            self.rows.append((used, at_least))


def _held(one: Offer, part: str | None = None) -> int:
    """Return how many thousandths of a part (of all parts) a pack holds."""
    return steps(quantity for name, quantity in one.contents if part in (None, name))


def _most_packs(market: Market, one: Offer) -> int:
    """Return more packs than which no best basket holds.

    So many cover all the needs that the offer can serve, and then reach its supplier's sums.
    """
    cover = max((_packs_for(market, one, part) for part, _ in one.contents), default=0)
    supplier = market.supplier_of[one.supplier]
    sums = (supplier.least_order, supplier.free_postage_from if supplier.postage else None)
    reach = max((cents(amount) for amount in sums if amount is not None), default=0)
    price = cents(one.price)
    most = cover + (-(-reach // price) if price else 0)
    return most if one.most is None else min(most, one.most)


def _packs_for(market: Market, one: Offer, part: str) -> int:
    wanted = (
        quantity
        for (name, worst), quantity in market.demand.items()
        if name == part and one.condition in worst.as_good
    )
    return -(-max(wanted, default=0) // _held(one, part))
