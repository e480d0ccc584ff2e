"""Sales tax against section 324 of the Streamlined Sales and Use Tax Agreement.

The rule, as adopted word for word in R.I. Gen. Laws 44-18.1-25 and N.D. Century Code 57-39.4-25:
tax is carried to the third decimal place and goes up a cent when the third decimal is over four;
the seller may work on an item or an invoice basis; the rule may be applied to state and local
taxes added together; no brackets. The cases are worked from that rule by hand.
"""

from decimal import ROUND_HALF_EVEN, ROUND_HALF_UP, Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopdesk.pricing.totals import LineKind, PricedLine, TaxBasis, TaxRate, tax_on, total

CASES = [
    ("6", ["0.75"] * 3, "0.15", "0.14"),
    ("7", ["0.50"] * 3, "0.12", "0.11"),
    ("8.25", ["50.00"], "4.13", "4.13"),
    ("8.25", ["50.00"] * 2, "8.26", "8.25"),
    ("7.25", ["24.99", "7.49", "85.00"], "8.51", "8.52"),
    ("8.875", ["1.10"] * 4, "0.40", "0.39"),
    ("5", ["0.10", "0.30", "0.50"], "0.06", "0.05"),
    ("7.25", ["0.62"], "0.04", "0.04"),
]


def rule_324(base_cents: int, ten_thousandths: int) -> Decimal:
    """Work the rule in whole numbers, the rate in ten-thousandths of a percent."""
    thousandths = base_cents * ten_thousandths // 100_000
    cents, third_decimal = divmod(thousandths, 10)
    return Decimal(cents + (third_decimal > 4)) / 100


def tax(nets: list[str], rates: tuple[TaxRate, ...], basis: TaxBasis) -> Decimal:
    return total([PricedLine(LineKind.PART, Decimal(net), rates) for net in nets], basis).tax


@pytest.mark.parametrize(("percent", "nets", "by_item", "by_invoice"), CASES)
def test_item_and_invoice_basis(
    percent: str, nets: list[str], by_item: str, by_invoice: str
) -> None:
    rates = (TaxRate("Sales tax", Decimal(percent)),)
    assert tax(nets, rates, TaxBasis.LINE) == Decimal(by_item)
    assert tax(nets, rates, TaxBasis.INVOICE) == Decimal(by_invoice)


def test_the_cases_tell_the_rule_from_its_usual_mistakes() -> None:
    cent = Decimal("0.01")
    assert Decimal("0.105").quantize(cent, ROUND_HALF_EVEN) != tax_on(Decimal("1.50"), Decimal(7))
    twice = Decimal("0.04495").quantize(Decimal("0.001"), ROUND_HALF_UP)
    assert twice.quantize(cent, ROUND_HALF_UP) == Decimal("0.05")
    assert tax_on(Decimal("0.62"), Decimal("7.25")) == Decimal("0.04")


def test_state_and_local_rates_are_added_before_rounding() -> None:
    state, county = TaxRate("State", Decimal(6)), TaxRate("County", Decimal("2.25"))
    assert tax(["50.00", "50.00"], (state, county), TaxBasis.LINE) == Decimal("8.26")
    assert tax(["50.00", "50.00"], (state, county), TaxBasis.INVOICE) == Decimal("8.25")


@given(st.integers(0, 1_000_000_000), st.integers(0, 1_000_000))
def test_any_amount_at_any_rate_follows_the_rule(cents: int, ten_thousandths: int) -> None:
    percent = Decimal(ten_thousandths) / 10_000
    assert tax_on(Decimal(cents) / 100, percent) == rule_324(cents, ten_thousandths)
