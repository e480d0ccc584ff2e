"""Median and 90th percentile against the statistics module of the standard library."""

from decimal import Decimal
from random import Random
from statistics import median, quantiles

import pytest

from shopdesk.job.reports.middle import percentile


@pytest.mark.parametrize("seed", range(60))
def test_percentiles_are_those_of_statistics_quantiles(seed: int) -> None:
    """Python standard library: statistics.quantiles(method="inclusive") and statistics.median.

    The inclusive method is definition 7 of Hyndman and Fan, "Sample quantiles in statistical
    packages" (The American Statistician 50, 1996), which spreadsheets use as well.
    """
    chance = Random(seed)
    values = sorted(Decimal(chance.randint(0, 900)) / 10 for _ in range(chance.randint(2, 40)))
    assert percentile(values, Decimal("0.5")) == median(values)
    ninth = quantiles(values, n=10, method="inclusive")[8]
    assert abs(percentile(values, Decimal("0.9")) - ninth) < Decimal("1e-20")
