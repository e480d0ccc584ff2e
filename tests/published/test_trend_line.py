"""The trend of a reading against the statistics module of the standard library."""

from datetime import date, timedelta
from fractions import Fraction
from random import Random
from statistics import linear_regression

import pytest

from shopdesk.bench.trend import Point, fit


@pytest.mark.parametrize("seed", range(40))
def test_the_line_is_that_of_linear_regression(seed: int) -> None:
    """Python standard library, statistics.linear_regression: ordinary least squares."""
    chance = Random(seed)
    start = date(2026, 3, 2)
    days = sorted(chance.sample(range(2000), chance.randint(3, 12)))
    values = [chance.randint(600, 1600) / 10 for _ in days]
    trend = fit(
        [
            Point(start + timedelta(days=day), Fraction(value))
            for day, value in zip(days, values, strict=True)
        ]
    )
    slope, intercept = linear_regression([day - days[0] for day in days], values)
    assert trend is not None
    assert float(trend.slope) == pytest.approx(slope, rel=1e-9, abs=1e-12)
    assert float(trend.at_start) == pytest.approx(intercept, rel=1e-9)


def test_the_standard_error_of_a_worked_example() -> None:
    """By the textbook formula s / sqrt(Sxx), on the points (0, 1) (1, 3) (2, 2) (3, 5).

    Slope 1.1, residual sum of squares 2.7, s² = 1.35, Sxx = 5: standard error 0.519615.
    """
    start = date(2026, 1, 1)
    trend = fit(
        [
            Point(start + timedelta(days=day), Fraction(value))
            for day, value in enumerate((1, 3, 2, 5))
        ]
    )
    assert trend is not None
    assert trend.slope == Fraction("1.1")
    assert trend.error == pytest.approx(0.519615, abs=1e-6)
