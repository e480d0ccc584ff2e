"""An interval as people type it: ``25 h``, ``every 12 months``, ``50 h or 2 years``, ``never``."""

import re
from decimal import Decimal
from typing import TypeVar

from shopdesk.upkeep.due import Interval
from shopdesk.upkeep.use import UseError

_Number = TypeVar("_Number", Decimal, int)

NEVER = Interval()
"""Not due at all."""
_MOST_HOURS, _MOST_MONTHS = Decimal(5000), 240
_PART = re.compile(
    r"(?P<number>\d{1,5}(?:[.,]\d)?)\s*"
    r"(?P<unit>h|hrs?|hours?|mo|mths?|months?|y|yrs?|years?)\.?",
    re.I,
)
_BETWEEN = re.compile(r"\s*(?:,|/|;|or|and)\s*", re.I)
_EXAMPLE = "type it like 25 h, 12 months, 25 h or 12 months, or never"


def parse_interval(typed: str) -> Interval:
    """Return the hours and months that `typed` says; ``NEVER`` where it is not due at all.

    Raises:
        UseError: it can't be read, says the same thing twice, or is out of all reason.
    """
    said = " ".join(typed.casefold().split()).removeprefix("every ").strip()
    if said in ("never", "not at all", "no"):
        return NEVER
    hours: Decimal | None = None
    months: int | None = None
    for part in _BETWEEN.split(said):
        match = _PART.fullmatch(part.removeprefix("every ").strip())
        if match is None:
            raise UseError(f"“{typed.strip()[:40]}” is no interval: {_EXAMPLE}.")
        number = Decimal(match["number"].replace(",", "."))
        if match["unit"][0] == "h":
            hours = _once(hours, number, typed)
        else:
            of_a_year = 12 if match["unit"][0] == "y" else 1
            months = _once(months, _whole(number * of_a_year, typed), typed)
    _refuse_unreasonable(typed, hours, months)
    return Interval(hours, months)


def show_interval(interval: Interval) -> str:
    """Return it as it is said: ``25 h or 12 months``, ``never``."""
    hours = f"{interval.hours.normalize():f} h" if interval.hours is not None else ""
    months = ""
    if interval.months is not None:
        months = "1 month" if interval.months == 1 else f"{interval.months} months"
    return " or ".join(filter(None, (hours, months))) or "never"


def _once(kept: _Number | None, number: _Number, typed: str) -> _Number:
    if kept is not None:
        raise UseError(f"“{typed.strip()[:40]}” says the same twice: {_EXAMPLE}.")
    return number


def _whole(months: Decimal, typed: str) -> int:
    if months != months.to_integral_value():
        raise UseError(f"“{typed.strip()[:40]}” is no whole number of months: {_EXAMPLE}.")
    return int(months)


def _refuse_unreasonable(typed: str, hours: Decimal | None, months: int | None) -> None:
    if hours is not None and not 0 < hours <= _MOST_HOURS:
        raise UseError(f"“{typed.strip()[:40]}”: hours must be over 0 and at most {_MOST_HOURS}.")
    if months is not None and not 0 < months <= _MOST_MONTHS:
        raise UseError(f"“{typed.strip()[:40]}”: it must be over 0 and at most 20 years.")
