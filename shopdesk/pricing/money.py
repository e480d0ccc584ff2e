"""Amounts, quantities and rates: read as people type them, rounded and shown in one place.

`shopdesk.pricing.typed_number` says how marks between digits are read. One mark followed by three
digits could mean either thing, so each field has its rule:

    ==========  ===================  ===================
    field       ``1,184``            ``1.184``
    ==========  ===================  ===================
    money       1184                 asked about
    quantity    asked about          1.184
    rate        1.184                1.184
    ==========  ===================  ===================

Money has at most two decimals, so its comma can only group thousands; its point may be a slip
(``12.500`` for 12.50). ``0,125`` begins with a zero and so is never taken for thousands.
"""

import re
import unicodedata
from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction

from shopdesk.pricing.typed_number import (
    MINUS_SIGNS,
    MoneyError,
    decimal_number,
    exact,
    fraction_number,
    one_line,
    quoted,
    show_number,
    with_decimals,
    without_thousands,
)

__all__ = [
    "CENT",
    "MOST_MONEY",
    "MOST_QUANTITY",
    "MoneyError",
    "exact",
    "parse_money",
    "parse_percent",
    "parse_quantity",
    "round_money",
    "show_money",
    "show_percent",
    "show_quantity",
]

CENT = Decimal("0.01")
MOST_MONEY = Decimal("9999999.99")
MOST_QUANTITY = Decimal("9999")


def round_money(amount: Decimal) -> Decimal:
    """Return `amount` in whole cents, half a cent going up (away from zero); never minus zero."""
    return exact(amount).quantize(CENT, ROUND_HALF_UP) + Decimal(0)


def parse_money(typed: str, allow_negative: bool = False) -> Decimal:
    """Return the amount that `typed` says, in whole cents.

    One currency sign may stand before or after it, and a minus before it if `allow_negative`.

    Raises:
        MoneyError: no number, more than two decimals, negative, or over 9,999,999.99.
    """
    body = _without_currency(one_line(typed, "an amount", "184.20"))
    negative = body.startswith(MINUS_SIGNS)
    amount = _amount(_without_currency(body[1:].lstrip()) if negative else body, typed)
    if negative and amount and not allow_negative:
        raise MoneyError(f"{quoted(typed)} is below zero: type the amount without the minus.")
    if amount > MOST_MONEY:
        raise MoneyError(f"{quoted(typed)} is over {MOST_MONEY:,}: check it and type it again.")
    return round_money(-amount if negative else amount)


def show_money(amount: Decimal, symbol: str = "$") -> str:
    """Return `amount` as printed: ``$1,184.20``, ``-$5.00``, and ``CHF 5.00`` for letters."""
    cents = round_money(amount)
    sign = "-" if cents < 0 else ""
    gap = "\N{NO-BREAK SPACE}" if symbol[-1:].isalpha() else ""
    return f"{sign}{symbol}{gap}{abs(cents):,}"


def parse_quantity(typed: str) -> Decimal:
    """Return how many or how much `typed` says: ``2``, ``1.5``, ``1,5``, ``1 1/2``, ``1½``.

    Raises:
        MoneyError: no number, zero or less, over 9999, or not exact to three decimals.
    """
    body = one_line(typed, "a quantity", "2 or 1.5")
    fraction = fraction_number(body)
    number = _quantity(body) if fraction is None else _in_thousandths(fraction, typed)
    if number <= 0:
        raise MoneyError(f"{quoted(typed)} is not above zero: type how many, or drop the line.")
    if number > MOST_QUANTITY:
        raise MoneyError(f"{quoted(typed)} is over {MOST_QUANTITY}: check it and type it again.")
    return number


def show_quantity(quantity: Decimal) -> str:
    """Return `quantity` as printed, without needless zeros: ``2``, ``1.5``."""
    return show_number(quantity)


def parse_percent(typed: str) -> Decimal:
    """Return the rate that `typed` says, from 0 to 100: ``8.875``, ``8,875 %``.

    Raises:
        MoneyError: no number, below 0, over 100, or more than four decimals.
    """
    body = one_line(typed, "a rate", "8.875")
    number = decimal_number(body.removesuffix("%").rstrip())
    if number is None or number > 100:
        raise MoneyError(
            f"{quoted(typed)} is not a rate: type a number from 0 to 100, such as 8.875."
        )
    return with_decimals(number, 4, typed)


def show_percent(percent: Decimal) -> str:
    """Return `percent` as printed, without needless zeros: ``7.25%``."""
    return f"{show_number(percent)}%"


def _without_currency(body: str) -> str:
    """Return `body` without one currency sign at its beginning or end."""
    if body and unicodedata.category(body[0]) == "Sc":
        return body[1:].lstrip()
    if body and unicodedata.category(body[-1]) == "Sc":
        return body[:-1].rstrip()
    return body


def _amount(body: str, typed: str) -> Decimal:
    if re.fullmatch(r"[1-9][0-9]{0,2}\.[0-9]{3}", body):
        raise MoneyError(
            f"{quoted(typed)} could be {body.replace('.', ',')} or {body[:-1]}: "
            "type it without the point, or with two decimals."
        )
    number = decimal_number(without_thousands(body))
    if number is None:
        raise MoneyError(f"{quoted(typed)} is not an amount: type a number, for example 184.20.")
    return with_decimals(number, 2, typed)


def _quantity(body: str) -> Decimal:
    if re.fullmatch(r"[1-9][0-9]{0,2},[0-9]{3}", body):
        raise MoneyError(
            f"{quoted(body)} could be {body.replace(',', '')} or {body.replace(',', '.')}: "
            "type the one you mean."
        )
    negative = body.startswith(MINUS_SIGNS)
    number = decimal_number(body[1:] if negative else body)
    if number is None:
        raise MoneyError(f"{quoted(body)} is not a quantity: type a number, such as 2 or 1.5.")
    return with_decimals(-number if negative else number, 3, body)


def _in_thousandths(fraction: Fraction, typed: str) -> Decimal:
    thousandths = fraction * 1000
    nearest = Decimal(max(1, round(thousandths))) / 1000
    if thousandths.denominator != 1:
        raise MoneyError(
            f"{quoted(typed)} is not exact to 3 decimals: type it as one, such as {nearest}."
        )
    return Decimal(thousandths.numerator) / 1000
