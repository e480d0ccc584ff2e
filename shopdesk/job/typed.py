"""Turns what was typed in a field into its value, or says at that field what is wrong with it."""

import re
import unicodedata
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from datetime import date, timedelta
from decimal import Decimal

from shopdesk.dates import parse_date, show_date
from shopdesk.errors import JobError
from shopdesk.pricing.labour import TenthRule, tenths
from shopdesk.pricing.money import parse_money, parse_percent, parse_quantity
from shopdesk.text import clean_line, clean_text, letters_and_digits

LINE_LIMIT = 200
TEXT_LIMIT = 10_000
MOST_WORDS = 12
FURTHEST_AHEAD = timedelta(days=5 * 365)
_BLANK_LETTERS = "\u115f\u1160\u2800\u3164\uffa0"


@contextmanager
def at_field(field: str) -> Iterator[None]:
    """Turn the thinking rooms' complaint about a value into a ``JobError`` at ``field``."""
    try:
        yield
    except ValueError as error:
        raise JobError(str(error), field) from error


def line(typed: str, field: str, what: str, *, needed: bool = False) -> str:
    """Return one clean line; ``what`` names it when it is too long, or ``needed`` and empty."""
    with at_field(field):
        text = clean_line(typed, LINE_LIMIT, what)
    if needed and _is_blank(text):
        raise JobError(f"{what} is empty: type it.", field)
    return text


def words_looked_for(typed: str) -> str:
    """Return what is looked for on one clean line, cut where nobody types on."""
    return " ".join(clean_line(typed[:LINE_LIMIT], LINE_LIMIT).split()[:MOST_WORDS])


def text(typed: str, field: str, what: str, *, needed: bool = False) -> str:
    """Return clean text of several lines; see ``line``."""
    with at_field(field):
        cleaned = clean_text(typed, TEXT_LIMIT, what)
    if needed and _is_blank(cleaned):
        raise JobError(f"{what} is empty: type it.", field)
    return cleaned


def _is_blank(text: str) -> bool:
    """Whether nothing of it is seen: blanks that count as letters, or accents without a letter."""
    return all(char in _BLANK_LETTERS or unicodedata.category(char)[0] in "MZC" for char in text)


def money(typed: str, field: str, *, allow_negative: bool = False) -> Decimal:
    """Return an amount of money; raises at the field for anything else."""
    with at_field(field):
        return parse_money(typed, allow_negative)


def optional_money(typed: str, field: str) -> Decimal | None:
    """Return an amount, or ``None`` for an empty field."""
    return money(typed, field) if typed.strip() else None


def quantity(typed: str, field: str) -> Decimal:
    """Return how many or how much."""
    with at_field(field):
        return parse_quantity(typed)


def optional_quantity(typed: str, field: str) -> Decimal | None:
    """Return a quantity, or ``None`` for an empty field."""
    return quantity(typed, field) if typed.strip() else None


MINUTES_IN_AN_HOUR = 60
_CLOCK = re.compile(
    r"(?:(\d{1,3})\s*(?:h|hr|hrs|hours?|:)\s*)?(?:(\d{1,4})\s*(?:m|min|mins|minutes?)?)?", re.I
)
_LONG_DAY = 10
"""Hours; what is over it is hardly meant as hours."""
_MINUTES_SIGN = re.compile(r":|\d\s*[hm]", re.I)


def bench_hours(typed: str, field: str) -> Decimal:
    """Return hours in tenths from ``0.5``, ``1 1/2``, ``27 min``, ``1:15`` or ``1 h 15``."""
    hours = tenths(_minutes(typed, field), TenthRule.NEAREST)
    if not 0 < hours <= 999:
        raise JobError(
            f"“{typed.strip()}” comes to {hours} h: "
            "type hours such as 0.5, or minutes such as 27 min.",
            field,
        )
    return hours


def bench_minutes(typed: str, field: str) -> Decimal:
    """Return the minutes of one spell at the bench, typed as for ``bench_hours``; a day at most.

    A bare number is hours, as everywhere; where that would be a long day it is asked about.
    """
    said = typed.strip()
    ask_which(typed, field)
    minutes = _minutes(typed, field).quantize(Decimal("0.001"))
    if not 0 < minutes <= 24 * MINUTES_IN_AN_HOUR:
        raise JobError(
            f"“{said}” is no time for one spell at the bench: type it as 27 min or 1:20, "
            "a day at most.",
            field,
        )
    return minutes


def ask_which(typed: str, field: str) -> None:
    """Raise ``JobError`` for a bare number that as hours would be more than a long day."""
    said = typed.strip()
    if said.isdecimal() and int(said) > _LONG_DAY:
        raise JobError(f"“{said}” could be minutes or hours: type {said} min, or {said} h.", field)


def _minutes(typed: str, field: str) -> Decimal:
    clock = _CLOCK.fullmatch(typed.strip()) if _MINUTES_SIGN.search(typed) else None
    if not clock or not any(clock.groups()):
        return quantity(typed, field) * MINUTES_IN_AN_HOUR
    if clock[1] and int(clock[2] or 0) >= MINUTES_IN_AN_HOUR:
        raise JobError(
            f"“{typed.strip()}” has {clock[2]} minutes beside its hours: an hour has 60.", field
        )
    return Decimal(clock[1] or 0) * MINUTES_IN_AN_HOUR + Decimal(clock[2] or 0)


def email(typed: str, field: str) -> str:
    """Return an e-mail address, or empty; only what can't be one is refused."""
    address = line(typed, field, "The e-mail address")
    local, _, domain = address.rpartition("@")
    if address and (not local or not domain or " " in address):
        raise JobError(
            f"“{address}” is no e-mail address: type it like name@example.com, or leave it empty.",
            field,
        )
    return address


def percent(typed: str, field: str) -> Decimal:
    """Return a rate from 0 to 100."""
    with at_field(field):
        return parse_percent(typed)


def day(typed: str, field: str, today: date, *, day_first: bool, past: bool = False) -> date | None:
    """Return the day that was typed, or ``None`` for an empty field; refuse one of another age."""
    if not typed.strip():
        return None
    with at_field(field):
        chosen = parse_date(typed, today, day_first=day_first, past=past)
    if chosen - today > FURTHEST_AHEAD:
        raise JobError(f"{show_date(chosen)} is over five years off: check the year.", field)
    return chosen


def choice(
    typed: str, field: str, choices: Iterable[str], what: str, *, needed: bool = False
) -> str:
    """Return one of ``choices`` (capitals and commas count for nothing), or empty if allowed."""
    wanted = line(typed, field, what, needed=needed)
    if not wanted:
        return ""
    known = tuple(choices)
    for one in known:
        if letters_and_digits(one) == letters_and_digits(wanted):
            return one
    raise JobError(f"{what} can't be “{wanted[:40]}”: choose one of {', '.join(known)}.", field)


def quantity_from_zero(typed: str, field: str) -> Decimal:
    """Return how many, where 0 is an answer as well."""
    zero = re.fullmatch(r"0+([.,]0*)?", typed.strip(), re.ASCII)
    return Decimal(0) if zero else quantity(typed, field)


def days(typed: str, field: str, what: str) -> int:
    """Return a whole number of days, up to ten years of them; ``what`` begins the error."""
    number = line(typed, field, what)
    if not re.fullmatch(r"\d{1,4}", number, re.ASCII) or int(number) > 3650:
        raise JobError(f"{what} can't be “{number}”: type a whole number up to 3650.", field)
    return int(number)
