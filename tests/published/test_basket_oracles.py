"""The cheapest basket against two independent judges: every basket there is, and a second solver.

Small cases: all baskets are enumerated. Larger ones: PuLP with the CBC solver of the COIN-OR
foundation (https://www.coin-or.org), given a program written another way: it says which need gets
what from which offer, with each order's postage chosen between two kinds of order.
"""

from collections import Counter
from collections.abc import Iterator
from decimal import Decimal
from itertools import product
from math import ceil
from random import Random

import pulp
import pytest

from shopdesk.pricing.basket import Basket, Postage, cheapest, soonest
from shopdesk.pricing.basket_lack import BasketError
from shopdesk.pricing.market import Condition, Market, Need, Offer, Stock, Supplier

pytestmark = pytest.mark.filterwarnings("ignore::DeprecationWarning:pulp")
SMALL_CASES = 240
LARGE_CASES = 60
PIECES = (Decimal("0.5"), Decimal(1), Decimal(1), Decimal(2))
Packs = tuple[int, ...]
Rank = tuple[Decimal, int, Decimal, int]
"""Total, orders, leftovers, days: what comes first in choosing comes first in it."""


def chance(random: Random, odds: float) -> bool:
    return random.random() < odds


def money(random: Random, low: int, high: int) -> Decimal:
    return Decimal(random.randint(low, high)) / 100


def small_market(random: Random) -> Market:
    """Few needs, few offers (of one as many packs as wanted), and sums that some of them reach."""
    parts = [f"p{at}" for at in range(random.randint(1, 3))]
    suppliers = tuple(
        Supplier(
            key,
            key,
            money(random, 0, 900) if chance(random, 0.8) else Decimal(0),
            money(random, 800, 4000) if chance(random, 0.6) else None,
            money(random, 300, 2000) if chance(random, 0.4) else None,
        )
        for key in ("north", "ridge")
    )
    needs = tuple(
        Need(f"n{at}", random.choice(parts), "A part", random.choice(PIECES), condition(random))
        for at in range(random.randint(1, 3))
    )
    offers = tuple(
        Offer(
            f"o{at}",
            random.choice(suppliers).key,
            "An offer",
            money(random, 700, 3000),
            tuple(
                (part, random.choice(PIECES)) for part in random.sample(parts, lots(random, parts))
            ),
            random.randint(0, 4),
            condition(random),
            random.randint(1, 3) if at or chance(random, 0.3) else None,
        )
        for at in range(random.randint(1, 5))
    )
    stock = tuple(
        Stock(random.choice(parts), random.choice(PIECES), condition(random))
        for _ in range(random.randint(0, 1))
    )
    return Market(needs, offers, suppliers, stock)


def condition(random: Random) -> Condition:
    found: Condition = random.choice([Condition.NEW, Condition.NEW, *Condition])
    return found


def lots(random: Random, parts: list[str]) -> int:
    return 1 if chance(random, 0.6) else random.randint(1, len(parts))


def all_baskets(market: Market) -> Iterator[Packs]:
    """Every count of packs that can be of use.

    More of one offer than all needs together and the largest sum any supplier names costs more.
    """
    sums = [s.least_order or s.free_postage_from or Decimal(0) for s in market.suppliers]
    sums += [s.free_postage_from or Decimal(0) for s in market.suppliers]
    wanted = sum((need.quantity for need in market.needs), Decimal(0))
    tops = [
        ceil(wanted / min(quantity for _, quantity in one.contents)) + ceil(max(sums) / one.price)
        for one in market.offers
    ]
    counts = [
        range((top if one.most is None else one.most) + 1)
        for one, top in zip(market.offers, tops, strict=True)
    ]
    return product(*counts)


def serves(market: Market, packs: Packs) -> bool:
    """Whether all needs get enough: the strictest first, each from the worst that will do."""
    pool: Counter[tuple[str, Condition]] = Counter()
    for lot in market.stock:
        pool[lot.part, lot.condition] += int(lot.quantity * 1000)
    for one, count in zip(market.offers, packs, strict=True):
        for part, quantity in one.contents:
            pool[part, one.condition] += int(quantity * 1000) * count
    order = list(Condition)
    for need in sorted(market.needs, key=lambda need: order.index(need.worst)):
        wanted = int(need.quantity * 1000)
        for worst in order[order.index(need.worst) :: -1]:
            given = min(wanted, pool[need.part, worst])
            pool[need.part, worst] -= given
            wanted -= given
        if wanted:
            return False
    return True


def bill(market: Market, packs: Packs) -> Decimal | None:
    """What the packs cost with postage; None where an order is under its supplier's least."""
    total = Decimal(0)
    for supplier in market.suppliers:
        goods = Decimal(0)
        ordered = False
        for one, count in zip(market.offers, packs, strict=True):
            if one.supplier == supplier.key and count:
                goods += one.price * count
                ordered = True
        if not ordered:
            continue
        if supplier.least_order is not None and goods < supplier.least_order:
            return None
        free = supplier.free_postage_from is not None and goods >= supplier.free_postage_from
        total += goods if free else goods + supplier.postage
    return total


def rank(market: Market, packs: Packs) -> Rank | None:
    total = bill(market, packs)
    if total is None or not serves(market, packs):
        return None
    used = [(one, count) for one, count in zip(market.offers, packs, strict=True) if count]
    orders = len({one.supplier for one, _ in used})
    amount = sum(
        (quantity * count for one, count in used for _, quantity in one.contents), Decimal(0)
    )
    return total, orders, amount, max((one.lead_days for one, _ in used), default=0)


