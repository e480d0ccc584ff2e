"""Lines added up, taxed, paid and credited."""

from decimal import Decimal
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopdesk.pricing.money import MoneyError, round_money
from shopdesk.pricing.totals import (
    LineKind,
    PricedLine,
    TaxBasis,
    TaxRate,
    Totals,
    line_net,
    negated,
    tax_on,
    total,
)

STATE = TaxRate("State", Decimal("6.25"))
CITY = TaxRate("City", Decimal("1"))
RATES = st.sampled_from([(), (STATE,), (CITY,), (STATE, CITY), (CITY, STATE)])
BASES = st.sampled_from(TaxBasis)


@st.composite
def priced_lines(draw: st.DrawFn) -> PricedLine:
    kind = draw(st.sampled_from(LineKind))
    cents = draw(st.integers(-500_000, 0 if kind is LineKind.DISCOUNT else 500_000))
    return PricedLine(kind, Decimal(cents) / 100, draw(RATES))


LINES = st.lists(priced_lines(), max_size=12)


def line(net: str, *rates: TaxRate, kind: LineKind = LineKind.PART) -> PricedLine:
    return PricedLine(kind, Decimal(net), rates)


def amounts(totals: Totals) -> tuple[str, ...]:
    sums = (totals.net, totals.tax, totals.total, totals.paid, totals.due)
    return tuple(str(amount) for amount in sums)


def test_an_invoice_of_every_kind_of_line() -> None:
    totals = total(
        [
            line("38.40", STATE, CITY),
            line("12.00", STATE, CITY),
            line("85.00", kind=LineKind.LABOUR),
            line("6.50", STATE, kind=LineKind.FEE),
            line("40.00", kind=LineKind.SUBLET),
            line("-10.00", STATE, CITY, kind=LineKind.DISCOUNT),
        ],
        TaxBasis.INVOICE,
        paid=Decimal("50"),
    )
    assert totals.parts == Decimal("50.40")
    assert totals.labour == Decimal("85.00")
    assert totals.fees == Decimal("6.50")
    assert totals.sublet == Decimal("40.00")
    assert totals.discount == Decimal("-10.00")
    assert amounts(totals) == ("171.90", "3.34", "175.24", "50.00", "125.24")
    assert [(row.label, str(row.base), str(row.tax)) for row in totals.taxes] == [
        ("City 1% + State 6.25% = 7.25%", "40.40", "2.93"),
        ("State 6.25%", "6.50", "0.41"),
    ]


def test_no_lines_come_to_nothing_and_an_overpayment_is_given_back() -> None:
    assert amounts(total([], TaxBasis.LINE)) == ("0.00", "0.00", "0.00", "0.00", "0.00")
    assert total([line("10.00")], TaxBasis.LINE, Decimal("12")).due == Decimal("-2.00")


def test_rates_of_one_line_are_added_before_rounding() -> None:
    apart = tax_on(Decimal("0.60"), Decimal("0.9")) * 2
    [row] = total(
        [line("0.60", TaxRate("A", Decimal("0.9")), TaxRate("B", Decimal("0.9")))],
        TaxBasis.LINE,
    ).taxes
    assert (row.name, row.percent, row.tax, apart) == (
        "A + B",
        Decimal("1.8"),
        Decimal("0.01"),
        Decimal("0.02"),
    )


def test_the_order_in_which_rates_are_named_makes_no_second_row() -> None:
    totals = total([line("1.00", STATE, CITY), line("1.00", CITY, STATE)], TaxBasis.INVOICE)
    assert [row.base for row in totals.taxes] == [Decimal("2.00")]


def test_one_name_at_two_rates_makes_two_rows() -> None:
    lines = [line("10.00", TaxRate("VAT", Decimal(rate))) for rate in ("25", "12")]
    labels = [row.label for row in total(lines, TaxBasis.LINE).taxes]
    assert labels == ["VAT 12%", "VAT 25%"]


