"""How an owner uses a machine: hours a week, in which months, how hard."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta
from decimal import ROUND_CEILING, Decimal
from itertools import takewhile

from dateutil.rrule import YEARLY, rrule

from shopdesk.dates import MONTHS

_HOURS_IN_WEEK = 168
_MOST_METER_HOURS = 100_000
_OVER_A_YEAR = timedelta(days=367)


class UseError(ValueError):
    """A use profile that can't be; its text says what to type instead."""


@dataclass(frozen=True, slots=True)
class Season:
    """The months in which a machine is at work, first and last included; it may run over New Year.

    Raises UseError for a month outside 1 to 12.
    """

    first_month: int
    last_month: int

    def __post_init__(self) -> None:
        for month in (self.first_month, self.last_month):
            if not 1 <= month <= 12:
                raise UseError(f"There is no month {month}. Give the season's months as 1 to 12.")

    @property
    def months(self) -> tuple[int, ...]:
        """The months at work, in the order in which they come."""
        count = (self.last_month - self.first_month) % 12 + 1
        return tuple((self.first_month - 1 + n) % 12 + 1 for n in range(count))

    @property
    def all_year(self) -> bool:
        """Whether the machine is never put away."""
        return len(self.months) == 12

    @property
    def turned(self) -> "Season":
        """The same season on the other half of the earth, six months off."""
        return Season((self.first_month + 5) % 12 + 1, (self.last_month + 5) % 12 + 1)

    @property
    def words(self) -> str:
        """The season as it is said: "Apr to Oct"."""
        return f"{MONTHS[self.first_month - 1]} to {MONTHS[self.last_month - 1]}"

    def first_opening_from(self, day: date) -> date:
        """The first day of the first season that begins on `day` or later."""
        return next(iter(self._openings(day))).date()

    def first_close_from(self, day: date) -> date:
        """The last day of the first season that ends on `day` or later."""
        return next(iter(self._closes(day))).date()

    def latest_opening_by(self, day: date) -> date:
        """The first day of the latest season that had begun by `day`."""
        return _latest(self._openings(day - _OVER_A_YEAR), day)

    def latest_close_by(self, day: date) -> date:
        """The last day of the latest season that had ended by `day`."""
        return _latest(self._closes(day - _OVER_A_YEAR), day)

    def _openings(self, start: date) -> rrule:
        return rrule(YEARLY, dtstart=start, bymonth=self.first_month, bymonthday=1)

    def _closes(self, start: date) -> rrule:
        return rrule(YEARLY, dtstart=start, bymonth=self.last_month, bymonthday=-1)


@dataclass(frozen=True, slots=True)
class UseProfile:
    """What the owner says of the machine's use; None where it was not said.

    `hours_per_week` is meant for the weeks of the season; `pace_measured` marks that two readings
    of the hour meter gave it. `meter_hours` is what the meter read on the day `meter_on`, today
    where that is None. `season_assumed` marks months that are usual for the kind, not the owner's
    own. Raises UseError, with a sentence, for figures that can't be.
    """

    hours_per_week: Decimal | None = None
    first_month: int | None = None
    last_month: int | None = None
    severe: bool = False
    meter_hours: Decimal | None = None
    season_assumed: bool = False
    meter_on: date | None = None
    pace_measured: bool = False

    def __post_init__(self) -> None:
        _check_between("Hours a week", self.hours_per_week, _HOURS_IN_WEEK)
        _check_between("The hour meter", self.meter_hours, _MOST_METER_HOURS)
        if (self.first_month is None) != (self.last_month is None):
            raise UseError("Give both the first and the last month of the season, or neither.")
        _ = self.season

    @property
    def season(self) -> Season | None:
        """The months at work, or None where they are not known."""
        if self.first_month is None or self.last_month is None:
            return None
        return Season(self.first_month, self.last_month)

    def assuming(self, usual: Season | None) -> "UseProfile":
        """The same profile with the usual season where the owner's own is not known."""
        if usual is None or self.first_month is not None:
            return self
        return replace(
            self, first_month=usual.first_month, last_month=usual.last_month, season_assumed=True
        )

    def meter_at(self, today: date) -> Decimal | None:
        """What the hour meter reads by now: as last read, and the use since then."""
        if self.meter_hours is None or self.meter_on is None:
            return self.meter_hours
        return self.meter_hours + self.hours_between(self.meter_on, today)

    def hours_between(self, start: date, end: date) -> Decimal:
        """Hours of use after the day `start`, up to and with `end`; 0 where use is not known."""
        days = sum((last - first).days + 1 for first, last in self._spans(start, end))
        return days * (self.hours_per_week or Decimal(0)) / 7

    def day_reaching(self, hours: Decimal, start: date, until: date) -> date | None:
        """The day on which use after `start` adds up to `hours`, or None if not by `until`."""
        if not self.hours_per_week:
            return None
        needed = int((hours * 7 / self.hours_per_week).to_integral_value(ROUND_CEILING))
        for first, last in self._spans(start, until):
            days = (last - first).days + 1
            if needed <= days:
                return first + timedelta(days=max(needed, 1) - 1)
            needed -= days
        return None

    def _spans(self, start: date, end: date) -> Iterator[tuple[date, date]]:
        """The stretches of days at work after `start`, up to and with `end`, month by month."""
        months = self.season.months if self.season else range(1, 13)
        first = start + timedelta(days=1)
        while first <= end:
            next_month = (first.replace(day=1) + timedelta(days=31)).replace(day=1)
            if first.month in months:
                yield first, min(next_month - timedelta(days=1), end)
            first = next_month


def _latest(points: Iterable[datetime], day: date) -> date:
    return [point.date() for point in takewhile(lambda point: point.date() <= day, points)][-1]


def _check_between(what: str, hours: Decimal | None, most: int) -> None:
    if hours is not None and not (hours.is_finite() and 0 <= hours <= most):
        raise UseError(f"{what} must lie between 0 and {most:,}; {hours} was given.")
