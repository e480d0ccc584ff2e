"""The demo has enough years: readings that drift, letters, upkeep by use, machines not fetched."""

from collections import Counter
from datetime import timedelta

from shopdesk.job.due_list import due_list
from shopdesk.job.due_messages import upkeep_messages
from shopdesk.job.invitations import invitations
from shopdesk.job.messages import State
from shopdesk.job.own_intervals import intervals_of_unit
from shopdesk.job.readings_over_time import readings_over_time
from shopdesk.job.reports.came_back import comebacks
from shopdesk.job.reports.period import Period
from shopdesk.job.reports.promises import kept_promises
from shopdesk.job.shift import Shift
from shopdesk.job.unfetched import unfetched
from shopdesk.records.tables import (
    Customer,
    Message,
    MeterReading,
    Reminder,
    Ticket,
    Unit,
    UpkeepDone,
)
from tests.demo.conftest import TODAY


def test_one_saws_compression_drifts_down_and_will_cross_its_limit(shift: Shift) -> None:
    with shift.records.reading():
        saw = Unit.get(Unit.serial == "OX6696C").id
    (course,) = [one for one in readings_over_time(shift, saw) if one.check_key == "compression"]
    assert len(course.points) >= 5
    values = [point.value for point in course.points]
    assert values == sorted(values, reverse=True)
    assert course.crosses_on is not None
    assert course.crosses_on > TODAY
    assert course.heading


def test_comebacks_of_several_causes_were_linked(shift: Shift) -> None:
    found = comebacks(shift, Period(TODAY - timedelta(days=1500), TODAY)).back
    assert len(found) >= 6
    assert len({one.cause for one in found}) >= 4


def test_machines_stand_unfetched_with_letters_of_each_step(shift: Shift) -> None:
    waiting = unfetched(shift)
    assert {len(one.letters) for one in waiting} >= {0, 1, 2, 3}
    assert all(letter.state is State.SENT for one in waiting for letter in one.letters)
    assert any(one.storage_on_ticket for one in waiting)
    with shift.records.reading():
        (gone,) = Ticket.select().where(Ticket.outcome == "not fetched")
        steps = {row.step for row in Message.select().where(Message.ticket == gone.id)}
    assert steps == {1, 2, 3}
    assert "taken apart" in gone.became


def test_messages_about_upkeep_came_to_every_end(shift: Shift) -> None:
    kept = upkeep_messages(shift, list(State))
    assert {one.message.state for one in kept} >= {
        State.MADE,
        State.SENT,
        State.ANSWERED,
        State.BOOKED,
        State.CAME_BACK,
    }
    notes = {one.message.note for one in kept}
    assert notes >= {"moved away", "sold it", "wants no more"}
    with shift.records.reading():
        assert Customer.select().where(Customer.moved_away).count() == 1
        assert Unit.select().where(Unit.gone_on.is_null(False)).count() >= 1
        ways = {row.preferred_way for row in Customer.select()}
    assert ways >= {"e-mail", "letter", "postcard", "phone", "text"}


def test_most_promises_were_kept_and_some_were_not(shift: Shift) -> None:
    found = kept_promises(shift, Period(TODAY - timedelta(days=1500), TODAY))
    late = [one for one in found if one.late > 0]
    assert 0.03 < len(late) / len(found) < 0.3


def test_reminders_stand_in_every_state(shift: Shift) -> None:
    with shift.records.reading():
        states = Counter(row.state for row in Reminder.select())
    assert min(states[state] for state in ("open", "sent", "done", "stopped")) >= 3


def test_enough_is_due_for_the_weeks_to_be_levelled(shift: Shift) -> None:
    owners = due_list(shift, TODAY + timedelta(days=60))
    assert len(owners) >= 12
    assert sum(one.owner.endswith("Threlkeld-Oake") for one in owners) == 3, "one household"
    to_next_spring = due_list(shift, TODAY + timedelta(days=330))
    assert any(len(one.machines) >= 3 for one in to_next_spring)
    asked = invitations(shift, to_next_spring)
    guests = [len(week.owners) for week in asked.weeks if week.owners]
    assert len(guests) >= 6
    assert max(guests) < sum(guests) / 2, "not all of them in one week"
    assert asked.pace > 0


def test_upkeep_goes_by_meters_by_owners_words_and_by_our_own_intervals(shift: Shift) -> None:
    with shift.records.reading():
        by_unit = Counter(row.unit_id for row in MeterReading.select())
        assert max(by_unit.values()) >= 3
        assert UpkeepDone.select().where(UpkeepDone.done_by == "the owner").count() >= 5
        trimmer = Unit.get(Unit.serial == "TA4126F").id
        generator = Unit.get(Unit.serial == "MO4507E").id
    assert [one.every for one in intervals_of_unit(shift, trimmer)] == ["25 h or 12 months"]
    assert [one.task_key for one in intervals_of_unit(shift, generator)] == ["generator-oil"]
