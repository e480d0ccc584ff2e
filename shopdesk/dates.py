"""Read a date the way people type it at the counter; show dates and times beyond mistaking."""

import re
import unicodedata
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from dateutil import tz
from dateutil.relativedelta import MO, relativedelta, weekday

WEEKDAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
WEEKDAY_NAMES = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
MONTH_NAMES = (
    *("January", "February", "March", "April", "May", "June"),
    *("July", "August", "September", "October", "November", "December"),
)

_WEEKDAY_NUMBER = {
    name.lower(): number for names in (WEEKDAYS, WEEKDAY_NAMES) for number, name in enumerate(names)
} | {"tues": 1, "weds": 2, "thur": 3, "thurs": 3}
_MONTH_NUMBER = {
    name.lower(): number for names in (MONTHS, MONTH_NAMES) for number, name in enumerate(names, 1)
} | {"sept": 9}
_NAMED_DAYS = {"today": 0, "tomorrow": 1, "yesterday": -1}
_STEPS = {
    **dict.fromkeys(("d", "day"), relativedelta(days=1)),
    **dict.fromkeys(("w", "wk", "week"), relativedelta(weeks=1)),
    **dict.fromkeys(("mo", "month"), relativedelta(months=1)),
    **dict.fromkeys(("yr", "year"), relativedelta(years=1)),
}

_FARTHEST_YEARS = 100
_SHORT_YEAR_REACH = 20
_SHORT_FORM_DAYS = 180
_YEAR = r"(?P<year>[0-9]{4}|'?[0-9]{2})"
_ISO = re.compile(r"(?P<year>[0-9]{4})([-/])(?P<month>[0-9]{1,2})\2(?P<day>[0-9]{1,2})")
_SLASHED = re.compile(rf"(?P<one>[0-9]{{1,2}})([-/])(?P<two>[0-9]{{1,2}})(?:\2{_YEAR})?")
_DOTTED = re.compile(rf"(?P<day>[0-9]{{1,2}})\. ?(?P<month>[0-9]{{1,2}})\. ?{_YEAR}?")
_DAY = r"(?P<day>[0-9]{1,2})(?:st|nd|rd|th|\.)?"
_NAME = r"(?P<name>[a-z]{3,9})\.?"
_DAY_MONTH = re.compile(rf"{_DAY}[ -]?(?:of )?{_NAME}(?:[ -]{_YEAR})?")
_MONTH_DAY = re.compile(rf"{_NAME}[ -]?{_DAY}(?:[ -]{_YEAR})?")
_WEEKDAY = re.compile(rf"(?:(?P<which>this|next|last) )?{_NAME}")
_COUNTED = re.compile(
    r"(?P<lead>in |[+-])? ?(?P<count>[0-9]{1,9}|an?|one) ?(?P<unit>[a-z]+?)s?(?P<ago> ago)?"
)
_SIGNED = re.compile(r"(?P<sign>[+-]) ?(?P<count>[0-9]{1,9})")
_NEXT_UNIT = re.compile(r"(?P<which>next|last) (?P<unit>week|month|year)")


class DateError(ValueError):
    """A date or time zone that can't be used; its text says what to type instead."""


@dataclass(frozen=True, slots=True)
class _Counter:
    """What the person at the counter takes for granted."""

    today: date
    day_first: bool
    past: bool

    @property
    def hint(self) -> str:
        slashed = "14/3" if self.day_first else "3/14"
        if self.past:
            return f"Type it like yesterday, 3 days ago, {slashed}, 14 mar or 2025-03-14."
        return f"Type it like fri, tomorrow, in 3 days, {slashed}, 14 mar or 2027-03-14."


def parse_date(typed: str, today: date, *, day_first: bool = False, past: bool = False) -> date:
    """Return the day that was typed at the counter on the day `today`.

    Understood: today, tomorrow, yesterday; fri, friday (the first one after today), this fri (today
    counts), next fri (the Friday of next week; weeks begin on Monday), last fri; in 3 days, +5,
    2 weeks, a month, 3 days ago, next week; 3/14, 3/14/27, 14 mar, mar 14 2027, 14.3., 14.03.2027,
    2027-03-14. Slashes mean month first unless `day_first`; dots always mean day first; day and
    month are never swapped to make a date possible. A weekday before a date must be the right one.

    Without a year the next such day to come is meant (today counts), or with `past` the latest one
    gone by; with `past`, bare weekdays and counts look back too, and a day after today is refused.

    Raises DateError, with a sentence that says what to type, for anything else.
    """
    counter = _Counter(today, day_first, past)
    text = " ".join(unicodedata.normalize("NFKC", typed).replace(",", " ").lower().split())
    if not text:
        raise DateError(f"No date was typed. {counter.hint}")
    day = _read(text, counter)
    if day is None:
        raise DateError(f"“{_shortened(typed)}” is not a date. {counter.hint}")
    if past and day > today:
        raise DateError(f"{show_date(day)} is still to come. Type a day that has passed, or today.")
    return day


