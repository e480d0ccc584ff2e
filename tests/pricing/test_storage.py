"""Storage of a machine that is not fetched: days past the free ones, at the shop's rate."""

from datetime import date, timedelta
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopdesk.pricing.storage import storage

TOLD = date(2031, 4, 7)
TWO = Decimal("2.00")


@pytest.mark.parametrize(
    ("later", "days", "charge", "words"),
    [
        (0, 0, "0.00", "nothing yet: the first 30 days are free"),
        (30, 0, "0.00", "nothing yet: the first 30 days are free"),
        (31, 1, "2.00", "1 day × $2.00, after the first 30"),
        (42, 12, "24.00", "12 days × $2.00, after the first 30"),
    ],
)
def test_days_past_the_free_ones_are_charged(
    later: int, days: int, charge: str, words: str
) -> None:
    found = storage(TOLD, TOLD + timedelta(days=later), TWO, 30)
    assert (found.days, found.charge, found.words()) == (days, Decimal(charge), words)


def test_a_shop_that_charges_none_says_so() -> None:
    found = storage(TOLD, TOLD + timedelta(days=90), Decimal(0), 30)
    assert (found.charge, found.words()) == (Decimal("0.00"), "no storage is charged")


@given(st.integers(-30, 4000), st.integers(0, 400), st.decimals(0, 50, places=2))
def test_a_day_more_never_costs_less(later: int, free: int, rate: Decimal) -> None:
    today = TOLD + timedelta(days=later)
    now, then = (storage(TOLD, day, rate, free) for day in (today, today + timedelta(days=1)))
    assert 0 <= now.charge <= then.charge <= now.charge + rate
