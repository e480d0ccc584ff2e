"""The shop's flat times by keyboard: from the settings, the list, the form, what was left typed."""

from decimal import Decimal

import pytest

from shopdesk.desk.labour.flat_choice import choose_flat_time
from shopdesk.desk.labour.flat_times import FlatTimes
from shopdesk.job.labour.bill import count_toward
from shopdesk.job.labour.clock import TimeEntry, add_time
from shopdesk.job.labour.flat_times import FlatTimeEntry, add_flat_time, flat_time_line, flat_times
from shopdesk.job.shift import Shift
from shopdesk.job.views import TicketView
from tests.job.mended import closed
from tests.window.conftest import Driver
from tests.window.so_far import at_bench


@pytest.fixture
def sheet(desk: Driver) -> FlatTimes:
    """The sheet, opened from the settings."""
    desk.press("<F10>", "<Alt-t>")
    found = desk.window.in_sight
    assert isinstance(found, FlatTimes)
    return found


def test_a_flat_time_is_added_with_a_few_keys(desk: Driver, shift: Shift, sheet: FlatTimes) -> None:
    assert desk.focus is sheet.form["name"].input
    desk.fill("Rebuild the carburettor", "45 min", "", "string tr")
    desk.type("gummed")
    desk.press("<Return>")
    (flat,) = flat_times(shift)
    assert (flat.name, flat.hours, flat.kind, flat.cause) == (
        *("Rebuild the carburettor", Decimal("0.8")),
        *("string trimmer", "gummed-carburettor"),
    )
    assert desk.notice == "Rebuild the carburettor: 0.8 h."
    assert not sheet.form.changed
    desk.shots("flat-times")


def test_what_is_wrong_is_said_at_its_field(desk: Driver, sheet: FlatTimes) -> None:
    desk.fill("Sharpen", "soon")
    desk.press("<Control-s>")
    assert "not a quantity" in sheet.form["hours"].error
    assert desk.focus is sheet.form["hours"].input


def test_one_is_changed_left_and_dropped(desk: Driver, shift: Shift) -> None:
    flat = add_flat_time(shift, FlatTimeEntry("Sharpen the chain", "0.3", "chain saw"))
    desk.press("<F10>", "<Alt-t>")
    sheet = desk.window.in_sight
    assert isinstance(sheet, FlatTimes)
    desk.press("<Return>", "<<SelectAll>>")
    desk.type("0.4\n")
    assert flat_times(shift)[0].hours == Decimal("0.4")
    desk.press("<Alt-n>")
    sheet.list.select(flat.id)
    sheet.list.focus_list()
    desk.press("<Return>", "<Alt-x>")
    assert not sheet.form.changed
    desk.dialogs.answers = [None, "nobody asks for it"]
    desk.press("<Delete>")
    assert len(flat_times(shift)) == 1
    desk.press("<Delete>")
    assert flat_times(shift) == ()
    desk.press("<Alt-d>")
    assert desk.notice == "Choose a flat time in the list first."


def test_what_the_clock_says_stands_beside_it(
    desk: Driver, shift: Shift, ticket: TicketView
) -> None:
    flat = add_flat_time(shift, FlatTimeEntry("Clean it", "0.3"))
    desk.press("<F10>", "<Alt-t>")
    sheet = desk.window.in_sight
    assert isinstance(sheet, FlatTimes)
    assert sheet.list.cells(flat.id)[-1] == ""
    charged = flat_time_line(shift, at_bench(shift, ticket).id, flat.id)
    add_time(shift, ticket.id, TimeEntry("24 min", work="repair"))
    count_toward(shift, charged.lines[0].id)
    invoiced(shift, ticket)
    sheet.show_now()
    assert sheet.list.cells(flat.id)[-1] == "0.4 h over 1 job"


def test_what_is_typed_waits_for_another_day(desk: Driver, sheet: FlatTimes) -> None:
    desk.type("Half a na")
    desk.press("<Escape>")
    assert desk.window.unsaved() == ["a flat time"]
    desk.press("<Alt-t>")
    assert sheet.form.text_of("name") == "Half a na"


def invoiced(shift: Shift, ticket: TicketView) -> None:
    """Take the ticket through to its invoice."""
    closed(shift, ticket, "0.1")


def test_the_job_is_chosen_for_a_ticket_a_screenful_at_a_time(
    desk: Driver, shift: Shift, ticket: TicketView
) -> None:
    front = desk.window.front
    assert choose_flat_time(front, ticket) is None
    assert desk.notice == (
        "There is no flat time for a string trimmer yet: add one in the settings (F10, Alt+T)."
    )
    for number in range(17):
        add_flat_time(shift, FlatTimeEntry(f"Job {number:02}", "0.5"))
    desk.dialogs.answers = [None, "Job 03", "2 more", "Job 16"]
    assert choose_flat_time(front, ticket) is None
    found = choose_flat_time(front, ticket)
    assert found is not None
    assert found.name == "Job 03"
    found = choose_flat_time(front, ticket)
    assert found is not None
    assert found.name == "Job 16"
