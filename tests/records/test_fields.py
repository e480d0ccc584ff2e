"""Money, quantities and moments are kept exactly, or refused."""

from datetime import UTC, datetime, timedelta, timezone
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopdesk.records.store import Records
from shopdesk.records.tables import Customer, Line, Payment

AMOUNT, QUANTITY, MOMENT = Payment.amount, Line.quantity, Payment.taken_at


@given(st.decimals(-10_000_000, 10_000_000, places=2))
def test_money_comes_back_to_the_cent(amount: Decimal) -> None:
    cents = AMOUNT.db_value(amount)
    assert isinstance(cents, int)
    back = AMOUNT.python_value(cents)
    assert back == amount
    assert back.as_tuple().exponent == -2


@given(st.decimals(-9999, 9999, places=3))
def test_quantities_come_back_to_the_thousandth(quantity: Decimal) -> None:
    assert QUANTITY.python_value(QUANTITY.db_value(quantity)) == quantity


@pytest.mark.parametrize("number", [1.5, 0.0, float("nan")])
def test_floats_are_refused(number: float) -> None:
    with pytest.raises(TypeError, match="takes Decimal, not float"):
        AMOUNT.db_value(number)
    with pytest.raises(TypeError, match="takes Decimal, not float"):
        QUANTITY.db_value(number)


@pytest.mark.parametrize("number", [Decimal("0.005"), Decimal("1.999"), Decimal("1E-9")])
def test_parts_of_a_cent_are_refused(number: Decimal) -> None:
    with pytest.raises(ValueError, match="is finer"):
        AMOUNT.db_value(number)


def test_parts_of_a_thousandth_are_refused() -> None:
    with pytest.raises(ValueError, match="is finer"):
        QUANTITY.db_value(Decimal("0.0005"))


@pytest.mark.parametrize("number", [Decimal("NaN"), Decimal("Infinity")])
def test_what_is_no_number_is_refused(number: Decimal) -> None:
    with pytest.raises((ValueError, ArithmeticError)):
        AMOUNT.db_value(number)


def test_nothing_stays_nothing() -> None:
    for field in (AMOUNT, MOMENT):
        assert field.db_value(None) is None
        assert field.python_value(None) is None


def test_a_moment_is_kept_in_utc_and_comes_back_aware(records: Records) -> None:
    denver = timezone(timedelta(hours=-6))
    moment = datetime(2031, 4, 7, 9, 0, 0, 123456, tzinfo=denver)
    with records.writing():
        Customer.create(name="Mara", folded_name="mara", created_at=moment)
    with records.reading():
        back = Customer.get().created_at
        (raw,) = records.engine.execute_sql("SELECT created_at FROM customer").fetchone()
    assert back == moment
    assert back.tzinfo is UTC
    assert raw == "2031-04-07 15:00:00.123456"


def test_a_moment_without_a_zone_is_refused() -> None:
    with pytest.raises(ValueError, match="takes a time with its zone"):
        MOMENT.db_value(datetime(2031, 4, 7))
