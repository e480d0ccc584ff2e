"""The due list: who is on it, for what, and how they are to be reached."""

from dataclasses import replace
from datetime import date, timedelta

import pytest

from shopdesk.job.after import make_reminder, set_reminder_state
from shopdesk.job.customers import change_customer, customer_view, find_customer
from shopdesk.job.due_list import DueOwner, due_list, way_to
from shopdesk.job.due_messages import write_to
from shopdesk.job.intake import take_in
from shopdesk.job.paper_content import Addressee
from shopdesk.job.shift import Shift
from shopdesk.job.units import hand_on
from shopdesk.job.upkeep_done import DoneEntry, say_done
from shopdesk.job.views import TicketView
from shopdesk.records.tables import Customer, Unit
from tests.job.due_shop import (
    SPRING,
    at_home,
    due_soon,
    household,
    neighbour,
    until_spring,
    went_home,
)
from tests.job.workshop import INTAKE, OTHER_OWNER, OWNER, Clock, another


def only(owners: tuple[DueOwner, ...]) -> DueOwner:
    (one,) = owners
    return one


def keys(owner: DueOwner) -> set[str]:
    return {row.key for machine in owner.machines for row in machine.rows}


def change_owner(shift: Shift, ticket: TicketView, **more: object) -> None:
    change_customer(shift, ticket.owner.id, replace(OWNER, **more))  # type: ignore[arg-type]


def test_a_household_with_three_machines_is_one_entry(shift: Shift, clock: Clock) -> None:
    household(shift)
    until_spring(clock)
    found = only(due_soon(shift))
    assert (found.owner, found.way) == ("Mara Quill", "e-mail")
    assert [one.title for one in found.machines] == [
        "Chain saw, Osmarrow OS 40",
        "String trimmer, Tarnbeck TB-26",
        "Push mower, Tarnbeck TM-46",
    ]
    assert found.due_on == found.machines[0].due_on == SPRING
    assert all(len(one.rows) == len(one.rounds) for one in found.machines)


def test_the_earliest_come_first_and_nothing_after_the_day_is_on_it(
    shift: Shift, clock: Clock
) -> None:
    neighbour(shift, 1)
    household(shift)
    until_spring(clock)
    assert [one.owner for one in due_soon(shift)] == ["Mara Quill", "Owner 1"]
    assert [one.owner for one in due_soon(shift, 11)] == ["Mara Quill"]
    on_the_day = due_list(shift, date(2032, 4, 1))
    assert [one.owner for one in on_the_day] == ["Mara Quill", "Owner 1"]
    assert all(row.on <= date(2032, 4, 1) for one in on_the_day for row in one.machines[0].rows)


def test_what_a_repair_of_ours_did_is_not_due(shift: Shift, clock: Clock) -> None:
    ticket = went_home(shift)
    until_spring(clock)
    before = keys(only(due_soon(shift)))
    say_done(shift, ticket.unit.id, DoneEntry("spark-plug", "2032-03-01"))
    assert before - keys(only(due_soon(shift))) == {"spark-plug"}


def test_a_machine_in_the_shop_is_not_on_it(shift: Shift, clock: Clock) -> None:
    another(shift, 1)
    ticket = neighbour(shift, 2)
    until_spring(clock)
    assert [one.owner for one in due_soon(shift)] == ["Owner 2"]
    take_in(shift, ticket.owner.id, ticket.unit.id, INTAKE)
    assert due_soon(shift) == ()


def test_who_moved_away_or_has_it_no_more_is_not_on_it(shift: Shift, clock: Clock) -> None:
    first, second = at_home(shift), neighbour(shift, 2)
    until_spring(clock)
    change_owner(shift, first, moved_away=True)
    assert [one.owner for one in due_soon(shift)] == ["Owner 2"]
    with shift.records.writing():
        Unit.update(gone_on=shift.today).where(Unit.id == second.unit.id).execute()
    assert due_soon(shift) == ()


def test_a_new_owner_hears_of_it_and_the_old_one_does_not(shift: Shift, clock: Clock) -> None:
    ticket, other = at_home(shift), neighbour(shift, 2)
    until_spring(clock)
    by = shift.today + timedelta(days=30)
    write_to(shift, ticket.owner.id, by)
    hand_on(shift, ticket.unit.id, other.owner.id)
    assert [(one.owner, len(one.machines)) for one in due_list(shift, by)] == [("Owner 2", 2)]


def test_who_wants_no_reminders_is_shown_with_the_reason(shift: Shift, clock: Clock) -> None:
    ticket = at_home(shift)
    until_spring(clock)
    change_owner(shift, ticket, may_remind=False)
    found = only(due_soon(shift))
    assert (found.way, found.ways, found.why_not) == ("", (), "wants no reminders")


