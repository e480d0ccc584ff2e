"""Percentages of an amount, and supplies up to their cap."""

from decimal import Decimal

import pytest

from shopdesk.pricing.money import MoneyError
from shopdesk.pricing.percentages import percent_of, supplies_charge


@pytest.mark.parametrize(
    ("amount", "percent", "share"),
    [
        ("60.00", "5", "3.00"),
        ("0.50", "1", "0.01"),
        ("0.49", "1", "0.00"),
        ("10.00", "0", "0.00"),
        ("10.00", "100", "10.00"),
        ("33.33", "33.3333", "11.11"),
    ],
)
def test_a_percentage_is_rounded_once(amount: str, percent: str, share: str) -> None:
    assert str(percent_of(Decimal(amount), Decimal(percent))) == share


@pytest.mark.parametrize("percent", ["-1", "100.01"])
def test_only_0_to_100_is_a_share(percent: str) -> None:
    with pytest.raises(MoneyError, match="type 0 to 100"):
        percent_of(Decimal(1), Decimal(percent))


@pytest.mark.parametrize(
    ("base", "cap", "charge"),
    [
        ("100.00", None, "5.00"),
        ("100.00", "4.00", "4.00"),
        ("100.00", "6.00", "5.00"),
        ("0.00", "6.00", "0.00"),
        ("-20.00", None, "0.00"),
    ],
)
def test_supplies_stay_under_their_cap_and_never_give_back(
    base: str, cap: str | None, charge: str
) -> None:
    top = None if cap is None else Decimal(cap)
    assert str(supplies_charge(Decimal(base), Decimal(5), top)) == charge
