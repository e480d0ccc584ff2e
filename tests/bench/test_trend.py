"""Where a reading is heading: the line, when it reaches its limit, and when not to speak of it."""

from datetime import date, timedelta
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopdesk.bench.trend import Point, fit

START = date(2028, 4, 1)


def points(*values: int | str, every: int = 365) -> list[Point]:
    return [
        Point(START + timedelta(days=every * place), Fraction(value))
        for place, value in enumerate(values)
    ]


def test_two_days_make_no_trend_however_many_readings() -> None:
    assert fit(points(140, 130)) is None
    assert fit([*points(140, 130), *points(141, 131)]) is None


def test_falling_compression_reaches_its_limit_on_the_day_that_the_line_says() -> None:
    trend = fit(points(150, 140, 130))
    assert trend is not None
    assert trend.clear
    assert trend.slope == Fraction(-10, 365)
    assert trend.crosses(Fraction(110)) == START + timedelta(days=4 * 365)
    assert trend.visit_crossing(Fraction(110)) == 2
    assert trend.visit_crossing(Fraction(111)) == 2
    assert trend.visit_crossing(Fraction(120)) == 1


def test_a_limit_above_is_reached_by_what_rises() -> None:
    trend = fit(points("0.30", "0.35", "0.40"))
    assert trend is not None
    assert trend.crosses(Fraction("0.50")) == START + timedelta(days=4 * 365)
    assert trend.crosses(Fraction("0.20")) is None


@pytest.mark.parametrize("limit", [130, 135, 1000])
def test_what_is_reached_already_or_lies_the_other_way_is_not_foretold(limit: int) -> None:
    trend = fit(points(150, 140, 130))
    assert trend is not None
    assert trend.crosses(Fraction(limit)) is None
    assert trend.visit_crossing(Fraction(limit)) is None


def test_scattered_readings_are_not_gone_by() -> None:
    trend = fit(points(150, 128, 149, 130, 147))
    assert trend is not None
    assert not trend.clear
    assert trend.crosses(Fraction(100)) is None


def test_level_readings_never_cross() -> None:
    trend = fit(points(140, 140, 140))
    assert trend is not None
    assert not trend.clear
    assert trend.crosses(Fraction(130)) is None


def test_farther_than_ten_years_is_not_spoken_of() -> None:
    trend = fit(points(150, 149, 148))
    assert trend is not None
    assert trend.crosses(Fraction(139)) is not None
    assert trend.crosses(Fraction(137)) is None


def test_readings_of_one_day_count_once() -> None:
    doubled = fit([*points(150, 140, 130), Point(START, Fraction(150))])
    assert doubled == fit(points(150, 140, 130))


@given(st.lists(st.integers(20, 200), min_size=3, max_size=9), st.randoms())
def test_the_order_of_the_readings_changes_nothing(values: list[int], chance: object) -> None:
    kept = points(*values, every=91)
    mixed = list(kept)
    chance.shuffle(mixed)  # type: ignore[attr-defined]
    assert fit(mixed) == fit(kept)
