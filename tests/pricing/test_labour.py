"""Bench time in tenths of an hour."""

from decimal import Decimal
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopdesk.pricing.labour import TenthRule, billed_hours, tenths
from shopdesk.pricing.money import MoneyError


@pytest.mark.parametrize(
    ("minutes", "nearest", "up"),
    [
        ("0", "0.0", "0.0"),
        ("1", "0.0", "0.1"),
        ("2.9", "0.0", "0.1"),
        ("3", "0.1", "0.1"),
        ("20", "0.3", "0.4"),
        ("60", "1.0", "1.0"),
        ("605", "10.1", "10.1"),
    ],
)
def test_minutes_become_tenths_of_an_hour(minutes: str, nearest: str, up: str) -> None:
    assert str(tenths(Decimal(minutes), TenthRule.NEAREST)) == nearest
    assert str(tenths(Decimal(minutes), TenthRule.UP)) == up


@given(st.decimals(0, 6000, places=2))
def test_a_tenth_is_never_far_from_the_time_at_the_bench(minutes: Decimal) -> None:
    assert abs(tenths(minutes, TenthRule.NEAREST) * 60 - minutes) <= 3
    assert 0 <= tenths(minutes, TenthRule.UP) * 60 - minutes < 6


def test_what_is_no_time_gets_a_sentence() -> None:
    with pytest.raises(MoneyError, match="type the time at the bench again"):
        tenths(Decimal(-1), TenthRule.UP)
    with pytest.raises(TypeError):
        tenths(27.0, TenthRule.UP)  # type: ignore[arg-type]


@given(st.lists(st.integers(0, 36_000), max_size=6), st.randoms(), st.sampled_from(TenthRule))
def test_spells_are_rounded_once_whatever_their_order(
    spells: list[int], chance: Random, rule: TenthRule
) -> None:
    hours = billed_hours(spells, rule)
    chance.shuffle(spells)
    assert billed_hours(spells, rule) == hours == tenths(Decimal(sum(spells)) / 60, rule)


def test_a_third_of_a_minute_three_times_is_a_minute() -> None:
    assert str(billed_hours([20] * 9, TenthRule.NEAREST)) == "0.1"
    assert str(billed_hours([20] * 18, TenthRule.UP)) == "0.1"
    assert str(billed_hours([20] * 18 + [1], TenthRule.UP)) == "0.2"
    assert str(billed_hours([], TenthRule.UP)) == "0.0"
