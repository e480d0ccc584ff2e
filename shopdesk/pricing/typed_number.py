"""Numbers as people type them at the counter, before it is known what they count.

How a mark between digits is read
    * ``.`` and ``,`` together: the last is the decimal mark, the other groups thousands.
    * One mark, then one or two digits: the decimal mark (``1,18`` is 1.18).
    * The same mark twice or more, and every space or apostrophe: thousands.
    * One mark, then three digits: the field decides (see `shopdesk.pricing.money`).
"""

import re
import unicodedata
from decimal import Decimal
from fractions import Fraction

MINUS_SIGNS = ("-", "\N{MINUS SIGN}")

_GROUPED = re.compile(
    "(?P<whole>[1-9][0-9]{0,2}(?P<mark>[., '\N{RIGHT SINGLE QUOTATION MARK}])[0-9]{3}"
    "(?:(?P=mark)[0-9]{3})*)(?P<rest>[.,][0-9]*)?"
)
_DECIMAL = re.compile(r"[0-9]{0,20}[.,]?[0-9]{0,20}")
_FRACTION = re.compile(r"(?:([0-9]{1,4})[ -])?([0-9]{1,4})/([0-9]{1,4})")


class MoneyError(ValueError):
    """An amount, quantity or rate can't be used; ``str(error)`` says what to do about it."""


def exact(value: Decimal) -> Decimal:
    """Return `value` if it is an exact, finite decimal number.

    Raises:
        TypeError: it is a float or anything else but a `Decimal`.
        MoneyError: it is infinite or not a number.
    """
    if not isinstance(value, Decimal):
        raise TypeError(f"Decimal needed, got {type(value).__name__} {value!r}")
    if not value.is_finite():
        raise MoneyError(f"{value} is not an amount: type a number, for example 184.20.")
    return value


def quoted(typed: str) -> str:
    """Return the beginning of `typed` in quotation marks, so that an error can name it."""
    visible = (char if char.isprintable() else "\N{REPLACEMENT CHARACTER}" for char in typed)
    line = "".join(visible).strip()
    return f"“{line[:24]}…”" if len(line) > 25 else f"“{line}”"


def one_line(typed: str, what: str, example: str) -> str:
    """Return `typed` with plain single spaces; `what` and `example` complete the error.

    Raises:
        MoneyError: nothing is typed, or it holds control characters.
    """
    body = typed.strip()
    if any(unicodedata.category(char) in ("Cc", "Cs") for char in body):
        raise MoneyError(
            f"{quoted(typed)} holds characters that can't be printed: type {what} again, "
            f"for example {example}."
        )
    if not body:
        raise MoneyError(f"Nothing is typed here: type {what}, for example {example}.")
    return " ".join(body.split())


def without_thousands(body: str) -> str:
    """Return `body` without the marks that group its thousands, if they group them properly."""
    grouped = _GROUPED.fullmatch(body)
    rest = (grouped["rest"] or "") if grouped else ""
    if not grouped or rest.startswith(grouped["mark"]):
        return body
    return grouped["whole"].replace(grouped["mark"], "") + rest


def decimal_number(body: str) -> Decimal | None:
    """Return the number if `body` is digits with at most one decimal mark, or None."""
    if not _DECIMAL.fullmatch(body) or not any(char.isdigit() for char in body):
        return None
    return Decimal(body.replace(",", "."))


def fraction_number(body: str) -> Fraction | None:
    """Return the number if `body` is a fraction (``1/2``, ``1 1/2``, ``1-1/2``, ``1½``), or None.

    Raises:
        MoneyError: it divides by zero.
    """
    match = _FRACTION.fullmatch(_with_plain_fraction(body))
    if not match:
        return None
    whole, above, below = (int(part or 0) for part in match.groups())
    if not below:
        raise MoneyError(f"{quoted(body)} divides by zero: type a number, for example 1/2.")
    return whole + Fraction(above, below)


def show_number(number: Decimal) -> str:
    """Return `number` without needless zeros: ``2``, ``1.5``."""
    whole, point, decimals = f"{exact(number):f}".partition(".")
    return whole + (point + decimals).rstrip("0").rstrip(".")


def with_decimals(number: Decimal, most: int, typed: str) -> Decimal:
    """Return `number` without needless zeros.

    Raises:
        MoneyError: it needs more than `most` decimals.
    """
    kept = Decimal(show_number(number))
    if -int(kept.as_tuple().exponent) > most:
        raise MoneyError(
            f"{quoted(typed)} has more than {most} decimals: round it and type it again."
        )
    return kept


def _with_plain_fraction(body: str) -> str:
    """Return ``1½`` as ``1 1/2``."""
    apart = "".join(
        f" {char}" if unicodedata.decomposition(char).startswith("<fraction>") else char
        for char in body
    )
    plain = unicodedata.normalize("NFKC", apart).replace("\N{FRACTION SLASH}", "/")
    return " ".join(plain.split())
