"""Where the shop is, as typed: its height, time zone, currency, and how dates are written there."""

import re
import unicodedata
from decimal import Decimal

from shopdesk.bench.altitude import HIGHEST_M, LOWEST_M
from shopdesk.dates import DateError, as_utc
from shopdesk.errors import JobError
from shopdesk.job import typed
from shopdesk.job.shift import clock
from shopdesk.pricing.typed_number import decimal_number, without_thousands

DAY_ORDERS = ("month first", "day first")
METRES_IN_A_FOOT = Decimal("0.3048")
_ALTITUDE = re.compile(
    r"(?P<below>[-−]?)\s*(?P<number>\d[\d., ]*?)\s*(?P<unit>m|metres?|meters?|ft|feet|foot|')?",
    re.I,
)


def read_currency(typed_sign: str) -> str:
    """Return the sign that stands before amounts."""
    sign = typed.line(typed_sign, "currency", "The currency sign", needed=True)
    if len(sign) > 4 or not all(char in "." or _is_of_a_sign(char) for char in sign):
        raise JobError(f"“{sign}” is no currency sign: type one such as $, € or CHF.", "currency")
    return sign


def read_code(typed_code: str, field: str, what: str, letters: int, example: str) -> str:
    """Return a code of so many letters, in capitals."""
    code = typed.line(typed_code, field, what, needed=True).upper()
    if not re.fullmatch(f"[A-Z]{{{letters}}}", code):
        raise JobError(
            f"“{code}” is no code of {letters} letters: type one such as {example}.", field
        )
    return code


def read_zone(typed_zone: str) -> str:
    """Return the name of a time zone that is known."""
    zone = typed.line(typed_zone, "zone", "The time zone", needed=True)
    try:
        as_utc(clock().replace(tzinfo=None), zone)
    except DateError as error:
        raise JobError(str(error), "zone") from error
    return zone


def read_day_first(order: str) -> bool:
    """Return whether 3/4 is the third of April."""
    chosen = typed.choice(order, "day_order", DAY_ORDERS, "The order of day and month", needed=True)
    return chosen == DAY_ORDERS[1]


def read_altitude(typed_altitude: str) -> Decimal:
    """Return the height above the sea in metres, to a tenth."""
    altitude = typed.line(typed_altitude, "altitude", "The altitude") or "0"
    match = _ALTITUDE.fullmatch(altitude)
    number = decimal_number(without_thousands(match["number"])) if match else None
    if match is None or number is None:
        raise JobError(f"“{altitude}” is no altitude: type it like 1609 m or 5280 ft.", "altitude")
    feet = (match["unit"] or "m").casefold()[0] in "f'"
    height = number * METRES_IN_A_FOOT if feet else number
    metres = (-height if match["below"] else height).quantize(Decimal("0.1"))
    if not LOWEST_M <= metres <= HIGHEST_M:
        raise JobError(
            f"Readings can't be judged at {metres:,} m: type the shop's height above the sea, "
            f"{LOWEST_M} to {HIGHEST_M} m.",
            "altitude",
        )
    return metres


def _is_of_a_sign(char: str) -> bool:
    return char.isalpha() or unicodedata.category(char) == "Sc"
