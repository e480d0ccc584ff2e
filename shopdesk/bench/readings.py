"""Takes a reading as people type it, keeps it as typed, and knows what it is in SI.

How digits are read:
- A point is the decimal point: `9.8`, `.012`, `2.800` (two point eight).
- A comma before exactly three digits, with one to three digits (not a lone zero) before it, parts
  thousands: `2,800` is 2800. Any other comma is a decimal comma: `0,3` `12,4` `0,012`.
- With both, the last one is the decimal sign: `1,200.5` and `1.200,5` are both 1200.5.
- Revolutions are whole, so a point before exactly three digits parts thousands there: `2.800 rpm`.
- Spaces part thousands (`2 800`); a space or hyphen before a fraction adds it (`5 3/8`, `5-3/8`).
- Without a unit the check's usual unit is meant.
"""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from shopdesk.bench.units import SCALES, Quantity, Scale, Unit

LONGEST = 60
"""More characters than this are no reading."""


class ReadingError(ValueError):
    """What was typed is no reading; the message tells the mechanic what to do."""


@dataclass(frozen=True, slots=True)
class Reading:
    """One reading: as `typed`, its `number` and `unit`, and the same in SI (`si`, `si_unit`)."""

    typed: str
    number: Decimal
    unit: str
    si: Decimal
    si_unit: str
    quantity: Quantity


def parse_reading(typed: str, quantity: str, usual_unit: str) -> Reading:
    """Read `typed` ("142", "9.8 bar", '5 3/8"', "2,800 rpm") as a `quantity`.

    `usual_unit` is meant where no unit is typed. Raises ReadingError.
    """
    kind = Quantity(quantity)
    scale = SCALES[kind]
    usual = scale.named(usual_unit)
    if usual is None:
        raise ReadingError(
            f"“{usual_unit}” is not a unit of {kind}: correct the check's usual unit."
        )
    written = _tidy(typed)
    example = f"for example {_example(kind, usual)}"
    if not written:
        raise ReadingError(f"Nothing was typed: type the reading, {example}.")
    if len(written) > LONGEST:
        raise ReadingError(
            f"That is too long for a reading: type one number and its unit, {example}."
        )
    number, unit_words = _split(written, kind, example)
    unit = _unit_of(unit_words, kind, scale, usual)
    si = number * unit.factor + unit.offset
    _refuse_impossible(written, number, si, kind, scale)
    return Reading(typed, number, unit.name, si, scale.si_unit, kind)


def show_reading(reading: Reading) -> str:
    """Return the reading as it is shown everywhere: "142 psi", "2,800 rpm", "5 3/8 in", "50:1"."""
    number = f"{reading.number:,f}"
    if reading.unit == "in" and "/" in _tidy(reading.typed):
        number = _as_fraction(reading.number)
    return with_unit(number, reading.unit)


def with_unit(number: str, unit: str) -> str:
    """Join a number as shown and the name of its unit."""
    if unit in ("%", ":1"):
        return f"{number}{unit}"
    if number == "1" and unit in _PLURALS:
        return f"1 {_PLURALS[unit]}"
    return f"{number} {unit}"


_PLURALS = {u.name: u.one for s in SCALES.values() for u in s.units if u.one != u.name}


def _example(kind: Quantity, usual: Unit) -> str:
    number = {Quantity.PRESSURE: "142", Quantity.LENGTH: "0.012", Quantity.SPEED: "2800"}
    return with_unit(number.get(kind, "50" if kind is Quantity.MIX else "12"), usual.name)


_SIGNS = str.maketrans(
    {
        "″": '"',
        "”": '"',
        "“": '"',
        "„": '"',
        "‟": '"',
        "′": "'",
        "’": "'",
        "‘": "'",
        "−": "-",
        "–": "-",
        "—": "-",
        "‐": "-",
        "‑": "-",
        "⁄": "/",
        "∕": "/",
    }
)


def _tidy(typed: str) -> str:
    """Fold typographic quotes, primes, dashes, fractions, spaces and digits to plain ones."""
    apart = re.sub(r"(?<=\d)(?=[¼-¾⅐-⅞])", " ", typed.translate(_SIGNS))
    plain = unicodedata.normalize("NFKC", apart).translate(_SIGNS).replace("''", '"')
    digits = (str(unicodedata.decimal(c)) if c.isdecimal() else c for c in plain)
    return " ".join("".join(digits).split())


