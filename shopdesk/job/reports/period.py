"""The days that a report is about: today, last month, a quarter, or two days that are typed."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta

from dateutil.relativedelta import MO, relativedelta

from shopdesk.dates import MONTHS, as_utc, show_date
from shopdesk.errors import JobError
from shopdesk.job import typed
from shopdesk.job.shop import Shop

OWN = "own days"
_MOST_MONTHS = 36


@dataclass(frozen=True, slots=True)
class Period:
    """Days from the first to the last, both counted, in the shop's zone."""

    first: date
    last: date

    @property
    def words(self) -> str:
        """The days in words: ``Mon 1 Mar 2027 to Wed 31 Mar 2027``."""
        if self.first == self.last:
            return show_date(self.first)
        return f"{show_date(self.first)} to {show_date(self.last)}"

    @property
    def is_day(self) -> bool:
        """Whether it is one day."""
        return self.first == self.last

    def __contains__(self, day: date) -> bool:
        return self.first <= day <= self.last

    def moments(self, zone: str) -> tuple[datetime, datetime]:
        """Return, aware in UTC, the moment it begins and the one after its end."""
        ends = (self.first, self.last + timedelta(days=1))
        begin, end = (as_utc(datetime.combine(day, time.min), zone) for day in ends)
        return begin.replace(tzinfo=UTC), end.replace(tzinfo=UTC)

    def parts(self) -> tuple["Period", ...]:
        """Return the months it touches, cut at its ends; years where it is over three years."""
        by_year = relativedelta(self.last, self.first).years * 12 >= _MOST_MONTHS
        step = relativedelta(years=1, yearday=1) if by_year else relativedelta(months=1, day=1)
        found, begin = [], self.first
        while begin <= self.last:
            following = begin + step
            found.append(Period(begin, min(following - timedelta(days=1), self.last)))
            begin = following
        return tuple(found)

    @property
    def month_words(self) -> str:
        """What one of ``parts`` is called: ``Mar 2027``, or the year of a longer one."""
        if (self.first.year, self.first.month) == (self.last.year, self.last.month):
            return f"{MONTHS[self.first.month - 1]} {self.first.year:04d}"
        return f"{self.first.year:04d}"


def named(name: str, today: date) -> Period:
    """Return the period of that name, up to today; ``JobError`` at ``period`` for none of those."""
    known = typed.choice(name, "period", _NAMED, "The period", needed=True)
    first, last = _NAMED[known](today)
    return Period(first, min(last, today))


def chosen(name: str, first: str, last: str, today: date, shop: Shop) -> Period:
    """Return the days typed in ``first`` and ``last``, or else the period of that name.

    Without a last day it goes up to today. Raises ``JobError`` at the field.
    """
    if not (first.strip() or last.strip()):
        if name == OWN:
            raise JobError("Type from which day, and up to which.", "first")
        return named(name, today)
    begin = typed.day(first, "first", today, day_first=shop.day_first, past=True)
    end = typed.day(last, "last", today, day_first=shop.day_first, past=True) or today
    if begin is None:
        raise JobError("Type from which day.", "first")
    if end < begin:
        raise JobError(f"That is before {show_date(begin)}: type a later day.", "last")
    return Period(begin, end)


def _week(day: date) -> tuple[date, date]:
    first = day + relativedelta(weekday=MO(-1))
    return first, first + timedelta(days=6)


def _months(day: date, count: int) -> tuple[date, date]:
    """Return the span of ``count`` months, counted from January on, that ``day`` lies in."""
    first = day + relativedelta(month=(day.month - 1) // count * count + 1, day=1)
    return first, first + relativedelta(months=count, days=-1)


_NAMED: dict[str, Callable[[date], tuple[date, date]]] = {
    "today": lambda today: (today, today),
    "yesterday": lambda today: (today - timedelta(days=1),) * 2,
    "this week": _week,
    "last week": lambda today: _week(today - timedelta(weeks=1)),
    "this month": lambda today: _months(today, 1),
    "last month": lambda today: _months(today + relativedelta(months=-1), 1),
    "this quarter": lambda today: _months(today, 3),
    "last quarter": lambda today: _months(today + relativedelta(months=-3), 3),
    "this year": lambda today: _months(today, 12),
    "last year": lambda today: _months(today + relativedelta(years=-1), 12),
}
NAMES = tuple(_NAMED)
"""What a period may be called, beside days that are typed. Weeks begin on Monday."""
