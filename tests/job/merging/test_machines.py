"""Two machines that are one: made one with all that hangs on them, and taken apart again."""

from dataclasses import replace
from pathlib import Path

import pytest
from PIL import Image

from shopdesk.job.after import make_reminder
from shopdesk.job.audit import audit
from shopdesk.job.customers import CustomerEntry, add_customer
from shopdesk.job.history import unit_history, unit_owners
from shopdesk.job.limits import LimitEntry, set_unit_limit
from shopdesk.job.merging.apart import machine_merges, take_apart
from shopdesk.job.merging.fields import MACHINE_RULES, Side
from shopdesk.job.merging.machines import merge_machines, two_machines
from shopdesk.job.merging.owners import merge_owners
from shopdesk.job.meter import read_meter
from shopdesk.job.opened import open_ticket
from shopdesk.job.photos import add_photo
from shopdesk.job.shift import Shift
from shopdesk.job.stages import Stage
from shopdesk.job.units import add_unit, get_unit, hand_on, units_of
from shopdesk.job.views import TicketView, UnitView
from shopdesk.records.tables import OwnLimit, Unit
from tests.job.workshop import SAW, TRIMMER, Clock, at_stage, everything, refused, taken_in

TWIN = replace(TRIMMER, serial="tb26 4417", make="Tarnbek", notes="grip torn", hours_per_week="2")


@pytest.fixture
def first(shift: Shift) -> TicketView:
    """A ticket of Mara Quill's trimmer, mended and closed, with a reminder."""
    ticket = at_stage(shift, Stage.CLOSED)
    return make_reminder(shift, ticket.id, "+60")


@pytest.fixture
def twin(shift: Shift, clock: Clock, first: TicketView) -> UnitView:
    """The same trimmer written down once more for the same owner, 400 days later."""
    clock.forward(400)
    return add_unit(shift, first.owner.id, TWIN)


def sound(shift: Shift) -> None:
    assert audit(shift).faults == ()


def facts(shift: Shift) -> dict[str, list[tuple[object, ...]]]:
    """Return the rows without their versions, which grow with each change."""
    names = ("unit", "ownership", "ticket", "reminder", "meter_reading", "own_limit", "photo")
    found = everything(shift)
    return {name: sorted((row[0], *row[2:]) for row in found[name]) for name in names}


def test_the_history_of_both_is_one(
    shift: Shift, tmp_path: Path, first: TicketView, twin: UnitView
) -> None:
    later = taken_in(shift, first.owner.id, twin.id)
    Image.new("RGB", (9, 9)).save(tmp_path / "a.png")
    add_photo(shift, later.id, tmp_path / "a.png", "the grip")
    read_meter(shift, twin.id, "41.5")
    one = merge_machines(shift, first.unit.id, twin.id)
    assert [visit.number for visit in unit_history(shift, one.id)] == [1002, 1001]
    assert (one.make, one.serial, one.notes) == ("Tarnbeck", "TB26-004417", "grip torn")
    assert str(one.hours_per_week) == "2"
    assert str(one.meter_hours) == "41.5"
    assert len(open_ticket(shift, later.id).photos) == 1
    assert units_of(shift, first.owner.id) == (one,)
    (owned,) = unit_owners(shift, one.id)
    assert owned.until is None
    with refused(shift, "unit", "not in the records any more"):
        get_unit(shift, twin.id)
    sound(shift)


def test_what_differs_is_shown_side_by_side(
    shift: Shift, first: TicketView, twin: UnitView
) -> None:
    two = two_machines(shift, first.unit.id, twin.id)
    found = {one.name: (one.stays, one.goes, one.offered) for one in two.fields}
    assert found == {
        "model": ("Tarnbeck TB-26", "Tarnbek TB-26", Side.STAYS),
        "serial": ("TB26-004417", "tb26 4417", Side.STAYS),
        "notes": ("", "grip torn", Side.GOES),
        "hours_per_week": ("", "2", Side.GOES),
    }
    assert two.goes_over == ""


def test_taken_apart_at_once_all_is_as_it_was(
    shift: Shift, first: TicketView, twin: UnitView
) -> None:
    taken_in(shift, first.owner.id, twin.id)
    for unit_id in (first.unit.id, twin.id):
        set_unit_limit(shift, unit_id, LimitEntry("plug-gap", "0.025-0.030 in"))
        read_meter(shift, unit_id, f"{unit_id}0")
    before = facts(shift)
    merge_machines(shift, first.unit.id, twin.id, {"model": Side.GOES})
    with shift.records.reading():
        assert OwnLimit.select().count() == 1
    (merge,) = machine_merges(shift, first.unit.id)
    assert merge.called == "String trimmer, Tarnbek TB-26"
    assert "1 ticket" in merge.went_over
    assert take_apart(shift, merge.id).id == twin.id
    assert facts(shift) == before
    sound(shift)


