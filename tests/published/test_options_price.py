"""The expected price of a way out against a worked example and against simulation.

Worked example: Kalagnanam and Henrion, "A comparison of decision analysis and expert rules for
sequential diagnosis" (1988): p = .5 .3 .2, C = 10 2 5; expected cost of each of the six orders.
The simulation draws one fault and walks the bench's way to the end, 250,000 times, seeded.
"""

import math
import random
from collections.abc import Sequence
from decimal import Decimal

import pytest

from shopdesk.bench.fix_order import cheapest_order, cost_to_cure, tried_before_search
from shopdesk.pricing.options import GoingOn, Suspect, prospects

D = Decimal
DRAWS = 250_000
ERRORS = 3.5
WORKED = {"bac": 10.0, "bca": 10.5, "cba": 11.6, "abc": 12.0, "acb": 13.1, "cab": 13.6}
THREE = (Suspect("a", D("0.5"), D(10)), Suspect("b", D("0.3"), D(2)), Suspect("c", D("0.2"), D(5)))


@pytest.mark.parametrize(("order", "cost"), WORKED.items())
def test_the_worked_example_in_each_of_its_orders(order: str, cost: float) -> None:
    first, rest = order[0], order[1:]
    price_now = next(one.price for one in THREE if one.key == first)
    found = prospects(price_now, frozenset(first), THREE, GoingOn(tuple(rest)))
    assert found.expected == D(str(cost))


def test_the_order_of_the_bench_is_the_cheapest_of_them() -> None:
    order = cheapest_order([0.5, 0.3, 0.2], [10.0, 2.0, 5.0])
    assert "".join(THREE[i].key for i in order) == min(WORKED, key=WORKED.__getitem__)


def drawn(seed: int) -> tuple[list[Suspect], frozenset[str], GoingOn, Decimal]:
    """An invented ticket: 6 to 14 causes, a first fix, and the bench's best way on from it."""
    dice = random.Random(seed)
    weights = [dice.expovariate(1.0) for _ in range(dice.randint(6, 14))]
    shares = [D(f"{weight / sum(weights):.9f}") for weight in weights]
    shares[0] += 1 - sum(shares)
    suspects = [
        Suspect(str(n), share, D(dice.randint(400, 24_000)) / 100) for n, share in enumerate(shares)
    ]
    cures = frozenset(str(n) for n in range(dice.randint(1, 4)))
    search = D(dice.randint(4_000, 16_000)) / 100
    *known, _ = suspects
    left = [one for one in known if one.key not in cures]
    rest = float(sum(one.probability for one in suspects if one.key not in cures))
    tries = tried_before_search(
        [float(one.probability) / rest for one in left],
        [float(one.price) for one in left],
        float(search),
    )
    going_on = GoingOn(tuple(left[i].key for i in tries), search)
    return suspects, cures, going_on, D(dice.randint(2_000, 9_000)) / 100


def paid(
    cause: Suspect, suspects: Sequence[Suspect], cures: frozenset[str], going_on: GoingOn, now: int
) -> int:
    """Cents paid until the machine runs when `cause` is the one: fix after fix, then the search."""
    cents, prices = now, {one.key: int(one.price * 100) for one in suspects}
    if cause.key in cures:
        return cents
    for key in going_on.tries:
        cents += prices[key]
        if key == cause.key:
            return cents
    return cents + int(going_on.search * 100) + prices[cause.key]


@pytest.mark.parametrize("seed", range(8))
def test_the_mean_of_many_repairs_is_the_expected_price(seed: int) -> None:
    suspects, cures, going_on, price_now = drawn(seed)
    found = prospects(price_now, cures, suspects, going_on)
    bill = {one.key: paid(one, suspects, cures, going_on, int(price_now * 100)) for one in suspects}
    dice = random.Random(1000 + seed)
    keys, chances = [one.key for one in suspects], [float(one.probability) for one in suspects]
    draws = dice.choices(keys, chances, k=DRAWS)
    bills = [bill[key] for key in draws]
    mean = math.fsum(bills) / DRAWS
    error = math.sqrt(math.fsum((one - mean) ** 2 for one in bills) / (DRAWS - 1) / DRAWS)
    assert abs(mean - float(found.expected) * 100) <= ERRORS * error + 0.5
    cured = sum(key in cures for key in draws) / DRAWS
    chance = float(found.chance)
    assert abs(cured - chance) <= ERRORS * math.sqrt(chance * (1 - chance) / DRAWS)
    assert max(bills) <= found.worst * 100
    assert found.worst * 100 == max(bill.values())


@pytest.mark.parametrize("seed", range(8))
def test_the_way_on_is_the_one_that_the_bench_reckons_with(seed: int) -> None:
    """With no first fix, the expected price is the bench's own expected cost to cure."""
    suspects, _, _, _ = drawn(seed)
    *known, other = suspects
    search = D("80.00")
    chances, costs = [float(one.probability) for one in known], [float(one.price) for one in known]
    tries = tried_before_search(chances, costs, float(search))
    found = prospects(
        D(0), frozenset(), suspects, GoingOn(tuple(known[i].key for i in tries), search)
    )
    bench = cost_to_cure(chances, costs, float(search)) + float(other.probability * other.price)
    assert float(found.expected) == pytest.approx(bench, abs=0.006)
