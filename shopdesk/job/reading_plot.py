"""Where a reading's points, limits and marks stand on a picture, for the window and for paper."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal

from shopdesk.job.readings_over_time import ReadingCourse, ReadingPoint

_TICKS = 4
_ROOM = Decimal("0.12")
_YEAR = timedelta(days=366)
_AHEAD = timedelta(days=4 * 366)
"""A crossing farther off than that is told in words only."""


@dataclass(frozen=True, slots=True)
class Spot:
    """A point: ``x`` and ``y`` run from 0 at the left and at the bottom to 1."""

    x: float
    y: float
    point: ReadingPoint


@dataclass(frozen=True, slots=True)
class Mark:
    """A place along an axis, or the height of a limit, with its words."""

    at: float
    words: str


@dataclass(frozen=True, slots=True)
class Plot:
    """A reading over the years, drawn."""

    spots: tuple[Spot, ...]
    limits: tuple[Mark, ...]
    """Heights of today's bounds."""
    heights: tuple[Mark, ...]
    days: tuple[Mark, ...]
    ahead: tuple[float, float] | None
    """Where the line will have reached its limit, if that is soon enough to show."""


def plot_of(course: ReadingCourse) -> Plot:
    """Return where everything stands; a single reading stands in the middle."""
    ahead = _ahead(course)
    first, last = _days(course, ahead)
    low, high = _heights(course)

    def across(day: date) -> float:
        return (day - first).days / (last - first).days

    def up(value: Decimal) -> float:
        return float((value - low) / (high - low))

    crossed = _crossed(course)
    return Plot(
        spots=tuple(Spot(across(one.on), up(one.value), one) for one in course.points),
        limits=tuple(Mark(up(bound), f"{bound:,f}") for bound in _bounds(course)),
        heights=tuple(Mark(up(value), f"{value:,f}") for value in _round_values(low, high)),
        days=tuple(Mark(across(day), str(day.year)) for day in _new_years(first, last)),
        ahead=(across(ahead), up(crossed)) if ahead and crossed is not None else None,
    )


def _crossed(course: ReadingCourse) -> Decimal | None:
    """Return the bound that the readings are heading for."""
    falling = course.points[-1].value < course.points[0].value
    return course.low if falling else course.high


def _ahead(course: ReadingCourse) -> date | None:
    day = course.crosses_on
    return day if day and day - course.points[-1].on <= _AHEAD else None


def _days(course: ReadingCourse, ahead: date | None) -> tuple[date, date]:
    days = [point.on for point in course.points]
    first, last = min(days), max([*days, *([ahead] if ahead else [])])
    room = max((last - first) / 12, timedelta(days=1))
    if last - first < _YEAR:
        room = max(room, (_YEAR - (last - first)) / 2)
    return first - room, last + room


def _bounds(course: ReadingCourse) -> list[Decimal]:
    return [bound for bound in (course.low, course.high) if bound is not None]


def _heights(course: ReadingCourse) -> tuple[Decimal, Decimal]:
    values = [point.value for point in course.points] + _bounds(course)
    least, most = min(values), max(values)
    room = (most - least) * _ROOM or abs(most) * _ROOM or Decimal(1)
    return least - room, most + room


def _round_values(low: Decimal, high: Decimal) -> Iterator[Decimal]:
    """Yield up to five round values between two heights."""
    step = _round_step((high - low) / _TICKS)
    value = (low / step).to_integral_value(ROUND_CEILING) * step
    while value <= high:
        yield value.normalize() if value else Decimal(0)
        value += step


def _round_step(least: Decimal) -> Decimal:
    ten = Decimal(1).scaleb(int(least.log10().to_integral_value(ROUND_FLOOR)))
    return next(step * ten for step in (1, 2, 5, 10) if step * ten >= least)


def _new_years(first: date, last: date) -> Iterator[date]:
    years = range(first.year + 1, last.year + 1)
    every = max(1, len(years) // 6 + (len(years) % 6 > 0))
    for year in years[::every]:
        yield date(year, 1, 1)
