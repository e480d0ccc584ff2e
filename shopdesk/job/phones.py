"""Phones as typed at the counter: a label, a number, and whether two numbers are the same phone."""

import re

from peewee import Expression

from shopdesk.errors import JobError
from shopdesk.records.tables import Phone
from shopdesk.text import digits

FEWEST_DIGITS = 3
MOST_DIGITS = 20
"""Fifteen at most by ITU-T E.164, and an extension."""
_FEWEST_OF_A_SUBSCRIBER = 7
"""So many last digits name one phone, whatever codes are dialled before them."""
_FEWEST_OF_ANOTHER = 5
_EXTENSION = re.compile(r"(?:\bext(?:ension)?\.?|x|#)\s*\d+", re.I)
_BETWEEN = re.compile(r"[^\W\d_]+|[,/;&]")


def split_label(phone: str, field: str) -> tuple[str, str]:
    """Return ``home 555-0142`` as label and number. Raises ``JobError`` at ``field``."""
    start = next(
        (place for place, char in enumerate(phone) if char.isdigit() or char in "+("), len(phone)
    )
    label, number = phone[:start].strip(" :,"), phone[start:].strip()
    refuse_unless_phone(phone, number, field)
    return label, number


def refuse_unless_phone(said: str, number: str, field: str) -> None:
    """Raise ``JobError`` at ``field`` unless ``number`` is one phone; ``said`` is all of it."""
    count = len(digits(number))
    if count < FEWEST_DIGITS:
        raise JobError(
            f"“{said}” is no phone number: type its digits, such as 555-0142, or leave it empty.",
            field,
        )
    if count > MOST_DIGITS:
        raise JobError(
            f"“{said[:24]}…” has {count} digits, and no phone has more than {MOST_DIGITS}: "
            "check it.",
            field,
        )
    parts = _BETWEEN.split(_EXTENSION.sub("", number))
    if sum(len(digits(part)) >= _FEWEST_OF_ANOTHER for part in parts) > 1:
        raise JobError(f"“{said}” is more than one phone: type each by itself.", field)


def is_same_phone(one: str, other: str) -> bool:
    """Whether two phones' digits are of one phone: one may leave out codes that begin the other."""
    shorter, longer = sorted((one, other), key=len)
    return one == other or (len(shorter) >= _FEWEST_OF_A_SUBSCRIBER and longer.endswith(shorter))


def same_phone(number: str) -> Expression:
    """Match the rows of that phone, as ``is_same_phone`` does; ``number`` is its digits."""
    lengths = range(_FEWEST_OF_A_SUBSCRIBER, len(number))
    matches = Phone.digits.in_([number, *(number[-length:] for length in lengths)])
    if len(number) >= _FEWEST_OF_A_SUBSCRIBER:
        matches |= Phone.digits.endswith(number)
    return matches
