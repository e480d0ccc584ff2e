"""The upkeep plan of a machine: by use and meter, own intervals, and what was said to be done."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest

from shopdesk.job.after import make_reminder, reminder_content
from shopdesk.job.customers import add_customer
from shopdesk.job.lines import change_line
from shopdesk.job.meter import read_meter
from shopdesk.job.own_intervals import (
    IntervalEntry,
    drop_interval,
    intervals_of_unit,
    set_model_interval,
    set_unit_interval,
)
from shopdesk.job.repair import do_line
from shopdesk.job.shift import Shift, save_shop
from shopdesk.job.stages import Stage
from shopdesk.job.units import UnitEntry, add_unit, change_unit, get_unit
from shopdesk.job.upkeep_done import DoneEntry, say_done, take_back_done
from shopdesk.job.upkeep_plan import PlanRow, upkeep_plan
from tests.job.workshop import (
    KIT,
    OWNER,
    SHOP,
    TRIMMER,
    Clock,
    another,
    at_stage,
    refused,
    taken_in,
)

USED = replace(TRIMMER, hours_per_week="2", first_month="4", last_month="10")


def unit(shift: Shift, entry: UnitEntry = USED) -> int:
    owner = add_customer(shift, OWNER)
    return add_unit(shift, owner.id, entry).id


def row(shift: Shift, unit_id: int, key: str) -> PlanRow:
    return next(one for one in upkeep_plan(shift, unit_id).rows if one.task_key == key)


def test_the_reckoning_is_shown_with_its_interval_and_source(shift: Shift) -> None:
    found = row(shift, unit(shift), "air-filter")
    assert found.due_on == date(2031, 7, 4)
    assert found.because == ("about 0 h since April (not recorded before), due at 25 h: early July")
    assert found.every == "25 h or 12 months"
    assert found.every_from == "common practice, no published source"
    assert (found.done_on, found.done_words) == (None, "not recorded")


def test_what_is_known_of_its_use_is_said(shift: Shift) -> None:
    assert upkeep_plan(shift, unit(shift)).use == "Used: 2 h a week, as its owner says; Apr to Oct."
    other = upkeep_plan(shift, another(shift, 1).unit.id).use
    assert other == "Used: hours a week not known; Apr to Oct, the usual months."


def test_the_earliest_comes_first_and_what_has_no_day_last(shift: Shift) -> None:
    days = [one.due_on for one in upkeep_plan(shift, unit(shift)).rows]
    known = [day for day in days if day is not None]
    assert known == sorted(known)
    assert all(day is None for day in days[len(known) :])


def test_what_the_owner_did_counts_from_that_day(shift: Shift) -> None:
    machine = unit(shift)
    say_done(shift, machine, DoneEntry("air-filter", "yesterday", note="washed it"))
    found = row(shift, machine, "air-filter")
    assert found.done_on == date(2031, 4, 6)
    assert found.done_words == "the owner says: washed it"
    assert found.said_id is not None
    take_back_done(shift, found.said_id, "it was another machine")
    assert row(shift, machine, "air-filter").done_on is None


@pytest.mark.parametrize(
    ("entry", "field", "says"),
    [
        (DoneEntry("waxing"), "task_key", "“waxing” is no upkeep task"),
        (DoneEntry("air-filter", "tomorrow"), "done_on", "is still to come"),
        (DoneEntry("air-filter", done_by="nobody"), "done_by", "can't be “nobody”"),
        (DoneEntry("air-filter", meter_hours="lots"), "meter_hours", "is no meter reading"),
    ],
)
def test_what_cant_be_kept_is_said_at_its_field(
    shift: Shift, entry: DoneEntry, field: str, says: str
) -> None:
    machine = unit(shift)
    with refused(shift, field, says):
        say_done(shift, machine, entry)


def test_a_repair_of_ours_sets_its_task_back(shift: Shift) -> None:
    line = replace(KIT, renews="air-filter", description="Air cleaner element")
    repair = at_stage(shift, Stage.REPAIR)
    changed = change_line(shift, repair.lines[0].id, line)
    do_line(shift, changed.lines[0].id)
    found = row(shift, repair.unit.id, "air-filter")
    assert found.done_on == date(2031, 4, 7)
    assert found.done_words == f"by us, {repair.tag}"


def test_an_interval_of_the_machine_goes_before_that_of_its_model(shift: Shift) -> None:
    machine = unit(shift)
    set_model_interval(
        shift, "Tarnbeck", "TB-26", IntervalEntry("air-filter", "10 h", "the maker's manual")
    )
    found = row(shift, machine, "air-filter")
    assert (found.every, found.every_from) == (
        "10 h",
        "our own for this model, by the maker's manual",
    )
    assert "due at 10 h (our own for this model, by the maker's manual)" in found.because
    set_unit_interval(shift, machine, IntervalEntry("air-filter", "4 h", "sawdust"))
    assert row(shift, machine, "air-filter").every == "4 h"
    own, *_ = intervals_of_unit(shift, machine)
    assert own.of_unit
    drop_interval(shift, own.id, "moved indoors")
    assert row(shift, machine, "air-filter").every == "10 h"


def test_what_is_never_due_on_it_is_not_reminded_of(shift: Shift) -> None:
    machine = unit(shift)
    set_unit_interval(shift, machine, IntervalEntry("air-filter", "never", "it has none"))
    found = row(shift, machine, "air-filter")
    assert found.due_on is None
    assert found.because == "not due on it: our own for this machine, by it has none"


@pytest.mark.parametrize(
    ("entry", "field", "says"),
    [
        (IntervalEntry("air-filter", ""), "every", "How often is empty"),
        (IntervalEntry("air-filter", "often"), "every", "is no interval: type it like 25 h"),
        (IntervalEntry("waxing", "25 h"), "task_key", "“waxing” is no upkeep task"),
    ],
)
def test_an_interval_that_cant_be_read_is_said(
    shift: Shift, entry: IntervalEntry, field: str, says: str
) -> None:
    machine = unit(shift)
    with refused(shift, field, says):
        set_unit_interval(shift, machine, entry)


def test_two_meter_readings_give_the_pace_that_nobody_told(shift: Shift, clock: Clock) -> None:
    machine = unit(shift, replace(TRIMMER, meter_hours="10"))
    clock.forward(70)
    read_meter(shift, machine, "40")
    plan = upkeep_plan(shift, machine)
    assert plan.use == (
        "Used: 3 h a week, by its hour meter; Apr to Oct, the usual months; hour meter 40 h."
    )
    assert get_unit(shift, machine).meter_hours == 40


def test_hours_are_read_off_the_meter_where_it_was_read_both_times(
    shift: Shift, clock: Clock
) -> None:
    machine = unit(shift, replace(USED, meter_hours="10"))
    say_done(shift, machine, DoneEntry("air-filter"))
    clock.forward(35)
    read_meter(shift, machine, "33.5 h")
    clock.forward(7)
    found = row(shift, machine, "air-filter")
    assert found.because.startswith("26 h on the meter since April")
    assert found.because.endswith("due at 25 h: mid-May")


def test_a_meter_that_runs_backwards_is_asked_about(shift: Shift, clock: Clock) -> None:
    machine = unit(shift, replace(USED, meter_hours="41.5"))
    clock.forward(30)
    with refused(shift, "meter_hours", "4 h is less than the 41.5 h of 7 Apr 2031"):
        read_meter(shift, machine, "4")
    with refused(shift, "meter_hours", "42 h is more than the 41.5 h of 7 Apr 2031"):
        read_meter(shift, machine, "42", "1 apr 2031")
    read_meter(shift, machine, "4", new_meter=True)
    assert get_unit(shift, machine).meter_hours == 4


def test_the_card_puts_the_last_reading_right(shift: Shift, clock: Clock) -> None:
    machine = unit(shift, replace(USED, meter_hours="415"))
    clock.forward(1)
    change_unit(shift, machine, replace(USED, meter_hours="41.5"))
    clock.forward(60)
    change_unit(shift, machine, replace(USED, meter_hours="60"))
    with refused(shift, "meter_hours", "55 h is less than the 60 h"):
        read_meter(shift, machine, "55")
    assert get_unit(shift, machine).meter_hours == 60


@pytest.mark.parametrize(
    ("hours", "day", "field", "says"),
    [
        ("", "", "meter_hours", "The reading is empty"),
        ("many", "", "meter_hours", "is no meter reading"),
        ("12", "tomorrow", "read_on", "is still to come"),
        ("12", "someday", "read_on", "is not a date"),
    ],
)
def test_a_reading_that_cant_be_kept_is_said(
    shift: Shift, hours: str, day: str, field: str, says: str
) -> None:
    machine = unit(shift)
    with refused(shift, field, says):
        read_meter(shift, machine, hours, day)


def test_the_southern_half_of_the_earth_has_its_spring_in_october(shift: Shift) -> None:
    ticket = another(shift, 1)
    north = upkeep_plan(shift, ticket.unit.id)
    save_shop(shift, replace(SHOP, southern=True))
    south = upkeep_plan(shift, ticket.unit.id)
    assert "Apr to Oct, the usual months" in north.use
    assert "Oct to Apr, the usual months" in south.use


def test_hard_use_halves_what_it_shortens(shift: Shift) -> None:
    found = row(shift, unit(shift, replace(USED, severe_use=True)), "air-filter")
    assert "due at 12.5 h (hard use)" in found.because


def test_the_reminder_names_what_to_look_at_each_time(shift: Shift) -> None:
    saw = replace(TRIMMER, kind="chain saw", make="Osmarrow", model="OS 40")
    ticket = make_reminder(shift, taken_in(shift, unit=saw).id)
    content = reminder_content(shift, ticket.reminders[-1].id)
    assert len(content.each_use) == 1
    assert all(task.key for task in content.tasks)


def test_hours_are_exact_decimals(shift: Shift) -> None:
    machine = unit(shift, replace(USED, meter_hours="0.1"))
    assert get_unit(shift, machine).meter_hours == Decimal("0.1")
