"""How an owner uses a machine."""

from datetime import date
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopdesk.upkeep.use import Season, UseError, UseProfile

DAYS = st.dates(date(2020, 1, 1), date(2035, 12, 31))


def test_a_season_may_run_over_new_year() -> None:
    assert Season(11, 3).months == (11, 12, 1, 2, 3)
    assert Season(4, 10).months == (4, 5, 6, 7, 8, 9, 10)
    assert Season(5, 5).months == (5,)
    assert Season(11, 3).words == "Nov to Mar"


@pytest.mark.parametrize(("first", "last"), [(1, 12), (4, 3), (12, 11)])
def test_a_season_of_twelve_months_is_never_put_away(first: int, last: int) -> None:
    assert Season(first, last).all_year


def test_hours_add_up_in_the_season_only() -> None:
    mower = UseProfile(Decimal("1.5"), 4, 10)
    assert mower.hours_between(date(2027, 3, 31), date(2027, 4, 28)) == Decimal("1.5") * 4
    assert mower.hours_between(date(2026, 11, 1), date(2027, 3, 31)) == 0
    thrower = UseProfile(Decimal(7), 11, 3)
    assert thrower.hours_between(date(2026, 10, 31), date(2027, 4, 30)) == 30 + 31 + 31 + 28 + 31


def test_hours_count_from_the_day_after_and_with_the_last_day() -> None:
    daily = UseProfile(Decimal(7))
    day = date(2027, 5, 10)
    assert daily.hours_between(day, day) == 0
    assert daily.hours_between(day, date(2027, 5, 11)) == 1
    assert daily.hours_between(day, date(2027, 5, 1)) == 0
    assert daily.day_reaching(Decimal(1), day, date(2027, 6, 1)) == date(2027, 5, 11)
    assert daily.day_reaching(Decimal("1.1"), day, date(2027, 6, 1)) == date(2027, 5, 12)


@given(DAYS, st.integers(1, 400), st.integers(1, 12), st.integers(1, 12), st.integers(1, 80))
def test_the_day_reached_is_the_first_with_that_many_hours(
    start: date, hours: int, first_month: int, last_month: int, weekly: int
) -> None:
    profile = UseProfile(Decimal(weekly), first_month, last_month)
    day = profile.day_reaching(Decimal(hours), start, date(2060, 1, 1))
    if day is not None:
        yesterday = date.fromordinal(day.toordinal() - 1)
        slack = Decimal("1e-20")
        assert profile.hours_between(start, day) >= hours - slack
        assert profile.hours_between(start, yesterday) < hours + slack


def test_unknown_or_no_use_never_reaches_any_hours() -> None:
    far = date(2060, 1, 1)
    assert UseProfile().day_reaching(Decimal(1), date(2027, 1, 1), far) is None
    assert UseProfile(Decimal(0)).day_reaching(Decimal(1), date(2027, 1, 1), far) is None
    assert UseProfile().hours_between(date(2027, 1, 1), far) == 0


def test_the_usual_season_stands_in_only_where_the_owner_named_none() -> None:
    usual = Season(4, 10)
    assumed = UseProfile(Decimal(2)).assuming(usual)
    assert (assumed.season, assumed.season_assumed) == (usual, True)
    own = UseProfile(Decimal(2), 9, 11)
    assert own.assuming(usual) is own
    assert UseProfile().assuming(None).season is None


@pytest.mark.parametrize(
    ("arguments", "complaint"),
    [
        ({"hours_per_week": Decimal(169)}, "Hours a week must lie between 0 and 168; 169"),
        ({"hours_per_week": Decimal(-1)}, "Hours a week must lie between 0 and 168; -1"),
        ({"hours_per_week": Decimal("NaN")}, "Hours a week must lie between 0 and 168; NaN"),
        ({"meter_hours": Decimal("1e9")}, "The hour meter must lie between 0 and 100,000"),
        ({"first_month": 4}, "Give both the first and the last month"),
        ({"first_month": 0, "last_month": 3}, "There is no month 0"),
        ({"first_month": 4, "last_month": 13}, "There is no month 13"),
    ],
)
def test_figures_that_cannot_be_are_refused(arguments: dict[str, object], complaint: str) -> None:
    with pytest.raises(UseError) as refused:
        UseProfile(**arguments)  # type: ignore[arg-type]
    assert str(refused.value).startswith(complaint)
