"""Amounts shared out to the cent."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopdesk.pricing.money import MoneyError
from shopdesk.pricing.sharing import share_out, to_cents

CENTS = st.integers(0, 1_000_000).map(lambda cents: Decimal(cents).scaleb(-2))


def shares(amount: str, *weights: str) -> list[str]:
    return [str(part) for part in share_out(Decimal(amount), [Decimal(one) for one in weights])]


def test_the_cents_that_are_left_go_to_those_that_lost_most() -> None:
    assert shares("10.00", "1", "1", "1") == ["3.34", "3.33", "3.33"]
    assert shares("10.00", "60.00", "30.00", "7.00") == ["6.19", "3.09", "0.72"]
    assert shares("0.05", "1", "0", "9") == ["0.00", "0.00", "0.05"]


def test_where_there_is_nothing_to_go_by_the_first_has_it() -> None:
    assert shares("2.00", "0", "0") == ["2.00", "0.00"]
    assert shares("0.00") == []


def test_what_can_not_be_shared_is_said() -> None:
    with pytest.raises(MoneyError, match=r"nothing that 1\.00 could be shared out over"):
        shares("1.00")
    with pytest.raises(MoneyError, match="below zero"):
        shares("1.00", "-1")


@given(CENTS, st.lists(CENTS, min_size=1, max_size=12))
def test_shares_add_up_and_lie_within_a_cent(amount: Decimal, weights: list[Decimal]) -> None:
    parts = share_out(amount, weights)
    assert sum(parts) == amount
    whole = sum(weights)
    if whole:
        exacts = [amount * weight / whole for weight in weights]
        pairs = zip(parts, exacts, strict=True)
        assert all(abs(part - exact) < Decimal("0.01") for part, exact in pairs)


@given(CENTS, st.lists(CENTS, min_size=1, max_size=8), st.randoms(use_true_random=False))
def test_equal_weights_in_any_order_have_the_same_shares(
    amount: Decimal, weights: list[Decimal], random: object
) -> None:
    mixed = sorted(weights)
    if not any(weights):
        return
    assert sorted(share_out(amount, weights)) == sorted(share_out(amount, mixed))


@given(st.lists(st.integers(-10_000_000, 10_000_000), min_size=1, max_size=8), st.integers(-9, 9))
def test_any_parts_come_to_the_whole_that_is_asked_for(mills: list[int], more: int) -> None:
    parts = [Decimal(one).scaleb(-5) for one in mills]
    whole = sum(parts, Decimal(0)).quantize(Decimal("0.01")) + Decimal(more).scaleb(-2)
    assert sum(to_cents(parts, whole)) == whole