def show_date(day: date, today: date | None = None) -> str:
    """Return the day as "Fri 14 Mar 2027", which `parse_date` reads back.

    With `today`, the year is left out for days from today to half a year ahead: "Fri 14 Mar".
    """
    short = f"{WEEKDAYS[day.weekday()]} {day.day} {MONTHS[day.month - 1]}"
    if today is not None and 0 <= (day - today).days <= _SHORT_FORM_DAYS:
        return short
    return f"{short} {day.year:04d}"


def days_between_words(day: date, today: date) -> str:
    """Return how far off a day is: "today", "tomorrow", "in 3 days", "2 days late"."""
    days = (day - today).days
    if days == 0:
        return "today"
    if days == 1:
        return "tomorrow"
    if days > 1:
        return f"in {days} days"
    return "1 day late" if days == -1 else f"{-days} days late"


def show_moment(utc: datetime, zone: str) -> str:
    """Return a stored moment (naive UTC, or aware) in the shop's zone: "Fri 14 Mar 2027, 15:05".

    Where the clocks go back and an hour comes twice, the zone's short name is added.
    Raises DateError for an unknown zone.
    """
    local = _localised(utc, zone)
    shown = f"{show_date(local.date())}, {local:%H:%M}"
    return f"{shown} {local.tzname()}" if tz.datetime_ambiguous(local) else shown


def local_day(utc: datetime, zone: str) -> date:
    """Return the day it is in the shop's zone at a stored moment (naive UTC, or aware)."""
    return _localised(utc, zone).date()


def as_utc(local: datetime, zone: str) -> datetime:
    """Return naive UTC, as it is stored, for a naive local time in the shop's zone.

    An hour that comes twice means the first of the two; one that the clocks skip moves forward.
    Raises DateError for an unknown zone.
    """
    return local.replace(tzinfo=_zone(zone)).astimezone(UTC).replace(tzinfo=None)


def _localised(utc: datetime, zone: str) -> datetime:
    aware = utc if utc.tzinfo else utc.replace(tzinfo=UTC)
    return aware.astimezone(_zone(zone))


def _zone(name: str) -> ZoneInfo:
    try:
        return ZoneInfo(name)
    except (ZoneInfoNotFoundError, ValueError, OSError):
        raise DateError(
            f"“{_shortened(name)}” is not a time zone. Type it like America/Denver or Europe/Paris."
        ) from None


def _shortened(typed: str) -> str:
    shown = "".join(letter for letter in typed.strip() if letter.isprintable())
    return shown if len(shown) <= 40 else f"{shown[:39]}…"


def _read(text: str, counter: _Counter) -> date | None:
    for reader in _READERS:
        day = reader(text, counter)
        if day is not None:
            return day
    return None


def _read_named(text: str, counter: _Counter) -> date | None:
    offset = _NAMED_DAYS.get(text)
    return None if offset is None else counter.today + timedelta(days=offset)


def _read_weekday(text: str, counter: _Counter) -> date | None:
    match = _WEEKDAY.fullmatch(text)
    if match is None or match["name"] not in _WEEKDAY_NUMBER:
        return None
    number, today = _WEEKDAY_NUMBER[match["name"]], counter.today
    if match["which"] == "this":
        return today + relativedelta(weekday=weekday(number))
    if match["which"] == "next":
        return today + relativedelta(weeks=1, weekday=MO(-1)) + timedelta(days=number)
    if match["which"] == "last" or counter.past:
        return today + relativedelta(days=-1, weekday=weekday(number)(-1))
    return today + relativedelta(days=1, weekday=weekday(number))


def _read_counted(text: str, counter: _Counter) -> date | None:
    match = _COUNTED.fullmatch(text)
    if match is None or match["unit"] not in _STEPS or (match["lead"] and match["ago"]):
        return None
    count = int(match["count"]) if match["count"].isdigit() else 1
    looks_back = match["lead"] == "-" or match["ago"] or (counter.past and not match["lead"])
    return _moved(counter, -count if looks_back else count, _STEPS[match["unit"]])


