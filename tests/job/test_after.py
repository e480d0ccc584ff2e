"""After pickup: upkeep worked out from use and repairs, and its reminders."""

from dataclasses import replace
from datetime import date

import pytest

from shopdesk.job.after import (
    STATES,
    make_reminder,
    reminder_content,
    set_reminder_state,
)
from shopdesk.job.customers import change_customer
from shopdesk.job.history import ticket_journal
from shopdesk.job.lines import change_line
from shopdesk.job.opened import open_ticket
from shopdesk.job.repair import do_line
from shopdesk.job.shift import Shift
from shopdesk.job.stages import Stage
from shopdesk.job.units import change_unit
from shopdesk.job.upkeep_plan import tasks_for, upkeep_plan
from tests.job.workshop import KIT, OWNER, TRIMMER, Clock, at_stage, kept, refused


def test_a_reminder_says_what_when_and_why(shift: Shift) -> None:
    ticket = kept(shift, make_reminder(shift, at_stage(shift, Stage.CLOSED).id))
    reminder = ticket.reminders[-1]
    content = reminder_content(shift, reminder.id)
    assert reminder.state == "open"
    assert reminder.due_on >= shift.today
    assert (content.due, content.owner.name) == (reminder.due_on, "Mara Quill")
    assert (content.machine.title, content.on) == (ticket.unit.title, shift.today)
    assert content.last_visit == date(2031, 4, 7)
    assert [row.title for row in content.tasks] == list(reminder.titles)
    assert all(row.words and row.because for row in content.tasks)


def test_the_day_may_be_chosen(shift: Shift) -> None:
    ticket = at_stage(shift, Stage.CLOSED)
    after = make_reminder(shift, ticket.id, "2031-09-01")
    assert after.reminders[-1].due_on == date(2031, 9, 1)
    with refused(shift, "due_on", "is past: choose today or a later day"):
        make_reminder(shift, ticket.id, "2031-04-01")
    with refused(shift, "due_on", "is not a date"):
        make_reminder(shift, ticket.id, "spring")


def test_a_newer_reminder_takes_the_place_of_an_open_one(shift: Shift) -> None:
    ticket = make_reminder(shift, at_stage(shift, Stage.CLOSED).id, "2031-08-01")
    after = make_reminder(shift, ticket.id, "2031-09-01")
    assert [(one.due_on.month, one.state) for one in after.reminders] == [
        (8, "stopped"),
        (9, "open"),
    ]
    assert any(
        entry.why == "replaced by a newer reminder" for entry in ticket_journal(shift, ticket.id)
    )


def test_a_reminder_that_was_sent_stays_sent(shift: Shift) -> None:
    ticket = make_reminder(shift, at_stage(shift, Stage.CLOSED).id)
    set_reminder_state(shift, ticket.reminders[0].id, "sent")
    states = [one.state for one in make_reminder(shift, ticket.id).reminders]
    assert sorted(states) == ["open", "sent"]


def test_an_owner_who_wants_no_reminders_gets_none(shift: Shift) -> None:
    ticket = at_stage(shift, Stage.CLOSED)
    change_customer(shift, ticket.owner.id, replace(OWNER, may_remind=False))
    with refused(shift, "reminder", "Mara Quill asked for no reminders"):
        make_reminder(shift, ticket.id)


@pytest.mark.parametrize("state", STATES)
def test_what_became_of_a_reminder_is_kept(shift: Shift, state: str) -> None:
    ticket = make_reminder(shift, at_stage(shift, Stage.CLOSED).id)
    set_reminder_state(shift, ticket.reminders[0].id, state.upper())
    assert open_ticket(shift, ticket.id).reminders[0].state == state


def test_a_reminder_is_refused_with_its_reason(shift: Shift) -> None:
    ticket = make_reminder(shift, at_stage(shift, Stage.CLOSED).id)
    with refused(shift, "state", "choose one of open, sent, done, stopped"):
        set_reminder_state(shift, ticket.reminders[0].id, "lost")
    with refused(shift, "reminder", "not in the records any more"):
        set_reminder_state(shift, 77, "sent")
    with refused(shift, "reminder", "not in the records any more"):
        reminder_content(shift, 77)
    with refused(shift, "ticket", "find it again"):
        make_reminder(shift, 77)


