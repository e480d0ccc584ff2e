"""In which order to try fixes when one fault is there: the cheapest way on average.

Kalagnanam and Henrion, "A comparison of decision analysis and expert rules for sequential
diagnosis" (1988): with a single fault and independent remedies, go by probability over cost,
highest first. When no more fix is worth guessing at, the cause is searched for until it is certain;
that takes the place of the service call in Heckerman, Breese and Rommelse, "Decision-theoretic
troubleshooting" (1995).
"""

from __future__ import annotations

import math
import operator
from collections.abc import Sequence


def cheapest_order(probabilities: Sequence[float], costs: Sequence[float]) -> list[int]:
    """Return the indices of the fixes in the order with the least expected cost."""
    ratios = [p / cost if cost else math.inf for p, cost in zip(probabilities, costs, strict=True)]
    return sorted(range(len(costs)), key=ratios.__getitem__, reverse=True)


def cost_to_cure(probabilities: Sequence[float], costs: Sequence[float], search: float) -> float:
    """Return the expected cost of the best way to a cure: fixes in order, then perhaps the search.

    `search` is the cost of finding the cause for certain, after which only its own fix is paid. The
    probabilities may sum to less than 1, the rest being what only the search finds; mending that
    is left out of the sum. Every point of leaving the order for the search is tried.
    """
    remaining = 1.0
    spent = 0.0
    unspent: float = sum(map(operator.mul, probabilities, costs))
    best = search + unspent
    for i in cheapest_order(probabilities, costs):
        spent += costs[i] * remaining
        remaining -= probabilities[i]
        unspent -= probabilities[i] * costs[i]
        with_search = spent + remaining * search + unspent
        if with_search < best:
            best = with_search
    return best


def tried_before_search(
    probabilities: Sequence[float], costs: Sequence[float], search: float
) -> list[int]:
    """Return the fixes that `cost_to_cure` tries before it leaves the order for the search.

    Those that can't be are left out.
    """
    remaining = 1.0
    spent = 0.0
    unspent: float = sum(map(operator.mul, probabilities, costs))
    best, tried = search + unspent, 0
    order = [i for i in cheapest_order(probabilities, costs) if probabilities[i] > 0]
    for count, i in enumerate(order, 1):
        spent += costs[i] * remaining
        remaining -= probabilities[i]
        unspent -= probabilities[i] * costs[i]
        with_search = spent + remaining * search + unspent
        if with_search < best:
            best, tried = with_search, count
    return order[:tried]
