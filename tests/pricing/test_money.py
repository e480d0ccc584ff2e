"""Amounts, quantities and rates as they are typed, rounded and shown."""

from collections.abc import Callable
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopdesk.pricing.money import (
    MoneyError,
    exact,
    parse_money,
    parse_percent,
    parse_quantity,
    round_money,
    show_money,
    show_percent,
    show_quantity,
)

CENTS = st.integers(-999_999_999, 999_999_999).map(lambda cents: Decimal(cents) / 100)


@pytest.mark.parametrize(
    ("typed", "amount"),
    [
        ("184.20", "184.20"),
        ("$184.20", "184.20"),
        ("$ 184.20", "184.20"),
        ("184,20 €", "184.20"),
        ("184,20", "184.20"),
        ("184.2", "184.20"),
        ("1,184.20", "1184.20"),
        ("1 184,20", "1184.20"),
        ("1\u202f184,20", "1184.20"),
        ("1.184,20", "1184.20"),
        ("1'184.20", "1184.20"),
        ("1\u2019184.20", "1184.20"),
        ("1,184", "1184.00"),
        ("1,18", "1.18"),
        ("1.184.200", "1184200.00"),
        ("1,184,200", "1184200.00"),
        ("9,999,999.99", "9999999.99"),
        ("184.200", None),
        ("184,200.000", "184200.00"),
        ("0", "0.00"),
        ("-0", "0.00"),
        ("007", "7.00"),
        (".5", "0.50"),
        (",5", "0.50"),
        ("5.", "5.00"),
        ("  42\n", "42.00"),
    ],
)
def test_money_is_read_as_people_type_it(typed: str, amount: str | None) -> None:
    if amount is None:
        with pytest.raises(MoneyError, match="could be"):
            parse_money(typed)
    else:
        assert str(parse_money(typed)) == amount


@pytest.mark.parametrize(
    ("typed", "sentence"),
    [
        ("", "Nothing is typed here: type an amount, for example 184.20."),
        (" \t ", "Nothing is typed here: type an amount, for example 184.20."),
        ("abc", "“abc” is not an amount: type a number, for example 184.20."),
        ("$", "“$” is not an amount: type a number, for example 184.20."),
        ("12 bucks", "“12 bucks” is not an amount: type a number, for example 184.20."),
        ("nan", "“nan” is not an amount: type a number, for example 184.20."),
        ("inf", "“inf” is not an amount: type a number, for example 184.20."),
        ("1e9", "“1e9” is not an amount: type a number, for example 184.20."),
        ("1_000", "“1_000” is not an amount: type a number, for example 184.20."),
        ("1.2.3", "“1.2.3” is not an amount: type a number, for example 184.20."),
        ("1,18,420", "“1,18,420” is not an amount: type a number, for example 184.20."),
        ("1234 567", "“1234 567” is not an amount: type a number, for example 184.20."),
        ("1,184,20", "“1,184,20” is not an amount: type a number, for example 184.20."),
        ("--5", "“--5” is not an amount: type a number, for example 184.20."),
        ("🔧", "“🔧” is not an amount: type a number, for example 184.20."),
        ("٣", "“٣” is not an amount: type a number, for example 184.20."),
        ("0.125", "“0.125” has more than 2 decimals: round it and type it again."),
        ("0,125", "“0,125” has more than 2 decimals: round it and type it again."),
        ("1,184.205", "“1,184.205” has more than 2 decimals: round it and type it again."),
        (
            "12.500",
            "“12.500” could be 12,500 or 12.50: type it without the point, or with two decimals.",
        ),
        ("-5", "“-5” is below zero: type the amount without the minus."),
        ("10,000,000.00", "“10,000,000.00” is over 9,999,999.99: check it and type it again."),
        (
            "12\x0034",
            "“12�34” holds characters that can't be printed: type an amount again, "
            "for example 184.20.",
        ),
        ("9" * 9000, f"“{'9' * 24}…” is not an amount: type a number, for example 184.20."),
    ],
)
def test_what_is_no_amount_gets_a_sentence_that_says_what_to_do(typed: str, sentence: str) -> None:
    with pytest.raises(MoneyError) as refused:
        parse_money(typed)
    assert str(refused.value) == sentence


@pytest.mark.parametrize("typed", ["-5.00", "-$5.00", "$-5.00", "\u22125", "- 5"])
def test_a_minus_is_taken_where_it_makes_sense(typed: str) -> None:
    assert parse_money(typed, allow_negative=True) == Decimal("-5.00")


@pytest.mark.parametrize("parse", [parse_money, parse_quantity, parse_percent])
@given(typed=st.text(max_size=30) | st.text("0123456789.,-' $€½/%", max_size=12))
def test_whatever_is_typed_is_read_or_refused(parse: Callable[[str], Decimal], typed: str) -> None:
    try:
        number = parse(typed)
    except MoneyError:
        return
    assert 0 <= number < 10_000_000


@given(CENTS, st.sampled_from(["$", "€", "£", ""]))
def test_what_is_shown_reads_back_the_same(amount: Decimal, symbol: str) -> None:
    assert parse_money(show_money(amount, symbol), allow_negative=True) == amount