@pytest.mark.parametrize(
    ("wished", "given", "way"),
    [
        ("", {}, "e-mail"),
        ("", {"email": ""}, "letter"),
        ("", {"email": "", "address": ()}, "phone"),
        ("letter", {}, "letter"),
        ("postcard", {}, "postcard"),
        ("phone", {}, "phone"),
        ("text", {}, "text"),
        ("letter", {"address": ()}, "e-mail"),
        ("e-mail", {"email": ""}, "letter"),
        ("text", {"phones": ()}, "e-mail"),
        ("carrier pigeon", {}, "e-mail"),
    ],
)
def test_the_way_is_as_they_wish_else_what_there_is(
    wished: str, given: dict[str, object], way: str
) -> None:
    named = Addressee("Mara", ("7 Orchard Row",), ("555-0142",), "mara@example.com")
    customer = Customer(may_remind=True, moved_away=False, preferred_way=wished)
    found = way_to(customer, replace(named, **given))  # type: ignore[arg-type]
    assert (found[0], found[2]) == (way, "")
    assert way in found[1]


def test_a_way_that_leads_nowhere_is_not_taken_again() -> None:
    named = Addressee("Mara", ("7 Orchard Row",), (), "mara@example.com")
    customer = Customer(may_remind=True, moved_away=False, preferred_way="letter")
    dead = frozenset({"letter", "postcard"})
    assert way_to(customer, named, dead) == ("e-mail", ("e-mail",), "")
    way, ways, why_not = way_to(customer, named, dead | {"e-mail"})
    assert (way, ways) == ("", ())
    assert "what was sent came back" in why_not


def test_nobody_can_be_reached_without_anything(shift: Shift, clock: Clock) -> None:
    ticket = at_home(shift, replace(OTHER_OWNER, phones=()))
    until_spring(clock)
    found = only(due_soon(shift))
    assert found.why_not == "can't be reached: no address, e-mail or phone is written down"
    assert found.customer_id == ticket.owner.id


def test_a_reminder_for_a_day_that_has_come_is_on_it(shift: Shift, clock: Clock) -> None:
    ticket = at_home(shift)
    reminder = make_reminder(shift, ticket.id, "2031-06-02").reminders[-1]
    clock.forward(40)
    found = only(due_list(shift, date(2031, 6, 2)))
    assert found.machines[0].reminder_ids == (reminder.id,)
    assert found.due_on == date(2031, 6, 2)
    assert set(reminder.titles) <= {row.title for row in found.machines[0].rows}
    assert due_list(shift, date(2031, 6, 1)) == ()


def test_what_the_reminder_asked_for_and_was_done_since_is_not_on_it(
    shift: Shift, clock: Clock
) -> None:
    ticket = at_home(shift)
    make_reminder(shift, ticket.id, "2031-10-31")
    clock.forward(150)
    before = keys(only(due_list(shift, date(2031, 10, 31))))
    for key in before:
        say_done(shift, ticket.unit.id, DoneEntry(key, "2031-09-02"))
    assert due_list(shift, date(2031, 10, 31)) == ()


@pytest.mark.parametrize("state", ["sent", "done"])
def test_a_reminder_that_went_out_from_pickup_is_not_said_again(
    shift: Shift, clock: Clock, state: str
) -> None:
    ticket = at_home(shift)
    reminder = make_reminder(shift, ticket.id, "2032-04-01").reminders[-1]
    until_spring(clock)
    set_reminder_state(shift, reminder.id, state)
    assert due_list(shift, date(2032, 4, 2)) == ()
    set_reminder_state(shift, reminder.id, "stopped")
    assert len(due_list(shift, date(2032, 4, 2))) == 1


def test_another_year_is_another_season(shift: Shift, clock: Clock) -> None:
    ticket = at_home(shift)
    until_spring(clock)
    write_to(shift, ticket.owner.id, shift.today + timedelta(days=30))
    assert due_soon(shift) == ()
    clock.forward(366)
    assert "fresh-fuel" in keys(only(due_soon(shift)))
    assert "spark-plug" not in keys(only(due_soon(shift)))


def test_a_machine_said_to_be_sold_is_back_when_somebody_brings_it(
    shift: Shift, clock: Clock
) -> None:
    ticket = at_home(shift)
    with shift.records.writing():
        Unit.update(gone_on=shift.today, gone_how="sold").where(Unit.id == ticket.unit.id).execute()
    clock.forward(3)
    take_in(shift, OTHER_OWNER, ticket.unit.id, INTAKE, changed_hands=True)
    with shift.records.reading():
        unit = Unit.get_by_id(ticket.unit.id)
        assert (unit.gone_on, unit.gone_how) == (None, "")


def test_how_an_owner_is_written_to_is_kept_on_their_card(shift: Shift) -> None:
    ticket = at_home(shift)
    change_owner(shift, ticket, preferred_way="POSTCARD", moved_away=True)
    with shift.records.reading():
        view = customer_view(find_customer(ticket.owner.id))
    assert (view.preferred_way, view.moved_away) == ("postcard", True)
