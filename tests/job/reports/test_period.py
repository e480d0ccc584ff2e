"""The days that a report is about, and the moments at which they begin and end."""

from datetime import UTC, date, datetime, timedelta
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopdesk.dates import local_day
from shopdesk.errors import JobError
from shopdesk.job.reports.period import NAMES, OWN, Period, chosen, named
from tests.job.workshop import SHOP

WEDNESDAY = date(2031, 5, 14)
ZONES = (
    *("UTC", "America/Denver", "Europe/Paris", "Asia/Kolkata", "Pacific/Kiritimati"),
    # The clocks of these go forward, or back, at midnight.
    *("America/Havana", "Asia/Beirut", "America/Asuncion", "America/Sao_Paulo", "Atlantic/Azores"),
)


@pytest.mark.parametrize(
    ("name", "first", "last"),
    [
        ("today", WEDNESDAY, WEDNESDAY),
        ("yesterday", date(2031, 5, 13), date(2031, 5, 13)),
        ("this week", date(2031, 5, 12), WEDNESDAY),
        ("last week", date(2031, 5, 5), date(2031, 5, 11)),
        ("this month", date(2031, 5, 1), WEDNESDAY),
        ("last month", date(2031, 4, 1), date(2031, 4, 30)),
        ("this quarter", date(2031, 4, 1), WEDNESDAY),
        ("last quarter", date(2031, 1, 1), date(2031, 3, 31)),
        ("this year", date(2031, 1, 1), WEDNESDAY),
        ("last year", date(2030, 1, 1), date(2030, 12, 31)),
    ],
)
def test_named_periods(name: str, first: date, last: date) -> None:
    assert named(name, WEDNESDAY) == Period(first, last)
    assert name in NAMES


@given(st.dates(date(1990, 1, 1), date(2090, 1, 1)))
def test_a_running_period_holds_today_and_the_one_before_ends_the_day_before(today: date) -> None:
    for what in ("week", "month", "quarter", "year"):
        running, before = named(f"this {what}", today), named(f"last {what}", today)
        assert running.last == today
        assert before.last + timedelta(days=1) == running.first


def test_leap_years() -> None:
    assert named("last month", date(2032, 3, 31)) == Period(date(2032, 2, 1), date(2032, 2, 29))
    assert named("last quarter", date(2032, 5, 31)).last == date(2032, 3, 31)


def test_days_typed_go_before_a_name_and_up_to_today() -> None:
    assert chosen("today", "1 apr", "", WEDNESDAY, SHOP) == Period(date(2031, 4, 1), WEDNESDAY)
    assert chosen("", "4/1", "2031-04-30", WEDNESDAY, SHOP).last == date(2031, 4, 30)
    assert chosen("Last Month", "", "", WEDNESDAY, SHOP).first == date(2031, 4, 1)


@pytest.mark.parametrize(
    ("name", "first", "last", "field", "words"),
    [
        ("next month", "", "", "period", "can't be “next month”: choose one of today,"),
        ("", "", "", "period", "The period is empty"),
        (OWN, "", "", "first", "from which day"),
        ("", "", "1 may", "first", "from which day"),
        ("", "1 may", "1 apr", "last", "before Thu 1 May 2031"),
        ("", "smarch", "", "first", "is not a date"),
        ("", "1 apr", "2031-06-01", "last", "still to come"),
    ],
)
def test_what_is_no_period_is_refused(
    name: str, first: str, last: str, field: str, words: str
) -> None:
    with pytest.raises(JobError, match=words) as caught:
        chosen(name, first, last, WEDNESDAY, SHOP)
    assert caught.value.field == field


def test_words() -> None:
    assert Period(WEDNESDAY, WEDNESDAY).words == "Wed 14 May 2031"
    assert named("last month", WEDNESDAY).words == "Tue 1 Apr 2031 to Wed 30 Apr 2031"


@given(st.sampled_from(ZONES), st.dates(date(1995, 1, 1), date(2037, 12, 30)), st.data())
def test_a_moment_lies_in_the_day_that_it_is_in_the_zone(
    zone: str, day: date, data: st.DataObject
) -> None:
    begin, end = Period(day, day).moments(zone)
    assert begin.tzinfo is UTC
    assert begin < end
    moment = data.draw(
        st.datetimes(datetime(1994, 12, 1), datetime(2038, 1, 1))
        | st.sampled_from([begin, end, begin - timedelta(seconds=1), end - timedelta(seconds=1)])
    )
    moment = moment.replace(tzinfo=UTC)
    assert (begin <= moment < end) == (local_day(moment, zone) == day)


def test_the_day_the_clocks_go_forward_is_an_hour_short() -> None:
    begin, end = Period(date(2031, 3, 9), date(2031, 3, 9)).moments("America/Denver")
    assert end - begin == timedelta(hours=23)
    begin, end = Period(date(2031, 11, 2), date(2031, 11, 2)).moments("America/Denver")
    assert end - begin == timedelta(hours=25)


@given(st.dates(date(1990, 1, 1), date(2090, 1, 1)), st.integers(0, 4000))
def test_parts_cover_each_day_once(first: date, days: int) -> None:
    period = Period(first, first + timedelta(days=days))
    parts = period.parts()
    assert (parts[0].first, parts[-1].last) == (period.first, period.last)
    for before, after in pairwise(parts):
        assert before.last + timedelta(days=1) == after.first
        assert before.month_words != after.month_words
    assert len(parts) <= 37


def test_parts_are_months_and_years_of_many() -> None:
    parts = Period(date(2031, 4, 15), date(2031, 6, 2)).parts()
    assert [part.month_words for part in parts] == ["Apr 2031", "May 2031", "Jun 2031"]
    assert parts[0] == Period(date(2031, 4, 15), date(2031, 4, 30))
    years = Period(date(2028, 12, 31), date(2032, 1, 1)).parts()
    assert [year.month_words for year in years] == ["Dec 2028", "2029", "2030", "2031", "Jan 2032"]
