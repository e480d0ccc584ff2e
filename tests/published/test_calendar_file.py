"""The calendar file against RFC 5545, read by two independent libraries (icalendar and vobject)."""

from dataclasses import replace
from datetime import UTC, date, datetime
from typing import Any

import icalendar
import pytest
import vobject
from dateutil.rrule import rrulestr

from shopdesk.papers.calendar_file import calendar_file
from shopdesk.upkeep.use import Season
from tests.papers.samples import REMINDER, WORDS

NOW = datetime(2027, 3, 14, 15, 0, tzinfo=UTC)
LONG = "Nettoyer le filtre à air, puis l'huiler légèrement ; après séchage, remonter. " * 4


@pytest.fixture
def file() -> bytes:
    tasks = tuple(
        replace(one, title=f"{one.title}, with care; really", words=LONG, yearly=place == 0)
        for place, one in enumerate(REMINDER.tasks)
    )
    return calendar_file(replace(REMINDER, tasks=tasks), WORDS, 7, NOW)


def test_lines_are_folded_at_75_octets_and_end_with_crlf(file: bytes) -> None:
    """RFC 5545, section 3.1: at most 75 octets without the line break, CRLF, then a space."""
    lines = file.split(b"\r\n")
    assert lines[-1] == b""
    assert all(len(line) <= 75 for line in lines)
    assert any(line.startswith(b" ") for line in lines)
    assert b"\n" not in file.replace(b"\r\n", b"")


def test_text_is_escaped(file: bytes) -> None:
    """RFC 5545, section 3.3.11: backslash before semicolon, comma; newline as \\n."""
    unfolded = file.replace(b"\r\n ", b"")
    assert rb"with care\; really" in unfolded
    assert rb"\, with care" in unfolded
    assert rb"\n" in unfolded


def test_what_a_published_event_must_hold(file: bytes) -> None:
    """RFC 5545, 3.6 and 3.6.1: PRODID and VERSION; in each event UID and DTSTAMP, DTSTART."""
    calendar: Any = icalendar.Calendar.from_ical(file)
    assert {"PRODID", "VERSION"} <= set(calendar)
    for event in calendar.walk("VEVENT"):
        assert {"UID", "DTSTAMP", "DTSTART"} <= set(event)
    assert calendar.errors == []


def test_two_libraries_read_the_same(file: bytes) -> None:
    by_icalendar: Any = icalendar.Calendar.from_ical(file).walk("VEVENT")
    by_vobject = vobject.readOne(file.decode()).vevent_list
    assert len(by_icalendar) == len(by_vobject) == len(REMINDER.tasks)
    for one, other in zip(by_icalendar, by_vobject, strict=True):
        assert str(one["summary"]) == other.summary.value
        assert str(one["description"]) == other.description.value
        assert one["dtstart"].dt == other.dtstart.value
        assert str(one["uid"]) == other.uid.value


def test_the_season_returns_on_its_day_every_year(file: bytes) -> None:
    """RFC 5545, section 3.3.10: FREQ=YEARLY from DTSTART, as dateutil's rules work it out."""
    first = vobject.readOne(file.decode()).vevent_list[0]
    days = [moment.date() for moment in list(first.rruleset[:3])]
    begun = REMINDER.tasks[0].on
    assert days == [begun.replace(year=begun.year + n) for n in range(3)]


def test_a_season_opens_and_closes_where_the_plan_says() -> None:
    """RFC 5545 recurrence by the icalendar rule text, against the season that the plan uses."""
    season = Season(4, 10)
    opening = rrulestr("FREQ=YEARLY;BYMONTH=4;BYMONTHDAY=1", dtstart=datetime(2027, 1, 1))
    closing = rrulestr("FREQ=YEARLY;BYMONTH=10;BYMONTHDAY=-1", dtstart=datetime(2027, 1, 1))
    assert season.first_opening_from(date(2027, 1, 1)) == opening[0].date()
    assert season.first_close_from(date(2027, 1, 1)) == closing[0].date()
    assert season.first_opening_from(date(2027, 4, 2)) == opening[1].date()
