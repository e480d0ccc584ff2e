"""Recurring days against RFC 5545, and the seasons against a day-by-day enumeration.

Source: RFC 5545, Internet Calendaring and Scheduling (iCalendar), section 3.8.5.3, examples.
"""

from datetime import date, timedelta
from decimal import Decimal
from itertools import pairwise

import pytest
from dateutil.rrule import DAILY, rrule

from shopdesk.upkeep.use import Season, UseProfile

EVERY_SEASON = [Season(first, last) for first in range(1, 13) for last in range(1, 13)]


def test_seasons_open_and_close_on_the_first_and_last_days_of_rfc_5545() -> None:
    """The example "monthly on the first and last day of the month for 10 occurrences".

    DTSTART 19970930, RRULE FREQ=MONTHLY;COUNT=10;BYMONTHDAY=1,-1. A season of one month opens on
    the first of these and closes on the second.
    """
    start = date(1997, 9, 30)
    one_month = [Season(month, month) for month in range(1, 13)]
    openings = [season.first_opening_from(start) for season in one_month]
    closes = [season.first_close_from(start) for season in one_month]
    assert sorted([*openings, *closes])[:10] == [
        *(date(1997, 9, 30), date(1997, 10, 1), date(1997, 10, 31), date(1997, 11, 1)),
        *(date(1997, 11, 30), date(1997, 12, 1), date(1997, 12, 31)),
        *(date(1998, 1, 1), date(1998, 1, 31), date(1998, 2, 1)),
    ]


def test_a_leap_day_that_a_year_lacks_gives_way_to_the_last_day_of_february() -> None:
    """RFC 5545 section 3.3.10: BYMONTHDAY=-1 counts from the month's own end."""
    winter = Season(12, 2)
    closes = [winter.first_close_from(date(year, 1, 1)) for year in (2027, 2028, 2029)]
    assert closes == [date(2027, 2, 28), date(2028, 2, 29), date(2029, 2, 28)]


def _at_work(season: Season, start: date, end: date) -> list[date]:
    days = rrule(DAILY, dtstart=start, until=end, bymonth=season.months)
    return [moment.date() for moment in days]


@pytest.mark.parametrize("season", EVERY_SEASON, ids=lambda season: season.words)
def test_hours_of_use_follow_the_days_of_the_season(season: Season) -> None:
    profile = UseProfile(Decimal(7), season.first_month, season.last_month)
    start, end = date(2027, 2, 11), date(2028, 6, 20)
    days = _at_work(season, start + timedelta(days=1), end)
    assert profile.hours_between(start, end) == len(days)
    for hours in range(1, len(days), 40):
        assert profile.day_reaching(Decimal(hours), start, end) == days[hours - 1]
    assert profile.day_reaching(Decimal(len(days) + 1), start, end) is None


@pytest.mark.parametrize(
    "season", [s for s in EVERY_SEASON if not s.all_year], ids=lambda season: season.words
)
@pytest.mark.parametrize("day", [date(2027, 2, 28), date(2028, 2, 28), date(2027, 7, 1)])
def test_a_season_opens_and_closes_where_its_days_begin_and_end(season: Season, day: date) -> None:
    worked = _at_work(season, date(2025, 1, 1), date(2030, 12, 31))
    breaks = [(a, b) for a, b in pairwise(worked) if (b - a).days > 1]
    closes, openings = [a for a, _ in breaks], [b for _, b in breaks]
    assert season.first_opening_from(day) == min(d for d in openings if d >= day)
    assert season.first_close_from(day) == min(d for d in closes if d >= day)
    assert season.latest_opening_by(day) == max(d for d in openings if d <= day)
    assert season.latest_close_by(day) == max(d for d in closes if d <= day)