_FRACTION = re.compile(r"(?:(\d+)[ -]+)?(\d+) ?/ ?(\d+)(?!\d)")
_DIGITS = re.compile(r"(?:\d|[.,](?=\d))(?:[\d.,]|(?<=\d) (?=\d))*")
_SPLIT_RESISTANCE = re.compile(r"(\d+)([kKMRr])(\d+)$")
_MIX = re.compile(r"(\d[\d.,]*) ?(?::|/|to|in) ?(\d[\d.,]*)$", re.IGNORECASE)
_POINT_REVOLUTIONS = re.compile(r"(?!0)\d{1,3}(\.\d{3})+")
_COMMA_THOUSANDS = re.compile(r"(?!0,)\d{1,3}(,\d{3})+(\.\d+)?")
_POINT_THOUSANDS = re.compile(r"(?!0\.)\d{1,3}(\.\d{3})+,\d+")
_SPACE_THOUSANDS = re.compile(r"\d{1,3}( \d{3})+([.,]\d+)?")


def _split(written: str, kind: Quantity, example: str) -> tuple[Decimal, str]:
    """Return the number and the unit's words of a tidied reading."""
    if kind is Quantity.MIX and (mix := _MIX.match(written)):
        return _mix_ratio(_decimal(mix[1]), _decimal(mix[2])), ""
    if kind is Quantity.RESISTANCE and (code := _SPLIT_RESISTANCE.match(written)):
        return Decimal(f"{code[1]}.{code[3]}"), code[2].replace("r", "R")
    sign = -1 if written.startswith("-") else 1
    body = written.lstrip("+-= ")
    if fraction := _FRACTION.match(body):
        return sign * _fraction(fraction), body[fraction.end() :]
    digits = _DIGITS.match(body)
    if digits is None:
        raise ReadingError(
            f"“{written}” does not begin with a number: type the reading, {example}."
        )
    rest = body[digits.end() :]
    if re.match(r"[eE][+-]?\d", rest):
        raise ReadingError(f"Write the number of “{written}” out in full, {example}.")
    if re.search(r"\d", re.sub("in ?h2o|h2o|wc|(in|cm|kgf)[23]|min-1|1/min", "", rest.casefold())):
        raise ReadingError(
            f"“{written}” holds more than one number: type one number and one unit, {example}."
        )
    if kind is Quantity.SPEED and _POINT_REVOLUTIONS.fullmatch(digits[0].strip()):
        return sign * Decimal(digits[0].strip().replace(".", "")), rest
    return sign * _decimal(digits[0]), rest


def _decimal(digits: str) -> Decimal:
    """Turn digits with points, commas and spaces into a number by the rules at the file's head."""
    digits = digits.rstrip(".,")
    if _COMMA_THOUSANDS.fullmatch(digits):
        return Decimal(digits.replace(",", ""))
    if _POINT_THOUSANDS.fullmatch(digits):
        return Decimal(digits.replace(".", "").replace(",", "."))
    if _SPACE_THOUSANDS.fullmatch(digits):
        return Decimal(digits.replace(" ", "").replace(",", "."))
    if re.fullmatch(r"\d*[.,]?\d+", digits):
        return Decimal(digits.replace(",", "."))
    raise ReadingError(
        f"“{digits}” can be read in more than one way: type it plainly, for example 2800 or 0.3."
    )


def _fraction(match: re.Match[str]) -> Decimal:
    whole, top, bottom = (int(part or 0) for part in match.groups())
    if bottom == 0:
        raise ReadingError(
            f"“{match[0]}” divides by zero: type the fraction again, for example 5 3/8."
        )
    return Decimal(whole) + Decimal(top) / Decimal(bottom)


def _mix_ratio(first: Decimal, second: Decimal) -> Decimal:
    if first != 1 and second != 1:
        raise ReadingError("Type the mix as parts of fuel to one part of oil, for example 50:1.")
    return max(first, second)


def _unit_of(words: str, kind: Quantity, scale: Scale, usual: Unit) -> Unit:
    words = words.strip(" .,;:-") if kind is not Quantity.MIX else words.strip()
    if not words:
        return usual
    unit = scale.named(words)
    if unit is not None:
        return unit
    names = ", ".join(u.name for u in scale.units)
    other = next((q for q, s in SCALES.items() if s.named(words)), None)
    what = (
        f"a unit of {other}, and this is a {kind}" if other else f"not a unit of {kind} known here"
    )
    raise ReadingError(f"“{words}” is {what}: use {names}, or leave the unit out for {usual.name}.")


def _refuse_impossible(
    written: str, number: Decimal, si: Decimal, kind: Quantity, scale: Scale
) -> None:
    if number < 0 and kind is not Quantity.TEMPERATURE:
        raise ReadingError(
            f"A {kind} cannot be below zero: type “{written}” again without the minus."
        )
    if not scale.least <= si <= scale.most:
        raise ReadingError(
            f"“{written}” is far outside any {kind} met on a small engine: "
            "check the decimal sign and the unit."
        )


def _as_fraction(number: Decimal) -> str:
    whole, rest = divmod(Fraction(number), 1)
    if not rest:
        return str(whole)
    part = f"{rest.numerator}/{rest.denominator}"
    return f"{whole} {part}" if whole else part
