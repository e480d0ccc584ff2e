"""When something was said, if it is written down later: a day and a time, as people type them."""

import re
from datetime import UTC, datetime, time

from shopdesk.dates import as_utc, show_moment
from shopdesk.errors import JobError
from shopdesk.job import typed
from shopdesk.job.shift import Change

_TIME = re.compile(
    r"(?:at\s+)?(?P<hour>\d{1,2})(?:[:.](?P<minute>\d\d)\s*(?P<half>[ap]\.?m\.?)?"
    r"|\s*(?P<bare_half>[ap]\.?m\.?)|\s*h)\s*$",
    re.I,
)
_FIELD = "said"
NOON = 12


def said_at(change: Change, said: str) -> datetime:
    """Return the moment that was typed (``yesterday 16:30``, ``9:15``), or now for nothing.

    Raises ``JobError`` at ``said``: no time, no such day, or a moment still to come.
    """
    if not said.strip():
        return change.at
    match = _TIME.search(said.strip())
    if match is None:
        raise JobError(
            f"“{said.strip()[:40]}” has no time of day: type it like yesterday 16:30, or 9:15.",
            _FIELD,
        )
    words = said.strip()[: match.start()].rstrip(" ,")
    day = (
        typed.day(words, _FIELD, change.today, day_first=change.shop.day_first, past=True)
        or change.today
    )
    local = datetime.combine(day, _time(match))
    moment = as_utc(local, change.shop.zone).replace(tzinfo=UTC)
    if moment > change.at:
        now = show_moment(change.at, change.shop.zone)
        raise JobError(
            f"{show_moment(moment, change.shop.zone)} is still to come (by this computer it is "
            f"{now} now): "
            "type when they said it, or leave it empty for now.",
            _FIELD,
        )
    return moment


def _time(match: re.Match[str]) -> time:
    hour, minute = int(match["hour"]), int(match["minute"] or 0)
    half = (match["half"] or match["bare_half"] or "").lower()[:1]
    if half and 1 <= hour <= NOON:
        hour = hour % NOON + (NOON if half == "p" else 0)
    elif half:
        hour = 24
    try:
        return time(hour, minute)
    except ValueError:
        raise JobError(
            f"“{match[0].strip()}” is no time of day: type it like 16:30, or 4:30 pm.", _FIELD
        ) from None
