"""The order of fixes against the published rule and against trying every order."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shopdesk.bench.fix_order import cheapest_order, cost_to_cure

# Kalagnanam and Henrion (1988): single fault, independent remedies: in order of cost ÷ probability;
# expected cost = Σ Cᵢ (1 − Σ_{j<i} pⱼ). All six orders of the worked example, computed by hand.
PROBABILITIES, COSTS = (0.5, 0.3, 0.2), (10.0, 2.0, 5.0)
WORKED = {
    (1, 0, 2): 10.0,
    (1, 2, 0): 10.5,
    (2, 1, 0): 11.6,
    (0, 1, 2): 12.0,
    (0, 2, 1): 13.1,
    (2, 0, 1): 13.6,
}


def expected_cost(
    probabilities: Sequence[float], costs: Sequence[float], order: Sequence[int]
) -> float:
    """The published sum: each fix is paid for while none before it has cured."""
    return math.fsum(
        costs[i] * (1 - math.fsum(probabilities[j] for j in order[:place]))
        for place, i in enumerate(order)
    )


@pytest.mark.parametrize(("order", "cost"), WORKED.items())
def test_expected_cost_of_each_order(order: tuple[int, ...], cost: float) -> None:
    assert expected_cost(PROBABILITIES, COSTS, order) == pytest.approx(cost)


def test_the_worked_example_goes_2_1_3() -> None:
    assert cheapest_order(PROBABILITIES, COSTS) == [1, 0, 2]


fixes = st.lists(
    st.tuples(st.integers(min_value=1, max_value=50), st.integers(min_value=1, max_value=300)),
    min_size=1,
    max_size=6,
)


@settings(max_examples=60)
@given(fixes)
def test_no_order_of_up_to_six_fixes_is_cheaper(pairs: list[tuple[int, int]]) -> None:
    whole = sum(weight for weight, _ in pairs)
    chances = [weight / whole for weight, _ in pairs]
    costs = [float(cost) for _, cost in pairs]
    least = min(
        expected_cost(chances, costs, order) for order in itertools.permutations(range(len(pairs)))
    )
    ours = expected_cost(chances, costs, cheapest_order(chances, costs))
    assert ours == pytest.approx(least)


def test_no_order_of_seven_fixes_is_cheaper() -> None:
    chances = [0.31, 0.22, 0.17, 0.12, 0.09, 0.06, 0.03]
    costs = [90.0, 35.0, 61.0, 8.0, 44.0, 12.0, 3.0]
    least = min(expected_cost(chances, costs, o) for o in itertools.permutations(range(7)))
    assert expected_cost(chances, costs, cheapest_order(chances, costs)) == pytest.approx(least)


@settings(max_examples=40)
@given(fixes.filter(lambda pairs: len(pairs) <= 5), st.integers(1, 300), st.integers(0, 60))
def test_no_mixture_of_guessing_and_searching_is_cheaper(
    pairs: list[tuple[int, int]], search: int, unknown: int
) -> None:
    """Heckerman, Breese and Rommelse (1995): every choice and order of fixes, then the way out."""
    whole = sum(weight for weight, _ in pairs) + unknown
    chances = [weight / whole for weight, _ in pairs]
    costs = [float(cost) for _, cost in pairs]
    least = float("inf")
    for tried in range(len(pairs) + 1):
        for order in itertools.permutations(range(len(pairs)), tried):
            remaining, spent = 1.0, 0.0
            for i in order:
                spent += costs[i] * remaining
                remaining -= chances[i]
            rest = sum(chances[i] * costs[i] for i in range(len(pairs)) if i not in order)
            least = min(least, spent + max(remaining, 0.0) * search + rest)
    assert cost_to_cure(chances, costs, search) == pytest.approx(least)