@given(LINES, BASES, st.randoms(use_true_random=False))
def test_the_order_of_the_lines_never_matters(
    lines: list[PricedLine], basis: TaxBasis, random: Random
) -> None:
    shuffled = random.sample(lines, len(lines))
    assert total(shuffled, basis) == total(lines, basis)


@given(LINES, BASES, st.integers(0, 100_000))
def test_the_sums_add_up_to_the_cent(lines: list[PricedLine], basis: TaxBasis, paid: int) -> None:
    totals = total(lines, basis, Decimal(paid) / 100)
    kinds = totals.parts + totals.labour + totals.fees + totals.sublet + totals.discount
    assert totals.net == kinds == sum(line.net for line in lines)
    assert totals.tax == sum(row.tax for row in totals.taxes)
    assert sum(row.base for row in totals.taxes) == sum(line.net for line in lines if line.rates)
    assert totals.due + totals.paid == totals.total == totals.net + totals.tax
    assert all(amount == round_money(amount) for amount in (totals.tax, totals.due))


@given(LINES)
def test_the_two_bases_differ_by_half_a_cent_for_each_line_at_most(lines: list[PricedLine]) -> None:
    by_line, by_invoice = (total(lines, basis).tax for basis in TaxBasis)
    combinations = len(total(lines, TaxBasis.LINE).taxes)
    assert abs(by_line - by_invoice) <= Decimal("0.005") * (len(lines) + combinations)


@given(LINES, BASES, st.integers(0, 100_000))
def test_a_credit_note_takes_back_all_but_what_was_paid(
    lines: list[PricedLine], basis: TaxBasis, paid: int
) -> None:
    invoice = total(lines, basis, Decimal(paid) / 100)
    note = negated(invoice)
    assert invoice.due + note.due == -invoice.paid
    assert note.total == -invoice.total
    assert note.net + note.tax == note.total == note.due
    assert [(row.base, row.tax) for row in note.taxes] == [
        (-row.base, -row.tax) for row in invoice.taxes
    ]
    assert "-0.00" not in repr(note)


@pytest.mark.parametrize(
    ("quantity", "price", "net"),
    [("3", "1.25", "3.75"), ("0.5", "0.25", "0.13"), ("1.1", "85", "93.50")],
)
def test_a_line_is_rounded_once(quantity: str, price: str, net: str) -> None:
    assert str(line_net(Decimal(quantity), Decimal(price))) == net


@pytest.mark.parametrize(
    ("kind", "net", "rates", "sentence"),
    [
        (LineKind.PART, "1.005", (), "A line of 1.005 is not whole cents: round it first."),
        (
            LineKind.DISCOUNT,
            "5.00",
            (),
            "A discount of 5.00 would add to the bill: put it below zero.",
        ),
        (LineKind.FEE, "5.00", (CITY, CITY), "A line is taxed twice under one name: City, City."),
    ],
)
def test_a_line_that_can_only_be_a_slip_is_refused(
    kind: LineKind, net: str, rates: tuple[TaxRate, ...], sentence: str
) -> None:
    with pytest.raises(MoneyError) as refused:
        PricedLine(kind, Decimal(net), rates)
    assert str(refused.value) == sentence


@pytest.mark.parametrize("percent", ["-1", "100.01"])
def test_a_rate_is_from_0_to_100(percent: str) -> None:
    with pytest.raises(MoneyError, match="set a rate from 0 to 100"):
        TaxRate("State", Decimal(percent))


def test_no_float_gets_in() -> None:
    ten = Decimal(10)
    with pytest.raises(TypeError):
        PricedLine(LineKind.PART, 10.0)  # type: ignore[arg-type]
    with pytest.raises(TypeError):
        TaxRate("State", 6.25)  # type: ignore[arg-type]
    with pytest.raises(TypeError):
        line_net(ten, 1.5)  # type: ignore[arg-type]
    with pytest.raises(TypeError):
        line_net(1.5, ten)  # type: ignore[arg-type]
    with pytest.raises(TypeError):
        tax_on(ten, 6.25)  # type: ignore[arg-type]
    with pytest.raises(TypeError):
        total([], TaxBasis.LINE, paid=5.0)  # type: ignore[arg-type]
