"""Dates as they are typed at the counter, and as they are shown."""

import re
from datetime import UTC, date, datetime

import pytest
from dateutil import parser
from hypothesis import given
from hypothesis import strategies as st

from shopdesk.dates import (
    DateError,
    as_utc,
    days_between_words,
    local_day,
    parse_date,
    show_date,
    show_moment,
)

WEDNESDAY = date(2026, 11, 25)
COUNTER_DAYS = st.dates(date(2000, 1, 1), date(2099, 12, 31))


@pytest.mark.parametrize(
    ("typed", "meant"),
    [
        ("today", date(2026, 11, 25)),
        (" Tomorrow ", date(2026, 11, 26)),
        ("yesterday", date(2026, 11, 24)),
        ("fri", date(2026, 11, 27)),
        ("FRIDAY", date(2026, 11, 27)),
        ("thurs", date(2026, 11, 26)),
        ("Fri.", date(2026, 11, 27)),
        ("this fri", date(2026, 11, 27)),
        ("next fri", date(2026, 12, 4)),
        ("last fri", date(2026, 11, 20)),
        ("wed", date(2026, 12, 2)),
        ("this wed", date(2026, 11, 25)),
        ("next wed", date(2026, 12, 2)),
        ("next mon", date(2026, 11, 30)),
        ("in 3 days", date(2026, 11, 28)),
        ("in 1 day", date(2026, 11, 26)),
        ("+5", date(2026, 11, 30)),
        ("+ 5 days", date(2026, 11, 30)),
        ("-5", date(2026, 11, 20)),
        ("2 weeks", date(2026, 12, 9)),
        ("in a week", date(2026, 12, 2)),
        ("2wks", date(2026, 12, 9)),
        ("3 months", date(2027, 2, 25)),
        ("a year ago", date(2025, 11, 25)),
        ("next week", date(2026, 12, 2)),
        ("last month", date(2026, 10, 25)),
    ],
)
def test_days_in_words_count_from_today(typed: str, meant: date) -> None:
    assert parse_date(typed, WEDNESDAY) == meant


@pytest.mark.parametrize(
    "typed",
    [
        "3/14/27",
        "3/14/2027",
        "3-14-27",
        "03/14",
        "3/14",
        "2027-03-14",
        "2027-3-14",
        "2027/03/14",
        "14 mar",
        "14mar",
        "14-Mar-2027",
        "14th of March",
        "mar 14",
        "March 14th, 2027",
        "Mar. 14 '27",
        "14.3.",
        "14.03.2027",
        "14. 3. 2027",
        "Sun 14 Mar",
        "sunday, 14 march 2027",
        "Sun 3/14",
        "２０２７-０３-１４",
    ],
)
def test_one_day_typed_in_many_ways(typed: str) -> None:
    assert parse_date(typed, WEDNESDAY) == date(2027, 3, 14)


def test_slashes_read_day_first_where_the_shop_says_so() -> None:
    assert parse_date("5/4", WEDNESDAY) == date(2027, 5, 4)
    assert parse_date("5/4", WEDNESDAY, day_first=True) == date(2027, 4, 5)
    assert parse_date("5.4.", WEDNESDAY) == date(2027, 4, 5)
    assert parse_date("2027-04-05", WEDNESDAY, day_first=True) == date(2027, 4, 5)


def test_day_and_month_are_never_swapped_to_make_a_date_possible() -> None:
    with pytest.raises(DateError, match="There is no month 14"):
        parse_date("14/3", WEDNESDAY)
    with pytest.raises(DateError, match=r"There is no month 14\..*14/3"):
        parse_date("3/14", WEDNESDAY, day_first=True)


def test_without_a_year_the_next_such_day_is_meant_and_today_counts() -> None:
    assert parse_date("11/25", WEDNESDAY) == WEDNESDAY
    assert parse_date("11/24", WEDNESDAY) == date(2027, 11, 24)
    assert parse_date("29 feb", WEDNESDAY) == date(2028, 2, 29)
    assert parse_date("29 feb", date(2096, 3, 1)) == date(2104, 2, 29)