def _read_signed(text: str, counter: _Counter) -> date | None:
    match = _SIGNED.fullmatch(text)
    return match and _moved(counter, int(match["sign"] + match["count"]), _STEPS["day"])


def _read_next_unit(text: str, counter: _Counter) -> date | None:
    match = _NEXT_UNIT.fullmatch(text)
    return match and _moved(counter, 1 if match["which"] == "next" else -1, _STEPS[match["unit"]])


def _moved(counter: _Counter, count: int, step: relativedelta) -> date:
    try:
        day = counter.today + step * count
    except (OverflowError, ValueError):
        day = date.max
    if abs(day.year - counter.today.year) > _FARTHEST_YEARS:
        raise DateError(f"That is more than {_FARTHEST_YEARS} years off. {counter.hint}")
    return day


def _read_iso(text: str, counter: _Counter) -> date | None:
    match = _ISO.fullmatch(text)
    return match and _day_of(match["year"], match["month"], match["day"], counter)


def _read_slashed(text: str, counter: _Counter) -> date | None:
    match = _SLASHED.fullmatch(text)
    if match is None:
        return None
    month, day = (match["two"], match["one"]) if counter.day_first else (match["one"], match["two"])
    return _day_of(match["year"], month, day, counter)


def _read_dotted(text: str, counter: _Counter) -> date | None:
    match = _DOTTED.fullmatch(text)
    return match and _day_of(match["year"], match["month"], match["day"], counter)


def _read_month_name(text: str, counter: _Counter) -> date | None:
    match = _DAY_MONTH.fullmatch(text) or _MONTH_DAY.fullmatch(text)
    if match is None or match["name"] not in _MONTH_NUMBER:
        return None
    return _day_of(match["year"], str(_MONTH_NUMBER[match["name"]]), match["day"], counter)


def _read_after_weekday(text: str, counter: _Counter) -> date | None:
    name, _, rest = text.partition(" ")
    number = _WEEKDAY_NUMBER.get(name.removesuffix("."))
    day = None if number is None else _read_calendar(rest, counter)
    if day is not None and day.weekday() != number:
        raise DateError(f"{show_date(day)[4:]} is a {WEEKDAY_NAMES[day.weekday()]}. {counter.hint}")
    return day


def _read_calendar(text: str, counter: _Counter) -> date | None:
    for reader in (_read_iso, _read_slashed, _read_dotted, _read_month_name):
        day = reader(text, counter)
        if day is not None:
            return day
    return None


_READERS = (
    *(_read_named, _read_weekday, _read_counted, _read_signed, _read_next_unit),
    *(_read_calendar, _read_after_weekday),
)


def _day_of(year: str | None, month: str, day: str, counter: _Counter) -> date:
    if not 1 <= int(month) <= 12:
        raise DateError(f"There is no month {int(month)}. {counter.hint}")
    if year is None:
        return _nearest(int(month), int(day), counter)
    return _checked(_full_year(year, counter), int(month), int(day), counter)


def _full_year(typed: str, counter: _Counter) -> int:
    if len(typed) == 4:
        return int(typed)
    latest = counter.today.year + _SHORT_YEAR_REACH
    return latest - (latest - int(typed.removeprefix("'"))) % 100


def _nearest(month: int, day: int, counter: _Counter) -> date:
    """Return the first such day from today on, or back; 29 Feb can be up to eight years off."""
    today, way = counter.today, -1 if counter.past else 1
    for year in range(today.year, today.year + 9 * way, way):
        found = _possible(year, month, day)
        if found is not None and (found - today).days * way >= 0:
            return found
    raise DateError(f"There is no {day} {MONTHS[month - 1]}. {counter.hint}")


def _checked(year: int, month: int, day: int, counter: _Counter) -> date:
    if abs(year - counter.today.year) > _FARTHEST_YEARS:
        raise DateError(f"The year {year:04d} is too far off. {counter.hint}")
    found = _possible(year, month, day)
    if found is None:
        raise DateError(f"There is no {day} {MONTHS[month - 1]} {year:04d}. {counter.hint}")
    return found


def _possible(year: int, month: int, day: int) -> date | None:
    try:
        return date(year, month, day)
    except ValueError:
        return None