@pytest.mark.parametrize(
    ("amount", "rounded"),
    [
        ("0.005", "0.01"),
        ("0.0049", "0.00"),
        ("-0.005", "-0.01"),
        ("-0.004", "0.00"),
        ("1.125", "1.13"),
        ("2", "2.00"),
    ],
)
def test_half_a_cent_goes_up_and_zero_has_no_sign(amount: str, rounded: str) -> None:
    assert str(round_money(Decimal(amount))) == rounded


@given(st.decimals(-1000, 1000, allow_nan=False, places=5))
def test_rounding_moves_an_amount_by_half_a_cent_at_most(amount: Decimal) -> None:
    assert abs(round_money(amount) - amount) <= Decimal("0.005")
    assert round_money(-amount) == -round_money(amount)


@pytest.mark.parametrize(
    ("amount", "symbol", "shown"),
    [
        ("1184.2", "$", "$1,184.20"),
        ("-5", "$", "-$5.00"),
        ("-0.001", "$", "$0.00"),
        ("9999999.99", "€", "€9,999,999.99"),
        ("5", "CHF", "CHF\u00a05.00"),
        ("-5", "kr", "-kr\u00a05.00"),
        ("5", "C$", "C$5.00"),
        ("5", "", "5.00"),
    ],
)
def test_money_is_shown_in_one_way(amount: str, symbol: str, shown: str) -> None:
    assert show_money(Decimal(amount), symbol) == shown


def test_a_float_is_refused_and_so_is_no_number() -> None:
    for wrong in (0.1, 1, "1", None):
        with pytest.raises(TypeError, match="Decimal needed"):
            exact(wrong)  # type: ignore[arg-type]
    for endless in ("NaN", "Infinity", "-Infinity"):
        with pytest.raises(MoneyError, match="is not an amount"):
            round_money(Decimal(endless))


@pytest.mark.parametrize(
    ("typed", "quantity"),
    [
        ("2", "2"),
        ("10", "10"),
        ("1.50", "1.5"),
        ("1,5", "1.5"),
        ("0.125", "0.125"),
        ("0,125", "0.125"),
        ("1.184", "1.184"),
        ("1/2", "0.5"),
        ("½", "0.5"),
        ("1½", "1.5"),
        ("1 1/2", "1.5"),
        ("1-1/2", "1.5"),
        ("3/8", "0.375"),
        ("9999", "9999"),
    ],
)
def test_a_quantity_is_read_as_people_type_it(typed: str, quantity: str) -> None:
    assert str(parse_quantity(typed)) == quantity
    assert show_quantity(parse_quantity(typed)) == quantity


@pytest.mark.parametrize(
    ("typed", "sentence"),
    [
        ("", "Nothing is typed here: type a quantity, for example 2 or 1.5."),
        ("0", "“0” is not above zero: type how many, or drop the line."),
        ("-2", "“-2” is not above zero: type how many, or drop the line."),
        ("0/4", "“0/4” is not above zero: type how many, or drop the line."),
        ("10000", "“10000” is over 9999: check it and type it again."),
        ("1.1845", "“1.1845” has more than 3 decimals: round it and type it again."),
        ("1,184", "“1,184” could be 1184 or 1.184: type the one you mean."),
        ("1/3", "“1/3” is not exact to 3 decimals: type it as one, such as 0.333."),
        ("1/0", "“1/0” divides by zero: type a number, for example 1/2."),
        ("two", "“two” is not a quantity: type a number, such as 2 or 1.5."),
        ("1e3", "“1e3” is not a quantity: type a number, such as 2 or 1.5."),
    ],
)
def test_what_is_no_quantity_gets_a_sentence(typed: str, sentence: str) -> None:
    with pytest.raises(MoneyError) as refused:
        parse_quantity(typed)
    assert str(refused.value) == sentence


@given(st.integers(1, 9_999_000).map(lambda thousandths: Decimal(thousandths) / 1000))
def test_a_quantity_that_is_shown_reads_back_the_same(quantity: Decimal) -> None:
    assert parse_quantity(show_quantity(quantity)) == quantity


@pytest.mark.parametrize(
    ("typed", "percent"),
    [("8.875", "8.875"), ("8,875 %", "8.875"), ("7%", "7"), ("0", "0"), ("100", "100")],
)
def test_a_rate_is_read_and_shown(typed: str, percent: str) -> None:
    assert parse_percent(typed) == Decimal(percent)
    assert show_percent(Decimal(percent)) == f"{percent}%"


@pytest.mark.parametrize(
    ("typed", "sentence"),
    [
        ("101", "“101” is not a rate: type a number from 0 to 100, such as 8.875."),
        ("-1", "“-1” is not a rate: type a number from 0 to 100, such as 8.875."),
        ("lots", "“lots” is not a rate: type a number from 0 to 100, such as 8.875."),
        ("8.87512", "“8.87512” has more than 4 decimals: round it and type it again."),
        ("", "Nothing is typed here: type a rate, for example 8.875."),
    ],
)
def test_what_is_no_rate_gets_a_sentence(typed: str, sentence: str) -> None:
    with pytest.raises(MoneyError) as refused:
        parse_percent(typed)
    assert str(refused.value) == sentence
