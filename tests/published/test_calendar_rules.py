"""Recurring days against RFC 5545, and the seasons against a day-by-day enumeration.

Source: RFC 5545, Internet Calendaring and Scheduling (iCalendar), section 3.8.5.3, examples.
"""

from datetime import date, datetime, timedelta
from decimal import Decimal
from itertools import pairwise

import pytest
from dateutil.rrule import DAILY, FR, MONTHLY, YEARLY, rrule, rrulestr

from shopdesk.upkeep.use import Season, UseProfile

EVERY_SEASON = [Season(first, last) for first in range(1, 13) for last in range(1, 13)]


def _days(year_and_days: dict[int, str]) -> list[date]:
    return [
        date(year, *(int(part) for part in day.split("-")))
        for year, days in year_and_days.items()
        for day in days.split()
    ]


@pytest.mark.parametrize(
    ("start", "rule", "in_our_words", "days"),
    [
        (
            datetime(1997, 9, 5, 9),
            "FREQ=MONTHLY;COUNT=10;BYDAY=1FR",
            {"freq": MONTHLY, "count": 10, "byweekday": FR(1)},
            _days({1997: "9-5 10-3 11-7 12-5", 1998: "1-2 2-6 3-6 4-3 5-1 6-5"}),
        ),
        (
            datetime(1997, 6, 10, 9),
            "FREQ=YEARLY;COUNT=10;BYMONTH=6,7",
            {"freq": YEARLY, "count": 10, "bymonth": (6, 7)},
            _days(dict.fromkeys(range(1997, 2002), "6-10 7-10")),
        ),
        (
            datetime(1997, 9, 28, 9),
            "FREQ=MONTHLY;BYMONTHDAY=-3",
            {"freq": MONTHLY, "bymonthday": -3},
            _days({1997: "9-28 10-29 11-28 12-29", 1998: "1-29 2-26"}),
        ),
        (
            datetime(2007, 1, 15, 9),
            "FREQ=MONTHLY;BYMONTHDAY=15,30;COUNT=5",
            {"freq": MONTHLY, "bymonthday": (15, 30), "count": 5},
            _days({2007: "1-15 1-30 2-15 3-15 3-30"}),
        ),
    ],
)
def test_the_rule_library_gives_the_days_of_rfc_5545(
    start: datetime, rule: str, in_our_words: dict[str, object], days: list[date]
) -> None:
    for reading in (rrulestr(rule, dtstart=start), rrule(dtstart=start, **in_our_words)):  # type: ignore[arg-type]
        assert [moment.date() for moment, _ in zip(reading, days, strict=False)] == days


def test_a_day_that_a_month_lacks_is_passed_over() -> None:
    """RFC 5545 section 3.3.10: recurrences on invalid days such as 30 February are ignored."""
    thirties = rrule(MONTHLY, dtstart=date(2007, 1, 30), bymonthday=30, count=3)
    assert [moment.date() for moment in thirties] == _days({2007: "1-30 3-30 4-30"})


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
