"""Where a reading is heading over the years, and when it will reach its limit at this pace.

A straight line by least squares through the readings of one check. Two readings make no trend, and
a slope within twice its standard error is said to be too scattered to go by.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from fractions import Fraction
from itertools import pairwise

LEAST = 3
"""Fewer readings make no trend."""
DAYS_IN_A_YEAR = Fraction("365.25")
FARTHEST = timedelta(days=3653)
"""A crossing farther off than ten years is not spoken of."""
SURE = 2
"""How many standard errors the slope must be away from level. Common practice in statistics."""


@dataclass(frozen=True, slots=True)
class Point:
    """One reading: the day, and its value in the check's own unit."""

    on: date
    value: Fraction


@dataclass(frozen=True, slots=True)
class Trend:
    """A fitted line: ``slope`` in units a day, ``error`` its standard error, from ``start`` on."""

    start: date
    last: date
    at_start: Fraction
    slope: Fraction
    error: float
    pace: timedelta
    """The usual time between two readings."""

    @property
    def per_year(self) -> Fraction:
        """How much the reading changes in a year."""
        return self.slope * DAYS_IN_A_YEAR

    @property
    def clear(self) -> bool:
        """Whether the readings lie so close to the line that it is worth going by."""
        return self.slope != 0 and abs(float(self.slope)) >= SURE * self.error

    def at(self, day: date) -> Fraction:
        """The value on the line on that day."""
        return self.at_start + self.slope * (day - self.start).days

    def crosses(self, limit: Fraction) -> date | None:
        """Return the first day after the last reading on which the line has reached ``limit``.

        None when it has reached it already, goes away from it, takes over ten years, or is not
        ``clear``.
        """
        left = limit - self.at(self.last)
        if not self.clear or left == 0 or (left > 0) != (self.slope > 0):
            return None
        days = math.ceil(left / self.slope)
        return self.last + timedelta(days=days) if days <= FARTHEST.days else None

    def visit_crossing(self, limit: Fraction) -> int | None:
        """Return at which visit from now the line has reached ``limit``, 1 for the next one."""
        day = self.crosses(limit)
        if day is None or not self.pace:
            return None
        return math.ceil((day - self.last) / self.pace)


def fit(points: Sequence[Point]) -> Trend | None:
    """Return the line through the points, or None with fewer than ``LEAST`` different days.

    Several readings of one day count as one, at their mean.
    """
    daily = _by_day(points)
    if len(daily) < LEAST:
        return None
    start = daily[0].on
    days = [Fraction((point.on - start).days) for point in daily]
    values = [point.value for point in daily]
    mean_day, mean_value = _mean(days), _mean(values)
    spread = sum(((day - mean_day) ** 2 for day in days), Fraction(0))
    both = zip(days, values, strict=True)
    together = sum(((day - mean_day) * (value - mean_value) for day, value in both), Fraction(0))
    slope = together / spread
    at_start = mean_value - slope * mean_day
    off = sum(
        (value - at_start - slope * day) ** 2 for day, value in zip(days, values, strict=True)
    )
    error = math.sqrt(off / (len(days) - 2) / spread)
    gaps = [later.on - earlier.on for earlier, later in pairwise(daily)]
    return Trend(start, daily[-1].on, at_start, slope, error, sum(gaps, timedelta()) / len(gaps))


def _by_day(points: Sequence[Point]) -> list[Point]:
    days: dict[date, list[Fraction]] = {}
    for point in points:
        days.setdefault(point.on, []).append(point.value)
    return [Point(on, _mean(values)) for on, values in sorted(days.items())]


def _mean(values: Sequence[Fraction]) -> Fraction:
    return sum(values, Fraction(0)) / len(values)
