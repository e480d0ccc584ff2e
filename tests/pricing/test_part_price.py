"""What a part sells for: fixed, by markup bands, by margin, or what it costs."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopdesk.pricing.money import MoneyError
from shopdesk.pricing.part_price import (
    MarkupBand,
    part_price,
    price_from_bands,
    price_from_margin,
    price_from_markup,
)

COSTS = st.integers(0, 100_000).map(lambda cents: Decimal(cents) / 100)
BANDS = (
    MarkupBand(Decimal(10), Decimal(100)),
    MarkupBand(Decimal(50), Decimal(60)),
    MarkupBand(None, Decimal(40)),
)


@pytest.mark.parametrize(
    ("fixed", "cost", "bands", "margin", "price", "words"),
    [
        ("9.90", "4.00", BANDS, "40", "9.90", "fixed price"),
        (None, "11.00", BANDS, "40", "20.00", "held at what the dearest part of the markup band"),
        (None, "20.00", BANDS, "40", "32.00", "cost and 60% by the shop's markup bands"),
        (None, "40.00", (), "40", "66.67", "cost by the shop's margin of 40%"),
        (None, "40.00", (), None, "40.00", "no markup and no margin"),
        ("0.00", None, (), None, "0.00", "fixed price"),
    ],
)  # fmt: skip
def test_the_price_in_force_says_where_it_comes_from(
    fixed: str | None,
    cost: str | None,
    bands: tuple[MarkupBand, ...],
    margin: str | None,
    price: str,
    words: str,
) -> None:
    fixed_price, known, kept = (
        None if typed is None else Decimal(typed) for typed in (fixed, cost, margin)
    )
    found = part_price(fixed_price, known, bands, kept)
    assert str(found.price) == price
    assert words in found.words


def test_without_price_and_cost_there_is_no_price() -> None:
    found = part_price(None, None, BANDS, Decimal(40))
    assert found.price is None
    assert "not known" in found.words


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
    with pytest.raises(TypeError):
        price_from_bands(10.0, BANDS)  # type: ignore[arg-type]
