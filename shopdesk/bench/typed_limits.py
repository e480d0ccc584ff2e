"""A limit as people copy it from a manual: `18 to 21.6 lbf·ft`, `12 ± 1 N·m`, `at least 0.3 mm`."""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal

from shopdesk.bench.limits import Limit
from shopdesk.bench.readings import LONGEST, Reading, ReadingError, parse_reading
from shopdesk.bench.units import SCALES, Quantity

_HOW = "type it like 18 to 21.6 lbf·ft, 12 ± 1 N·m, at least 0.3 mm or at most 3200 rpm"
_FLOOR = re.compile(r"(?:at least|min(?:imum|\.)?|>=|≥)\s*(?P<bound>.+)", re.IGNORECASE)
_CEILING = re.compile(r"(?:at most|max(?:imum|\.)?|up to|<=|≤)\s*(?P<bound>.+)", re.IGNORECASE)
_AROUND = re.compile(r"(?P<middle>.+?)\s*(?:±|\+/-|\+-)\s*(?P<either>.+)")
_RANGES = tuple(
    re.compile(rf"(?P<low>.+?){between}(?P<high>.+)")
    for between in (r"\s+to\s+", r"\s*[–—]\s*", r"\s+-\s+", r"(?<=\d)-(?=[.,]?\d)")
)
_UNIT = re.compile(r"[-\d.,/\s]*(?P<unit>\D.*)?")
_SETTINGS_FIRST = (Quantity.TORQUE, Quantity.LENGTH, Quantity.SPEED, *Quantity)
"""Where a unit is of several quantities ("m"), what is set by hand goes first."""


@dataclass(frozen=True, slots=True)
class TypedLimit:
    """What is measured and in which unit; `limit` is None where only the unit was typed."""

    quantity: Quantity
    unit: str
    limit: Limit | None


def parse_limit(typed: str, source: str) -> TypedLimit:
    """Read a limit that `source` names, or a unit alone. Raises ReadingError with a sentence."""
    written = " ".join(typed.split())
    if len(written) > LONGEST:
        raise ReadingError(f"That is too long for a limit: {_HOW}.")
    if match := _FLOOR.fullmatch(written):
        return _one_sided(match["bound"], source, floor=True)
    if match := _CEILING.fullmatch(written):
        return _one_sided(match["bound"], source, floor=False)
    if match := _AROUND.fullmatch(written):
        return _around(match["middle"], match["either"], source)
    for pattern in _RANGES:
        if match := pattern.fullmatch(written):
            return _between(match["low"], match["high"], source)
    if quantity := _quantity_of(written):
        return TypedLimit(quantity, _named(quantity, written), None)
    raise ReadingError(f"“{written}” is no limit: {_HOW}.")


def _one_sided(bound: str, source: str, *, floor: bool) -> TypedLimit:
    reading = _bound(bound, _unit_in(bound))
    low, high = (reading.number, None) if floor else (None, reading.number)
    return _limited(reading, Limit(reading.unit, source, low, high))


def _between(low_words: str, high_words: str, source: str) -> TypedLimit:
    unit = _unit_in(high_words) or _unit_in(low_words)
    low, high = _bound(low_words, unit), _bound(high_words, unit)
    if low.unit != high.unit:
        raise ReadingError(f"{low.unit} and {high.unit} are mixed: use one unit for both figures.")
    if low.number > high.number:
        raise ReadingError(f"{low.number} is over {high.number}: type the smaller figure first.")
    return _limited(high, Limit(high.unit, source, low.number, high.number))


def _around(middle_words: str, either_words: str, source: str) -> TypedLimit:
    percent = either_words.strip().endswith("%")
    unit = _unit_in(middle_words) if percent else _unit_in(either_words) or _unit_in(middle_words)
    middle = _bound(middle_words, unit)
    either = _percent_of(middle, either_words) if percent else _bound(either_words, unit).number
    low, high = (middle.number + sign * either for sign in (-1, 1))
    if low < 0:
        raise ReadingError(f"{either} is more than {middle.number}: the limit would go below zero.")
    return _limited(middle, Limit(middle.unit, source, low, high))


def _percent_of(middle: Reading, words: str) -> Decimal:
    """Return that share of the figure, to as many digits as it has and one more."""
    share = parse_reading(words, Quantity.PERCENT, "%").si * middle.number
    exponent = middle.number.as_tuple().exponent
    return share.quantize(Decimal(1).scaleb(min(0, int(exponent)) - 1)).normalize()


def _unit_in(words: str) -> str:
    match = _UNIT.fullmatch(words.strip())
    return (match["unit"] or "").strip(" .") if match else ""


def _limited(reading: Reading, limit: Limit) -> TypedLimit:
    return TypedLimit(reading.quantity, reading.unit, limit)


def _bound(words: str, unit: str) -> Reading:
    if not unit:
        raise ReadingError(f"The limit names no unit: {_HOW}.")
    quantity = _quantity_of(unit)
    if quantity is None:
        raise ReadingError(f"“{unit}” is not a unit known here: {_HOW}.")
    return parse_reading(words, quantity, _named(quantity, unit))


def _quantity_of(unit: str) -> Quantity | None:
    return next((each for each in _SETTINGS_FIRST if SCALES[each].named(unit)), None)


def _named(quantity: Quantity, unit: str) -> str:
    named = SCALES[quantity].named(unit)
    assert named is not None
    return named.name
