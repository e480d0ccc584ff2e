"""Machines: written down, changed, and handed on with their history."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest

from shopdesk.errors import StaleError
from shopdesk.job.after import make_reminder, reminder_content
from shopdesk.job.customers import add_customer, change_customer
from shopdesk.job.diagnosis import checks_for
from shopdesk.job.history import OwnedFor, unit_history, unit_owners
from shopdesk.job.opened import open_ticket
from shopdesk.job.shift import Shift
from shopdesk.job.stages import Stage
from shopdesk.job.units import UnitEntry, add_unit, change_unit, get_unit, hand_on, units_of
from tests.job.workshop import (
    OTHER_OWNER,
    OWNER,
    SAW,
    TRIMMER,
    Clock,
    at_stage,
    everything,
    refused,
)


def test_a_machine_is_kept_as_typed(shift: Shift) -> None:
    owner = add_customer(shift, OWNER)
    entry = UnitEntry(
        *("string trimmer", "Two-Stroke", "Tarnbeck", "TB-26", "TB26-004417", "head loose"),
        bought_on="14 mar 2029",
        hours_per_week="1 1/2",
        first_month="4",
        last_month="10",
        severe_use=True,
        meter_hours="120.5",
    )
    unit = add_unit(shift, owner.id, entry)
    assert unit == get_unit(shift, unit.id)
    assert unit.title == "String trimmer, Tarnbeck TB-26"
    assert unit.engine == "two-stroke"
    assert unit.bought_on == date(2029, 3, 14)
    assert (unit.hours_per_week, unit.meter_hours) == (Decimal("1.5"), Decimal("120.5"))
    assert (unit.first_month, unit.last_month, unit.severe_use) == (4, 10, True)
    assert (unit.owner_id, unit.owner_name) == (owner.id, owner.name)


@pytest.mark.parametrize("kind", ["Chain saw", "CHAIN SAW", " chain  saw "])
def test_a_known_kind_gets_its_checks_however_it_is_typed(shift: Shift, kind: str) -> None:
    owner = add_customer(shift, OWNER)
    unit = add_unit(shift, owner.id, replace(SAW, kind=kind))
    known = add_unit(shift, owner.id, SAW)
    assert unit.kind == "chain saw"
    assert checks_for(unit) == checks_for(known)


def test_a_kind_of_the_shops_own_is_kept(shift: Shift) -> None:
    owner = add_customer(shift, OWNER)
    assert add_unit(shift, owner.id, replace(SAW, kind="Ice auger")).kind == "Ice auger"


@pytest.mark.parametrize(
    ("field", "typed", "words"),
    [
        ("kind", "", "The kind of machine is empty"),
        ("engine", "", "The engine is empty"),
        ("engine", "steam", "can't be “steam”: choose one of two-stroke"),
        ("engine", "st\ud800eam", "can't be “steam”"),
        ("make", "x" * 201, "201 characters"),
        ("model", "x" * 201, "201 characters"),
        ("serial", "x" * 201, "201 characters"),
        ("notes", "x" * 10_001, "10,001 characters"),
        ("bought_on", "31 feb 2030", "There is no 31 Feb"),
        ("bought_on", "2031-02-30", "There is no 30 Feb"),
        ("bought_on", "soon", "is not a date"),
        ("bought_on", "2032-01-01", "still to come"),
        ("hours_per_week", "two", "is not a quantity"),
        ("hours_per_week", "-2", "is not above zero"),
        ("hours_per_week", "169", "A week has 168 hours"),
        ("hours_per_week", "99999999", "is over 9999"),
        ("meter_hours", "n/a", "is no meter reading"),
        ("first_month", "13", "is no month: type 1 to 12"),
        ("first_month", "0", "is no month"),
        ("last_month", "may", "is no month"),
        ("first_month", "4", "Type both the first and the last month"),
        ("last_month", "4", "Type both the first and the last month"),
    ],
)
def test_what_is_wrong_is_said_at_its_field(
    shift: Shift, field: str, typed: str, words: str
) -> None:
    owner = add_customer(shift, OWNER)
    asked = {"first_month": "last_month", "last_month": "first_month"}
    at = asked[field] if words.startswith("Type both") else field
    with refused(shift, at, words):
        add_unit(shift, owner.id, replace(TRIMMER, **{field: typed}))  # type: ignore[arg-type]


def test_a_change_is_kept_and_a_stale_one_is_refused(shift: Shift) -> None:
    owner = add_customer(shift, OWNER)
    unit = add_unit(shift, owner.id, TRIMMER)
    changed = change_unit(shift, unit.id, replace(TRIMMER, model="TB-28"), unit.version)
    assert changed == get_unit(shift, unit.id)
    assert changed.model == "TB-28"
    with pytest.raises(StaleError, match="This unit was changed elsewhere"):
        change_unit(shift, unit.id, TRIMMER, unit.version)
    assert get_unit(shift, unit.id) == changed


def test_the_machines_of_an_owner_are_those_of_today(shift: Shift) -> None:
    mara, lukasz = add_customer(shift, OWNER), add_customer(shift, OTHER_OWNER)
    trimmer, saw = add_unit(shift, mara.id, TRIMMER), add_unit(shift, mara.id, SAW)
    assert units_of(shift, mara.id) == (saw, trimmer)
    handed = hand_on(shift, trimmer.id, lukasz.id)
    assert units_of(shift, mara.id) == (saw,)
    assert units_of(shift, lukasz.id) == (handed,)


def test_a_machine_keeps_its_history_when_it_changes_hands(shift: Shift, clock: Clock) -> None:
    ticket = at_stage(shift, Stage.CLOSED)
    lukasz = add_customer(shift, OTHER_OWNER)
    clock.forward(days=30)
    unit = hand_on(shift, ticket.unit.id, lukasz.id, "3 days ago")
    assert unit.owner_name == "Łukasz Brightwater"
    assert [visit.owner for visit in unit_history(shift, unit.id)] == ["Mara Quill"]
    assert unit_owners(shift, unit.id) == (
        OwnedFor("Mara Quill", date(2031, 4, 7), date(2031, 5, 4)),
        OwnedFor("Łukasz Brightwater", date(2031, 5, 4), None),
    )
    assert open_ticket(shift, ticket.id).owner.name == "Mara Quill"


def test_handing_on_is_refused_with_its_reason(shift: Shift) -> None:
    mara, lukasz = add_customer(shift, OWNER), add_customer(shift, OTHER_OWNER)
    unit = add_unit(shift, mara.id, TRIMMER)
    with refused(shift, "customer", "Mara Quill owns this machine already"):
        hand_on(shift, unit.id, mara.id)
    with refused(shift, "since", "can't have had it before 07 Apr 2031: type a later day"):
        hand_on(shift, unit.id, lukasz.id, "2031-04-01")
    with refused(shift, "since", "still to come"):
        hand_on(shift, unit.id, lukasz.id, "2031-05-01")
    with refused(shift, "since", "is not a date"):
        hand_on(shift, unit.id, lukasz.id, "whenever")
    with refused(shift, "customer", "find them again"):
        hand_on(shift, unit.id, 77)
    with refused(shift, "unit", "find it again"):
        hand_on(shift, 77, mara.id)


def test_an_open_reminder_goes_to_the_new_owner(shift: Shift) -> None:
    ticket = make_reminder(shift, at_stage(shift, Stage.CLOSED).id)
    lukasz = add_customer(shift, OTHER_OWNER)
    hand_on(shift, ticket.unit.id, lukasz.id)
    reminder = open_ticket(shift, ticket.id).reminders[0]
    assert reminder.state == "open"
    assert reminder_content(shift, reminder.id).owner.name == "Łukasz Brightwater"


def test_a_new_owner_who_wants_no_reminders_gets_none(shift: Shift) -> None:
    ticket = make_reminder(shift, at_stage(shift, Stage.CLOSED).id)
    lukasz = add_customer(shift, replace(OTHER_OWNER, may_remind=False))
    hand_on(shift, ticket.unit.id, lukasz.id)
    assert open_ticket(shift, ticket.id).reminders[0].state == "stopped"


def test_looking_changes_nothing(shift: Shift) -> None:
    ticket = at_stage(shift, Stage.CLOSED)
    before = everything(shift)
    get_unit(shift, ticket.unit.id)
    units_of(shift, ticket.owner.id)
    unit_history(shift, ticket.unit.id)
    assert everything(shift) == before


def test_a_renamed_owner_is_renamed_with_their_machines(shift: Shift) -> None:
    owner = add_customer(shift, OWNER)
    unit = add_unit(shift, owner.id, TRIMMER)
    change_customer(shift, owner.id, replace(OWNER, name="Mara Quill-Vale"))
    assert get_unit(shift, unit.id).owner_name == "Mara Quill-Vale"
