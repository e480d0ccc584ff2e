from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopdesk.bench.fix_order import (
    cheapest_order,
    cost_to_cure,
    tried_before_search,
)


def test_a_sure_cause_costs_only_its_fix() -> None:
    assert cost_to_cure([1.0, 0.0], [40.0, 5.0], 100.0) == pytest.approx(40)


def test_nothing_known_costs_the_search() -> None:
    assert cost_to_cure([0.0, 0.0], [40.0, 5.0], 100.0) == pytest.approx(100)


def test_a_long_shot_is_not_guessed_at() -> None:
    # 4 in 10 are none of the two: searching first (50) is cheaper than 200 for a guess
    assert cost_to_cure([0.1, 0.5], [200.0, 200.0], 50.0) == pytest.approx(50 + 0.6 * 200)


def test_the_last_cause_left_needs_no_search() -> None:
    assert cost_to_cure([0.1, 0.9], [200.0, 200.0], 50.0) == pytest.approx(200 + 0.1 * 200)


def test_a_fix_that_costs_nothing_is_tried_first() -> None:
    assert cheapest_order([0.1, 0.9], [0.0, 1.0]) == [0, 1]


def test_equal_ratios_keep_their_order() -> None:
    assert cheapest_order([0.2, 0.4, 0.1], [2.0, 4.0, 1.0]) == [0, 1, 2]


weights = st.lists(
    st.tuples(st.floats(min_value=0.01, max_value=1), st.floats(min_value=0.5, max_value=300)),
    min_size=1,
    max_size=6,
)


@given(weights, st.floats(min_value=1, max_value=400))
def test_it_never_costs_more_than_searching_at_once_or_guessing_to_the_end(
    pairs: list[tuple[float, float]], search: float
) -> None:
    whole = sum(p for p, _ in pairs)
    chances, costs = [p / whole for p, _ in pairs], [c for _, c in pairs]
    best = cost_to_cure(chances, costs, search)
    at_once = search + sum(p * c for p, c in zip(chances, costs, strict=True))
    to_the_end = expected_cost_of(chances, costs, cheapest_order(chances, costs))
    assert best <= min(at_once, to_the_end) + 1e-6


def test_what_is_tried_before_the_search_is_the_way_of_the_least_cost() -> None:
    assert tried_before_search([0.5, 0.3, 0.2], [10.0, 2.0, 5.0], 100.0) == [1, 0, 2]
    assert tried_before_search([0.5, 0.3, 0.1], [10.0, 2.0, 50.0], 20.0) == [1, 0]
    assert tried_before_search([0.1, 0.5], [200.0, 200.0], 50.0) == []


def test_a_cause_that_cannot_be_is_never_tried() -> None:
    assert tried_before_search([0.0, 0.6], [0.0, 5.0], 100.0) == [1]


@given(weights, st.floats(min_value=1, max_value=300))
def test_the_way_that_is_named_costs_what_was_reckoned(
    pairs: list[tuple[float, float]], search: float
) -> None:
    whole = sum(weight for weight, _ in pairs) * 1.1
    chances = [weight / whole for weight, _ in pairs]
    costs = [cost for _, cost in pairs]
    tried = tried_before_search(chances, costs, search)
    rest = [i for i in range(len(pairs)) if i not in tried]
    remaining = 1 - sum(chances[i] for i in tried)
    named = expected_cost_of(chances, costs, tried)
    named += remaining * search + sum(chances[i] * costs[i] for i in rest)
    assert named == pytest.approx(cost_to_cure(chances, costs, search))


def expected_cost_of(chances: list[float], costs: list[float], order: list[int]) -> float:
    remaining, spent = 1.0, 0.0
    for i in order:
        spent += costs[i] * remaining
        remaining -= chances[i]
    return spent
