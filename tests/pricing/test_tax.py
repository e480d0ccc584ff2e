"""Discounts shared over what they are taken off, and prices with their tax in them."""

from decimal import Decimal
from random import Random

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from shopdesk.pricing.before_tax import before_tax
from shopdesk.pricing.money import MoneyError, round_money
from shopdesk.pricing.totals import (
    ZERO,
    LineKind,
    PricedLine,
    TaxBasis,
    TaxRate,
    TaxRule,
    Totals,
    negated,
    tax_on,
    total,
)

STATE, CITY, VAT = TaxRate("State", Decimal("6.875")), TaxRate("City", Decimal("1.5")), Decimal(21)
RATES = st.sampled_from([(), (STATE,), (STATE, CITY), (TaxRate("VAT", VAT),)])
RULES = st.builds(TaxRule, st.sampled_from(TaxBasis), st.booleans())
ADDED, INCLUDED = TaxRule(TaxBasis.INVOICE), TaxRule(TaxBasis.INVOICE, included=True)
KINDS = [kind for kind in LineKind if kind is not LineKind.DISCOUNT]


def line(net: str, *rates: TaxRate, kind: LineKind = LineKind.PART) -> PricedLine:
    return PricedLine(kind, Decimal(net), rates)


def off(amount: str) -> PricedLine:
    return PricedLine(LineKind.DISCOUNT, -Decimal(amount), shared=True)


@st.composite
def bills(draw: st.DrawFn) -> list[PricedLine]:
    """Lines, and discounts that are no more than they come to."""
    cents = st.integers(0, 300_000)
    lines = [
        PricedLine(draw(st.sampled_from(KINDS)), Decimal(draw(cents)) / 100, draw(RATES))
        for _ in range(draw(st.integers(1, 8)))
    ]
    left = int(sum(one.net for one in lines) * 100)
    for _ in range(draw(st.integers(0, 2))):
        taken = draw(st.integers(0, left))
        left -= taken
        lines.append(off(str(Decimal(taken) / 100)))
    return lines


def by_rate(totals: Totals) -> dict[str, tuple[str, str, str]]:
    return {row.name: (str(row.base), str(row.tax), str(row.allowance)) for row in totals.taxes}


def test_a_discount_lowers_what_it_is_taken_off_in_proportion() -> None:
    lines = [line("60.00", STATE, CITY), line("30.00", STATE, kind=LineKind.LABOUR), line("10.00")]
    totals = total([*lines, off("25.00")], ADDED)
    assert by_rate(totals) == {
        "City + State": ("45.00", "3.77", "15.00"),
        "State": ("22.50", "1.55", "7.50"),
    }
    assert (totals.untaxed, totals.untaxed_allowance) == (Decimal("7.50"), Decimal("2.50"))
    assert (totals.discount, totals.net, totals.total) == (
        Decimal("-25.00"),
        Decimal("75.00"),
        Decimal("80.32"),
    )


def test_what_is_given_away_whole_is_not_taxed_on_any_line() -> None:
    lines = [line("0.50", STATE), line("0.50", STATE), line("0.50", STATE), off("1.50")]
    for basis in TaxBasis:
        totals = total(lines, TaxRule(basis))
        assert (totals.net, totals.tax, totals.total) == (ZERO, ZERO, ZERO)


def test_tax_on_each_line_is_on_what_is_left_of_it() -> None:
    lines = [line("10.00", STATE), line("10.00", STATE), off("0.01")]
    assert total(lines, TaxRule(TaxBasis.LINE)).tax == tax_on(
        Decimal("9.99"), STATE.percent
    ) + tax_on(Decimal("10.00"), STATE.percent)


def test_a_discount_alone_is_owed_to_nobodys_tax() -> None:
    totals = total([off("5.00")], ADDED)
    assert (totals.net, totals.taxes, totals.untaxed_allowance) == (
        Decimal("-5.00"),
        (),
        Decimal("5.00"),
    )


@pytest.mark.parametrize(
    "wrong",
    [
        lambda: PricedLine(LineKind.PART, Decimal(1), shared=True),
        lambda: PricedLine(LineKind.DISCOUNT, Decimal(-1), (STATE,), shared=True),
    ],
)
def test_only_a_discount_without_rates_is_shared(wrong: object) -> None:
    with pytest.raises(MoneyError, match="Only a discount without rates"):
        wrong()  # type: ignore[operator]


def test_tax_is_worked_out_of_prices_that_hold_it() -> None:
    vat = TaxRate("VAT", Decimal(25))
    totals = total([line("125.00", vat), line("62.50", vat, kind=LineKind.LABOUR)], INCLUDED)
    assert (totals.net, totals.tax, totals.total) == (
        Decimal("150.00"),
        Decimal("37.50"),
        Decimal("187.50"),
    )
    assert (totals.parts, totals.labour, totals.included) == (
        Decimal("100.00"),
        Decimal("50.00"),
        True,
    )


@given(bills(), RULES)
@example([line("0.03", STATE), line("0.01", STATE), off("0.02")], TaxRule(TaxBasis.LINE, True))
def test_the_sums_of_en_16931_hold(lines: list[PricedLine], rule: TaxRule) -> None:
    """BR-CO-10, 13, 14, 15: by category, and over all of them."""
    totals = total(lines, rule)
    assert totals.total == totals.net + totals.tax
    assert totals.tax == sum(row.tax for row in totals.taxes)
    by_kind = (totals.parts, totals.labour, totals.fees, totals.sublet, totals.discount)
    assert totals.net == sum(by_kind)
    nets = before_tax(lines, rule)
    assert sum(nets) == totals.net
    for row in totals.taxes:
        own = [
            net
            for one, net in zip(lines, nets, strict=True)
            if tuple(sorted(one.rates)) == row.rates
        ]
        assert sum(own) == row.base + row.allowance
        assert row.allowance >= 0
    written = sum(one.net for one in lines)
    assert (totals.total if rule.included else totals.net) == written


@given(bills(), RULES)
def test_tax_follows_the_rule(lines: list[PricedLine], rule: TaxRule) -> None:
    for row in total(lines, rule).taxes:
        exact = row.base * row.percent / 100
        cents = Decimal("0.005") * (len(lines) if rule.basis is TaxBasis.LINE else 1)
        assert abs(row.tax - exact) <= (cents * 2 if rule.included else cents)
        if rule == ADDED:
            assert row.tax == round_money(exact)


@given(bills(), st.booleans())
def test_with_tax_included_the_total_less_the_tax_is_the_net(
    lines: list[PricedLine], by_line: bool
) -> None:
    rule = TaxRule(TaxBasis.LINE if by_line else TaxBasis.INVOICE, included=True)
    totals = total(lines, rule)
    assert totals.total == sum(one.net for one in lines)
    assert totals.total - totals.tax == totals.net


@given(bills(), RULES, st.integers())
def test_the_order_of_the_lines_changes_nothing(
    lines: list[PricedLine], rule: TaxRule, seed: int
) -> None:
    mixed = list(lines)
    Random(seed).shuffle(mixed)
    assert total(mixed, rule) == total(lines, rule)


@given(bills(), RULES)
def test_a_credit_note_takes_all_of_it_back(lines: list[PricedLine], rule: TaxRule) -> None:
    totals = total(lines, rule)
    back = negated(totals)
    assert (back.total + totals.total, back.untaxed + totals.untaxed) == (ZERO, ZERO)
    pairs = zip(back.taxes, totals.taxes, strict=True)
    assert all(one.allowance == -other.allowance for one, other in pairs)