def test_what_a_repair_renewed_counts_as_done(shift: Shift) -> None:
    ticket = at_stage(shift, Stage.REPAIR)
    unit = change_unit(shift, ticket.unit.id, replace(TRIMMER, bought_on="2028-04-01"))
    title = next(task.title for task in tasks_for(unit) if task.key == "spark-plug")
    assert title in make_reminder(shift, ticket.id).reminders[-1].titles
    change_line(shift, ticket.lines[0].id, replace(KIT, renews="spark-plug"))
    do_line(shift, ticket.lines[0].id)
    assert title not in make_reminder(shift, ticket.id).reminders[-1].titles


def test_a_part_named_as_the_task_names_it_counts_as_done(shift: Shift) -> None:
    ticket = at_stage(shift, Stage.REPAIR)
    unit = change_unit(shift, ticket.unit.id, replace(TRIMMER, bought_on="2028-04-01"))
    title = next(task.title for task in tasks_for(unit) if task.key == "spark-plug")
    change_line(shift, ticket.lines[0].id, replace(KIT, description="Spark plug, M14"))
    assert title in make_reminder(shift, ticket.id).reminders[-1].titles
    do_line(shift, ticket.lines[0].id)
    assert title not in make_reminder(shift, ticket.id).reminders[-1].titles


def days_until(clock: Clock, year: int, month: int, day: int) -> int:
    return (date(year, month, day) - clock.moment.date()).days


def test_a_letter_for_spring_does_not_speak_of_last_autumn(shift: Shift, clock: Clock) -> None:
    ticket = at_stage(shift, Stage.CLOSED)
    clock.forward(days_until(clock, 2032, 3, 15))
    reminder = make_reminder(shift, ticket.id).reminders[-1]
    assert reminder.due_on == date(2032, 4, 1)
    content = reminder_content(shift, reminder.id)
    assert any(row.title.startswith("Start the season") for row in content.tasks)
    assert not any("put away" in row.title for row in content.tasks)
    assert not any("October" in row.because for row in content.tasks)
    assert min(row.on for row in content.tasks) == content.due


def test_what_to_do_is_worked_out_for_the_day_it_is_for(shift: Shift) -> None:
    ticket = at_stage(shift, Stage.CLOSED)
    change_unit(shift, ticket.unit.id, replace(TRIMMER, hours_per_week="2"))
    reminder = make_reminder(shift, ticket.id, "2031-07-01").reminders[-1]
    (row,) = (
        row for row in reminder_content(shift, reminder.id).tasks if "air filter" in row.title
    )
    assert row.on == date(2031, 7, 4)
    assert row.because.startswith("about 24 h since April (not recorded before), due at 25 h")


def test_a_letter_printed_long_after_its_day_is_worked_out_anew(shift: Shift, clock: Clock) -> None:
    ticket = at_stage(shift, Stage.CLOSED)
    reminder = make_reminder(shift, ticket.id, "2031-10-31").reminders[-1]
    assert any("put away" in title for title in reminder.titles)
    clock.forward(days_until(clock, 2031, 10, 31))
    on_its_day = reminder_content(shift, reminder.id)
    assert [row.title for row in on_its_day.tasks] == list(reminder.titles)
    clock.forward(days_until(clock, 2032, 3, 15))
    late = reminder_content(shift, reminder.id)
    assert late.due == date(2032, 4, 1)
    assert not any("put away" in row.title for row in late.tasks)
    assert late.cautions


def test_the_reminder_is_for_the_first_upkeep_ahead_and_what_is_overdue_is_for_now(
    shift: Shift,
) -> None:
    ticket = at_stage(shift, Stage.CLOSED)
    change_unit(shift, ticket.unit.id, replace(TRIMMER, bought_on="2028-04-01"))
    plan = upkeep_plan(shift, ticket.unit.id)
    days = {row.title: row.due_on for row in plan.rows if row.due_on is not None}
    overdue = {title for title, day in days.items() if day <= shift.today}
    first = min(day for day in days.values() if day > shift.today)
    reminder = make_reminder(shift, ticket.id).reminders[-1]
    assert overdue
    assert reminder.due_on == first
    rows = {row.title: row.on for row in reminder_content(shift, reminder.id).tasks}
    assert overdue & rows.keys()
    assert {title for title, day in rows.items() if day <= shift.today} == overdue & rows.keys()
    assert min(day for title, day in rows.items() if title not in overdue) == first
