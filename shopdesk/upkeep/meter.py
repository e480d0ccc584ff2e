"""What an hour meter's readings tell: how hard a machine is used, and what it read on a day."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import ROUND_HALF_UP, Decimal
from itertools import pairwise

from shopdesk.upkeep.use import Season, UseProfile

LEAST_BETWEEN = timedelta(days=28)
"""Readings closer together say little of the pace. Common practice, no published source."""


@dataclass(frozen=True, slots=True)
class MeterPoint:
    """What the meter read on a day."""

    on: date
    hours: Decimal


def since_new_meter(points: Sequence[MeterPoint]) -> tuple[MeterPoint, ...]:
    """Return the readings in the order of their days, from the last time the meter was changed.

    A meter that reads less than before is another one.
    """
    ordered = sorted(points, key=lambda point: point.on)
    first = 0
    for place, (earlier, later) in enumerate(pairwise(ordered), 1):
        if later.hours < earlier.hours:
            first = place
    return tuple(ordered[first:])


def pace(points: Sequence[MeterPoint], season: Season | None) -> Decimal | None:
    """Return the hours a week, in season, that the first and last reading tell, to a tenth.

    None with fewer than two readings of one meter, less than four weeks apart, or all of them out
    of season.
    """
    known = since_new_meter(points)
    if len(known) < 2 or known[-1].on - known[0].on < LEAST_BETWEEN:
        return None
    months = (season.first_month, season.last_month) if season else (None, None)
    one_a_week = UseProfile(Decimal(7), *months)
    days = one_a_week.hours_between(known[0].on, known[-1].on)
    if not days:
        return None
    hours = known[-1].hours - known[0].hours
    return (hours * 7 / days).quantize(Decimal("0.1"), ROUND_HALF_UP)


def reading_on(points: Sequence[MeterPoint], day: date) -> Decimal | None:
    """Return what the meter read on a day: as read then, or between the readings around it.

    None before the first reading and after the last, and before the meter was changed.
    """
    known = since_new_meter(points)
    for point in known:
        if point.on == day:
            return point.hours
    for earlier, later in pairwise(known):
        if earlier.on < day < later.on:
            share = Decimal((day - earlier.on).days) / (later.on - earlier.on).days
            between = earlier.hours + (later.hours - earlier.hours) * share
            return between.quantize(Decimal("0.1"), ROUND_HALF_UP)
    return None
