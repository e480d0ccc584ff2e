"""The upkeep of a machine for the owner's own calendar, as an iCalendar file (RFC 5545)."""

from collections.abc import Sequence
from datetime import datetime, timedelta
from pathlib import Path

from icalendar import Alarm, Calendar, Event

from shopdesk.files import safe_name, write_whole
from shopdesk.job.paper_content import ReminderContent, UpkeepRow
from shopdesk.papers.words import Words

_A_WEEK_BEFORE = timedelta(days=-7)


def calendar_file(
    content: ReminderContent, words: Words, number: int, written_at: datetime
) -> bytes:
    """Return the file: an all-day event for each task, each with an alarm a week before.

    A task that comes with the season returns every year. ``number`` is that of the reminder: a
    later one of the same machine takes the place of the earlier, by UID and SEQUENCE. Raises
    ``ValueError`` for ``written_at`` without a zone.
    """
    if written_at.tzinfo is None:
        raise ValueError("the moment of writing needs its zone")
    calendar = Calendar()
    calendar.add("prodid", "-//shopdesk//upkeep//EN")
    calendar.add("version", "2.0")
    calendar.add("method", "PUBLISH")
    say = words.on(
        "reminder",
        shop=content.shop.name,
        phone=content.shop.phone,
        owner=content.owner.name,
        machine=content.machine.title,
        machine_in_text=content.machine.in_text,
    )
    for row in content.tasks:
        calendar.add_component(
            _event(
                row,
                uid=_uid(content, row),
                summary=say("calendar_title", task=row.title),
                words=_description(content, row, say("calendar_call")),
                number=number,
                written_at=written_at,
            )
        )
    return bytes(calendar.to_ical())


def save_calendar(folder: Path, name: str, file: bytes) -> Path:
    """Write a calendar file whole or not at all; raises ``OSError`` if it can't be written."""
    return write_whole(folder / f"{safe_name(name)}.ics", file)


def _event(
    row: UpkeepRow, *, uid: str, summary: str, words: str, number: int, written_at: datetime
) -> Event:
    event = Event()
    event.add("uid", uid)
    event.add("dtstamp", written_at)
    event.add("sequence", number)
    event.add("dtstart", row.on)
    event.add("dtend", row.on + timedelta(days=1))
    event.add("summary", summary)
    event.add("description", words)
    event.add("transp", "TRANSPARENT")
    if row.yearly:
        event.add("rrule", {"freq": "yearly"})
    alarm = Alarm()
    alarm.add("action", "DISPLAY")
    alarm.add("description", summary)
    alarm.add("trigger", _A_WEEK_BEFORE)
    event.add_component(alarm)
    return event


def _uid(content: ReminderContent, row: UpkeepRow) -> str:
    """Return what stays the same for one task of one machine, whenever the file is written."""
    named = [content.machine.serial or content.machine.title, row.key or row.title]
    plain = ["".join(c if c.isascii() and c.isalnum() else "-" for c in one) for one in named]
    domain = content.shop.email.rpartition("@")[2] or "shopdesk.invalid"
    return f"{'-'.join(plain)}@{domain}"


def _description(content: ReminderContent, row: UpkeepRow, call: str) -> str:
    why: Sequence[str] = (row.words, row.because)
    own = list(content.cautions) if row.owner_can else []
    return "\n".join(line for line in (*why, *own, call) if line)
