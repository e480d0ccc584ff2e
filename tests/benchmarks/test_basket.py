"""How long a basket of 15 needs, 80 offers and 10 suppliers takes, printed for a dozen shops."""

from collections.abc import Callable
from random import Random
from statistics import median
from time import process_time

from shopdesk.pricing.basket import Basket, cheapest, soonest
from shopdesk.pricing.market import Market
from tests.published.test_basket_oracles import large_market

SHOPS = 12
NEEDS, OFFERS, SUPPLIERS = 15, 80, 10


def seconds(find: Callable[[Market], Basket], market: Market) -> tuple[float, Basket]:
    """Processor time: what else runs on the machine does not count."""
    start = process_time()
    basket = find(market)
    return process_time() - start, basket


def test_the_cheapest_and_the_soonest_basket() -> None:
    markets = [large_market(Random(seed), NEEDS, OFFERS, SUPPLIERS) for seed in range(SHOPS)]
    cheapest(markets[0])
    best = [seconds(cheapest, market) for market in markets]
    fast = [seconds(soonest, market) for market in markets]
    for (_, cheap), (_, quick) in zip(best, fast, strict=True):
        assert cheap.total <= quick.total
        assert quick.ready_days <= cheap.ready_days
    for name, found in (("cheapest", best), ("soonest", fast)):
        times = [took * 1e3 for took, _ in found]
        print(f"\n{name} basket: median {median(times):.0f} ms, worst {max(times):.0f} ms")