def rank_of(basket: Basket) -> Rank:
    amount = sum(
        (q * pick.packs for pick in basket.picks for _, q in pick.offer.contents), Decimal(0)
    )
    return basket.total, len(basket.orders), amount, basket.ready_days


@pytest.mark.parametrize("seed", range(SMALL_CASES))
def test_against_every_basket_there_is(seed: int) -> None:
    market = small_market(Random(seed))
    ranks = [found for packs in all_baskets(market) if (found := rank(market, packs)) is not None]
    if not ranks:
        with pytest.raises(BasketError):
            cheapest(market)
        with pytest.raises(BasketError):
            soonest(market)
        return
    assert rank_of(cheapest(market)) == min(ranks)
    best = min(ranks, key=lambda one: (one[3], *one[:3]))
    assert rank_of(soonest(market)) == best
    for days in range(5):
        timely = [one for one in ranks if one[3] <= days]
        if timely:
            assert rank_of(cheapest(market, days)) == min(timely)
        else:
            with pytest.raises(BasketError):
                cheapest(market, days)


def test_the_small_cases_hold_all_that_matters() -> None:
    markets = [small_market(Random(seed)) for seed in range(SMALL_CASES)]
    possible = [market for market in markets if _possible(market)]
    baskets = [cheapest(market) for market in possible]
    assert len(possible) > 100
    assert len(markets) - len(possible) > 30
    assert sum(bool(basket.kits) for basket in baskets) > 20
    assert sum(bool(basket.leftovers) for basket in baskets) > 20
    assert sum(bool(basket.from_stock) for basket in baskets) > 10
    assert sum(len(basket.orders) > 1 for basket in baskets) > 3
    assert {order.why for basket in baskets for order in basket.orders} == set(Postage)


def _possible(market: Market) -> bool:
    try:
        cheapest(market)
    except BasketError:
        return False
    return True


def large_market(random: Random, needs: int, offers: int, suppliers: int) -> Market:
    """A shop's week: kits, packs and single parts, and terms of all kinds."""
    prices = [random.randint(150, 4000) for _ in range(needs)]
    terms = tuple(
        Supplier(
            f"s{at}",
            f"Supplier {at}",
            money(random, 300, 1200),
            Decimal(random.choice((30, 60, 99))) if chance(random, 0.7) else None,
            Decimal(random.choice((10, 25))) if chance(random, 0.3) else None,
        )
        for at in range(suppliers)
    )
    wanted = tuple(
        Need(f"n{at}", f"p{at}", f"Part {at}", Decimal(random.randint(1, 3))) for at in range(needs)
    )
    made = []
    for at in range(offers):
        kit = chance(random, 0.25)
        size = random.randint(2, min(6, needs)) if kit else 1
        held = random.sample(range(needs), size) if kit else [at % needs]
        pack = 1 if kit else random.choice((1, 1, 1, 2, 5))
        price = sum(prices[part] for part in held) * pack
        cost = Decimal(int(price * random.uniform(0.5, 0.95) if kit else price)) / 100
        contents = tuple((f"p{part}", Decimal(pack)) for part in held)
        days = random.randint(0, 10)
        made.append(Offer(f"o{at:03}", random.choice(terms).key, "Offer", cost, contents, days))
    return Market(wanted, tuple(made), terms)


def by_pulp(market: Market) -> Decimal:
    """The least cost by PuLP and CBC: cents and thousandths, orders with and without postage."""
    problem = pulp.LpProblem("basket", pulp.LpMinimize)
    packs = {one.key: pulp.LpVariable(f"x{one.key}", 0, None, "Integer") for one in market.offers}
    given = {
        (need.key, one.key): pulp.LpVariable(f"g{need.key}{one.key}", 0)
        for need in market.needs
        for one in market.offers
        if need.part in dict(one.contents)
    }
    for need in market.needs:
        own = [share for (key, _), share in given.items() if key == need.key]
        problem += pulp.lpSum(own) == int(need.quantity)
    for (need_key, offer_key), share in given.items():
        one = next(one for one in market.offers if one.key == offer_key)
        part = next(need.part for need in market.needs if need.key == need_key)
        problem += share <= int(dict(one.contents)[part]) * packs[offer_key]
    cost = pulp.lpSum(int(one.price * 100) * packs[one.key] for one in market.offers)
    for supplier in market.suppliers:
        own_offers = [one for one in market.offers if one.supplier == supplier.key]
        goods = pulp.lpSum(int(one.price * 100) * packs[one.key] for one in own_offers)
        paid = pulp.LpVariable(f"paid{supplier.key}", cat="Binary")
        free = pulp.LpVariable(f"free{supplier.key}", cat="Binary")
        problem += paid + free <= 1
        for one in own_offers:
            problem += packs[one.key] <= 10_000 * (paid + free)
        least = int((supplier.least_order or 0) * 100)
        problem += goods >= least * (paid + free)
        if supplier.free_postage_from is None:
            problem += free == 0
        else:
            problem += goods >= int(supplier.free_postage_from * 100) * free
        cost += int(supplier.postage * 100) * paid
    problem += cost
    problem.solve(pulp.PULP_CBC_CMD(msg=False, gapRel=0, gapAbs=0, threads=1))
    assert pulp.LpStatus[problem.status] == "Optimal"
    return Decimal(round(pulp.value(problem.objective))) / 100


@pytest.mark.parametrize("seed", range(LARGE_CASES))
def test_against_a_second_solver(seed: int) -> None:
    random = Random(1000 + seed)
    market = large_market(random, random.randint(4, 8), random.randint(12, 28), 4)
    assert cheapest(market).total == by_pulp(market)