def test_a_machine_that_changed_hands_and_was_written_down_anew(
    shift: Shift, clock: Clock, first: TicketView
) -> None:
    clock.forward(100)
    new_owner = add_customer(shift, CustomerEntry("Ivo Tarn"))
    again = add_unit(shift, new_owner.id, TRIMMER)
    before = facts(shift)
    two = two_machines(shift, first.unit.id, again.id)
    (whose,) = two.fields
    assert (whose.words, whose.stays, whose.goes) == ("Whose it is now", "Mara Quill", "Ivo Tarn")
    assert whose.offered is Side.GOES
    one = merge_machines(shift, first.unit.id, again.id)
    assert one.owner_name == "Ivo Tarn"
    owners = unit_owners(shift, one.id)
    assert [owner.owner for owner in owners] == ["Mara Quill", "Ivo Tarn"]
    assert owners[0].until == owners[1].since
    (reminder,) = open_ticket(shift, first.id).reminders
    assert reminder.state == "open"
    (merge,) = machine_merges(shift, one.id)
    take_apart(shift, merge.id)
    assert facts(shift) == before
    sound(shift)


def test_the_owner_may_be_chosen_against_the_days(
    shift: Shift, clock: Clock, first: TicketView
) -> None:
    clock.forward(100)
    again = add_unit(shift, add_customer(shift, CustomerEntry("Ivo Tarn")).id, TRIMMER)
    one = merge_machines(shift, first.unit.id, again.id, {"owner": Side.STAYS})
    assert one.owner_name == "Mara Quill"
    assert sum(owner.until is None for owner in unit_owners(shift, one.id)) == 1


def test_two_open_tickets_are_refused(shift: Shift) -> None:
    first = taken_in(shift)
    second = taken_in(shift, first.owner.id, SAW)
    with refused(shift, "other", "T1001 and T1002 are both open", "close one of them first"):
        merge_machines(shift, first.unit.id, second.unit.id)


def test_handed_on_since_it_can_not_be_taken_apart(
    shift: Shift, clock: Clock, first: TicketView, twin: UnitView
) -> None:
    merge_machines(shift, first.unit.id, twin.id)
    hand_on(shift, first.unit.id, add_customer(shift, CustomerEntry("Ivo Tarn")).id)
    (merge,) = machine_merges(shift, first.unit.id)
    with refused(shift, "unit", "Whose the machine is was changed since", "leave them"):
        take_apart(shift, merge.id)


def test_two_reminders_of_one_machine_become_one(shift: Shift, clock: Clock) -> None:
    first = at_stage(shift, Stage.CLOSED)
    make_reminder(shift, first.id, "+60")
    twin = add_unit(shift, first.owner.id, TRIMMER)
    second = taken_in(shift, first.owner.id, twin.id)
    make_reminder(shift, second.id, "+90")
    merge_machines(shift, first.unit.id, twin.id)
    states = [open_ticket(shift, one.id).reminders[0].state for one in (first, second)]
    assert states == ["stopped", "open"]


def test_owners_made_one_after_their_machines_come_apart_as_well(
    shift: Shift, clock: Clock, first: TicketView
) -> None:
    clock.forward(10)
    other = add_customer(shift, CustomerEntry("Mara Quil"))
    again = add_unit(shift, other.id, TRIMMER)
    before = facts(shift)
    merge_machines(shift, first.unit.id, again.id)
    one = merge_owners(shift, first.owner.id, other.id)
    assert len(units_of(shift, one.id)) == 1
    (merge,) = machine_merges(shift, first.unit.id)
    take_apart(shift, merge.id)
    assert len(units_of(shift, one.id)) == 2
    sound(shift)
    assert before["ticket"] == facts(shift)["ticket"]


def test_every_column_of_a_machine_is_chosen_or_left_out_on_purpose() -> None:
    chosen = {column for rule in MACHINE_RULES for column in rule.columns}
    worked_out = {"meter_hours"}
    assert chosen | worked_out | {"id", "version", "created_at"} == set(Unit._meta.columns)
