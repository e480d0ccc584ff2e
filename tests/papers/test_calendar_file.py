"""The calendar file of a machine's upkeep: what stands in it, and that it stays the same."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest
from icalendar import Calendar

from shopdesk.papers.calendar_file import calendar_file, save_calendar
from tests.papers.samples import REMINDER, SHOP, WORDS

NOW = datetime(2027, 3, 14, 15, 0, tzinfo=UTC)


def events(file: bytes) -> list[Any]:
    return list(Calendar.from_ical(file).walk("VEVENT"))


def test_each_task_is_a_day_with_its_why_and_an_alarm_a_week_before() -> None:
    file = calendar_file(REMINDER, WORDS, 7, NOW)
    first = events(file)[0]
    task = REMINDER.tasks[0]
    assert first["dtstart"].dt == task.on
    assert first["dtend"].dt == task.on + timedelta(days=1)
    assert first["summary"] == f"String trimmer, Tarnbeck TB-26: {task.title}"
    assert task.words in first["description"]
    assert task.because in first["description"]
    assert "Fernhollow Small Engines, 555-0142" in first["description"]
    (alarm,) = first.walk("VALARM")
    assert alarm["trigger"].dt == timedelta(days=-7)
    assert len(events(file)) == len(REMINDER.tasks)


def test_cautions_stand_with_what_the_owner_does_alone() -> None:
    described = {
        str(one["summary"]): str(one["description"])
        for one in events(calendar_file(REMINDER, WORDS, 7, NOW))
    }
    for task in REMINDER.tasks:
        said = described[f"String trimmer, Tarnbeck TB-26: {task.title}"]
        assert (REMINDER.cautions[0] in said) is task.owner_can


def test_what_comes_with_the_season_returns_every_year() -> None:
    yearly = replace(REMINDER, tasks=(replace(REMINDER.tasks[0], yearly=True), REMINDER.tasks[1]))
    first, second = events(calendar_file(yearly, WORDS, 7, NOW))
    assert "rrule" in first
    assert "rrule" not in second


def test_a_later_file_takes_the_place_of_the_earlier() -> None:
    tasks = tuple(replace(one, key=f"task-{place}") for place, one in enumerate(REMINDER.tasks))
    first = events(calendar_file(replace(REMINDER, tasks=tasks), WORDS, 7, NOW))
    moved = tuple(replace(one, on=one.on + timedelta(days=30)) for one in tasks)
    later = events(calendar_file(replace(REMINDER, tasks=moved), WORDS, 9, NOW + timedelta(days=1)))
    assert [one["UID"] for one in first] == [one["UID"] for one in later]
    assert [one["SEQUENCE"] for one in first] == [7] * len(first)
    assert [one["SEQUENCE"] for one in later] == [9] * len(first)
    assert len({one["UID"] for one in first}) == len(first)


def test_words_that_mean_something_to_a_calendar_are_only_words() -> None:
    hostile = "Clean; it, now\nBEGIN:VALARM\\ \r\nATTACH:file:///etc/passwd"
    tasks = (replace(REMINDER.tasks[0], title=hostile, words=hostile),)
    file = calendar_file(replace(REMINDER, tasks=tasks), WORDS, 7, NOW)
    (event,) = events(file)
    assert len(event.walk("VALARM")) == 1
    assert "ATTACH" not in event
    assert all(not line.startswith(b"ATTACH") for line in file.splitlines())


def test_a_shop_without_an_address_still_has_a_uid() -> None:
    file = calendar_file(replace(REMINDER, shop=replace(SHOP, email="")), WORDS, 7, NOW)
    assert all(str(one["UID"]).endswith("@shopdesk.invalid") for one in events(file))


def test_a_moment_without_its_zone_is_refused() -> None:
    with pytest.raises(ValueError, match="zone"):
        calendar_file(REMINDER, WORDS, 7, NOW.replace(tzinfo=None))


def test_it_is_saved_whole_under_a_safe_name(tmp_path: Path) -> None:
    file = save_calendar(tmp_path / "new", "T1001 ../upkeep", b"BEGIN:VCALENDAR\r\n")
    assert file == tmp_path / "new" / "T1001 upkeep.ics"
    assert file.read_bytes() == b"BEGIN:VCALENDAR\r\n"