def test_looking_back_means_the_latest_such_day() -> None:
    assert parse_date("11/25", WEDNESDAY, past=True) == WEDNESDAY
    assert parse_date("11/26", WEDNESDAY, past=True) == date(2025, 11, 26)
    assert parse_date("29 feb", WEDNESDAY, past=True) == date(2024, 2, 29)
    assert parse_date("fri", WEDNESDAY, past=True) == date(2026, 11, 20)
    assert parse_date("2 years", WEDNESDAY, past=True) == date(2024, 11, 25)
    assert parse_date("3 days ago", WEDNESDAY, past=True) == date(2026, 11, 22)


@pytest.mark.parametrize("typed", ["tomorrow", "+5", "in 2 weeks", "2027-03-14", "3/14/27"])
def test_looking_back_refuses_a_day_to_come(typed: str) -> None:
    with pytest.raises(DateError, match=r"is still to come\. Type a day that has passed"):
        parse_date(typed, WEDNESDAY, past=True)


def test_two_figures_of_a_year_reach_twenty_years_ahead() -> None:
    assert parse_date("1/1/46", WEDNESDAY).year == 2046
    assert parse_date("1/1/47", WEDNESDAY).year == 1947
    assert parse_date("1/1/99", WEDNESDAY).year == 1999
    assert parse_date("1/1/00", WEDNESDAY).year == 2000


@pytest.mark.parametrize(
    ("typed", "complaint"),
    [
        ("31 feb", "There is no 31 Feb."),
        ("2027-02-30", "There is no 30 Feb 2027."),
        ("29.2.2027", "There is no 29 Feb 2027."),
        ("13/45", "There is no month 13."),
        ("3/0", "There is no 0 Mar."),
        ("0001-01-01", "The year 0001 is too far off."),
        ("1/1/9999", "The year 9999 is too far off."),
        ("in 99999999 days", "That is more than 100 years off."),
        ("999999999 years", "That is more than 100 years off."),
        ("-999999999", "That is more than 100 years off."),
        ("Mon 14 Mar 2027", "14 Mar 2027 is a Sunday."),
        ("", "No date was typed."),
        (" \t\n", "No date was typed."),
        ("10", "“10” is not a date."),
        ("2027", "“2027” is not a date."),
        ("march", "“march” is not a date."),
        ("mar 2027", "“mar 2027” is not a date."),
        ("14.3", "“14.3” is not a date."),
        ("3pm", "“3pm” is not a date."),
        ("in 3", "“in 3” is not a date."),
        ("in 2 weeks ago", "“in 2 weeks ago” is not a date."),
        ("🙂", "“🙂” is not a date."),
        ("<b>fri</b>", "“<b>fri</b>” is not a date."),
        ("fri\x00", "“fri” is not a date."),
        ("asap", "“asap” is not a date."),
        ("3/14/027", "“3/14/027” is not a date."),
    ],
)
def test_what_is_no_date_is_refused_with_what_to_type(typed: str, complaint: str) -> None:
    with pytest.raises(DateError) as refused:
        parse_date(typed, WEDNESDAY)
    assert str(refused.value) == (
        f"{complaint} Type it like fri, tomorrow, in 3 days, 3/14, 14 mar or 2027-03-14."
    )


def test_the_refusal_shows_long_input_shortened() -> None:
    with pytest.raises(DateError) as refused:
        parse_date("x" * 10_000, WEDNESDAY)
    assert len(str(refused.value)) < 140
    assert "…”" in str(refused.value)


@given(st.text(max_size=30), COUNTER_DAYS, st.booleans(), st.booleans())
def test_any_text_gives_a_day_or_a_sentence(
    typed: str, today: date, day_first: bool, past: bool
) -> None:
    try:
        outcome = show_date(parse_date(typed, today, day_first=day_first, past=past))
    except DateError as refused:
        outcome = str(refused)
    assert re.fullmatch(
        r"[A-Z][a-z]{2} \d{1,2} [A-Z][a-z]{2} \d{4}|.* Type .*\.", outcome, re.DOTALL
    )


