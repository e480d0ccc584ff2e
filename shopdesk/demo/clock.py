"""The demo's own clock and its opening hours: it goes where the tale is, never to the real hour."""

from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from random import Random
from typing import NamedTuple

from shopdesk.dates import as_utc

OPENS, LAST_START = time(8, 5), time(16, 20)
SUNDAY = 6


class Wait(NamedTuple):
    """How long until the next thing happens on a ticket: some days, or minutes of the same day."""

    days: int = 0
    minutes: int = 0


@dataclass(slots=True)
class Clock:
    """Says the moment that the tale has reached: aware, in UTC."""

    zone: str
    local: datetime
    """The same moment on the shop's wall."""

    def __call__(self) -> datetime:
        """Return the moment."""
        return as_utc(self.local, self.zone).replace(tzinfo=UTC)


def open_day(day: date) -> date:
    """Return ``day``, or the next one when that is a Sunday."""
    return day + timedelta(days=1) if day.weekday() == SUNDAY else day


def eve_of(day: date) -> date:
    """Return the last working day before ``day``."""
    before = day - timedelta(days=1)
    return before - timedelta(days=1) if before.weekday() == SUNDAY else before


def some_time_on(day: date, luck: Random) -> datetime:
    """Return a moment in the opening hours of that day."""
    opens = datetime.combine(day, OPENS)
    minutes = int((datetime.combine(day, LAST_START) - opens).total_seconds()) // 60
    return opens + timedelta(minutes=luck.randint(0, minutes))


def shop_pace(now: datetime, wait: Wait, luck: Random) -> datetime:
    """Return when the next thing happens in a shop with other work to do."""
    if wait.days:
        return some_time_on(open_day(now.date() + timedelta(days=wait.days)), luck)
    return now + timedelta(minutes=wait.minutes)


def same_day_pace(now: datetime, wait: Wait, _luck: Random) -> datetime:
    """Return when it happens if there is no other work: a day's wait takes half an hour."""
    return now + timedelta(minutes=32 if wait.days else wait.minutes)
