"""In which order to try fixes when one fault is there: the cheapest way on average.

Kalagnanam and Henrion, "A comparison of decision analysis and expert rules for sequential diagnosis"
(1988): with a single fault and independent remedies, go by probability over cost, highest first.
The way out when no more fix is worth its cost is the service call of Heckerman, Breese and Rommelse,
"Decision-theoretic troubleshooting" (1995); at our bench it is taking the machine further apart.
"""

from __future__ import annotations

import math
from collections.abc import Sequence


def cheapest_order(probabilities: Sequence[float], costs: Sequence[float]) -> list[int]:
    """Return the indices of the fixes in the order with the least expected cost."""
    return sorted(
        range(len(costs)),
        key=lambda i: (-probabilities[i] / costs[i] if costs[i] else -math.inf, i),
    )


def expected_cost(
    probabilities: Sequence[float], costs: Sequence[float], order: Sequence[int]
) -> float:
    """Return the mean cost until it is cured: each fix is paid for while none before it has cured."""
    remaining = math.fsum(probabilities)
    total = 0.0
    for i in order:
        total += costs[i] * remaining
        remaining -= probabilities[i]
    return total


def cost_to_cure(
    probabilities: Sequence[float], costs: Sequence[float], way_out: float
) -> float:
    """Return the expected cost of the best order, leaving for the `way_out` when that is cheaper.

    `way_out` is the cost of finding and mending whatever it is; `probabilities` may sum to less
    than 1, the rest being what only the way out cures.
    """
    remaining = 1.0
    total = 0.0
    for i in cheapest_order(probabilities, costs):
        if probabilities[i] * way_out <= costs[i] * remaining:
            break
        total += costs[i] * remaining
        remaining -= probabilities[i]
    return total + max(remaining, 0.0) * way_out
