"""Bench time in tenths of an hour, and prices from cost."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopdesk.pricing.labour import (
    MarkupBand,
    TenthRule,
    price_from_bands,
    price_from_margin,
    price_from_markup,
    tenths,
)
from shopdesk.pricing.money import MoneyError

COSTS = st.integers(0, 100_000).map(lambda cents: Decimal(cents) / 100)
BANDS = (
    MarkupBand(Decimal(10), Decimal(100)),
    MarkupBand(Decimal(50), Decimal(60)),
    MarkupBand(None, Decimal(40)),
)


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


@pytest.mark.parametrize(
    ("cost", "price"),
    [("0", "0.00"), ("10.00", "20.00"), ("10.01", "20.00"), ("12.50", "20.00"), ("20", "32.00"),
     ("50.00", "80.00"), ("55.00", "80.00"), ("100.00", "140.00")],
)  # fmt: skip
def test_a_part_is_marked_up_by_its_band(cost: str, price: str) -> None:
    assert str(price_from_bands(Decimal(cost), BANDS)) == price


@given(COSTS, COSTS)
def test_a_dearer_part_never_sells_for_less(one: Decimal, other: Decimal) -> None:
    lower, higher = sorted((one, other))
    assert price_from_bands(lower, BANDS) <= price_from_bands(higher, BANDS)


@given(COSTS)
def test_a_part_never_sells_below_its_own_bands_markup(cost: Decimal) -> None:
    assert price_from_bands(cost, BANDS) >= price_from_markup(cost, Decimal(40))


@pytest.mark.parametrize(
    "bands",
    [
        (),
        (MarkupBand(Decimal(10), Decimal(100)),),
        (MarkupBand(None, Decimal(50)), MarkupBand(None, Decimal(40))),
        (*reversed(BANDS[:2]), BANDS[2]),
        (BANDS[0], *BANDS),
    ],
)
def test_bands_that_leave_a_gap_or_fall_are_refused(bands: tuple[MarkupBand, ...]) -> None:
    with pytest.raises(MoneyError, match="The markup bands"):
        price_from_bands(Decimal(1), bands)


@given(COSTS, st.integers(0, 99).map(Decimal))
def test_margin_and_markup_of_the_same_price_agree(cost: Decimal, margin: Decimal) -> None:
    markup = margin * 100 / (100 - margin)
    by_margin, by_markup = price_from_margin(cost, margin), price_from_markup(cost, markup)
    assert abs(by_margin - by_markup) <= Decimal("0.01")


def test_what_has_no_price_gets_a_sentence() -> None:
    cost = Decimal(40)
    with pytest.raises(MoneyError, match="A margin of 100% has no price"):
        price_from_margin(cost, Decimal(100))
    with pytest.raises(MoneyError, match="A margin of -1% has no price"):
        price_from_margin(cost, Decimal(-1))
    with pytest.raises(MoneyError, match="A markup of -1% is below zero"):
        price_from_markup(cost, Decimal(-1))
    with pytest.raises(MoneyError, match="A cost of -40 is below zero"):
        price_from_markup(-cost, Decimal(10))
    with pytest.raises(MoneyError, match="type the time at the bench again"):
        tenths(Decimal(-1), TenthRule.UP)
    with pytest.raises(TypeError):
        tenths(27.0, TenthRule.UP)  # type: ignore[arg-type]
    with pytest.raises(TypeError):
        price_from_bands(10.0, BANDS)  # type: ignore[arg-type]