@given(COUNTER_DAYS, COUNTER_DAYS)
def test_a_shown_date_can_be_typed_back(day: date, today: date) -> None:
    assert parse_date(show_date(day), today) == day
    assert parse_date(show_date(day, today), today) == day


@given(COUNTER_DAYS, st.booleans())
def test_full_dates_agree_with_the_reference_parser(day: date, day_first: bool) -> None:
    order = "{0.day}/{0.month}/{0.year}" if day_first else "{0.month}/{0.day}/{0.year}"
    typed = order.format(day)
    reference = parser.parse(typed, dayfirst=day_first).date()
    assert parse_date(typed, WEDNESDAY, day_first=day_first) == reference == day


def test_dates_are_shown_with_weekday_and_month_in_letters() -> None:
    assert show_date(date(2027, 3, 5)) == "Fri 5 Mar 2027"
    assert show_date(date(2026, 11, 27), WEDNESDAY) == "Fri 27 Nov"
    assert show_date(date(2027, 1, 4), WEDNESDAY) == "Mon 4 Jan"
    assert show_date(date(2026, 11, 24), WEDNESDAY) == "Tue 24 Nov 2026"
    assert show_date(date(2027, 11, 24), WEDNESDAY) == "Wed 24 Nov 2027"


@pytest.mark.parametrize(
    ("day", "words"),
    [
        (date(2026, 11, 25), "today"),
        (date(2026, 11, 26), "tomorrow"),
        (date(2026, 11, 28), "in 3 days"),
        (date(2026, 11, 24), "1 day late"),
        (date(2026, 11, 23), "2 days late"),
    ],
)
def test_how_far_off_a_day_is(day: date, words: str) -> None:
    assert days_between_words(day, WEDNESDAY) == words


def test_moments_are_shown_in_the_shops_zone() -> None:
    assert show_moment(datetime(2027, 3, 14, 3, 30), "America/Denver") == "Sat 13 Mar 2027, 20:30"
    aware = datetime(2027, 3, 14, 3, 30, tzinfo=UTC)
    assert show_moment(aware, "Europe/Paris") == "Sun 14 Mar 2027, 04:30"
    assert local_day(datetime(2027, 3, 14, 3, 30), "America/Denver") == date(2027, 3, 13)


def test_an_hour_that_comes_twice_names_its_side() -> None:
    first, second = datetime(2027, 11, 7, 7, 30), datetime(2027, 11, 7, 8, 30)
    assert show_moment(first, "America/Denver") == "Sun 7 Nov 2027, 01:30 MDT"
    assert show_moment(second, "America/Denver") == "Sun 7 Nov 2027, 01:30 MST"


def test_local_times_turn_into_utc_round_the_clock_changes() -> None:
    zone = "America/Denver"
    assert as_utc(datetime(2027, 1, 15, 12), zone) == datetime(2027, 1, 15, 19)
    assert as_utc(datetime(2027, 7, 15, 12), zone) == datetime(2027, 7, 15, 18)
    assert as_utc(datetime(2027, 3, 14, 2, 30), zone) == datetime(2027, 3, 14, 9, 30)
    assert as_utc(datetime(2027, 11, 7, 1, 30), zone) == datetime(2027, 11, 7, 7, 30)


@pytest.mark.parametrize(
    "zone", ["", "America", "Nowhere/Land", "../etc/passwd", "\x00", "é" * 999]
)
def test_an_unknown_zone_is_refused_with_what_to_type(zone: str) -> None:
    with pytest.raises(DateError, match=r"is not a time zone\. Type it like America/Denver"):
        show_moment(datetime(2027, 3, 14), zone)
    with pytest.raises(DateError, match="is not a time zone"):
        as_utc(datetime(2027, 3, 14), zone)
