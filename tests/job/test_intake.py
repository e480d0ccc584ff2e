"""Intake: the ticket written at the counter, and what was written wrongly put right."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest

from shopdesk.errors import StaleError
from shopdesk.job.after import make_reminder, reminder_content
from shopdesk.job.customers import add_customer
from shopdesk.job.history import OwnedFor, unit_owners
from shopdesk.job.intake import (
    TicketEntry,
    change_intake,
    change_ticket_owner,
    change_ticket_unit,
    take_in,
    under_warranty,
)
from shopdesk.job.moving import go_on
from shopdesk.job.opened import open_ticket, ticket_numbered
from shopdesk.job.paperwork import tag_content
from shopdesk.job.payments import take_payment
from shopdesk.job.pickup import credit_invoice, issue_invoice
from shopdesk.job.reference import complaints
from shopdesk.job.shift import Shift
from shopdesk.job.stages import Move, Stage
from shopdesk.job.units import add_unit, get_unit, units_of
from tests.job.workshop import (
    INTAKE,
    OTHER_OWNER,
    OWNER,
    SAW,
    TRIMMER,
    Clock,
    another,
    at_stage,
    declined,
    kept,
    refused,
    taken_in,
)


def test_a_new_owner_with_a_new_machine_is_taken_in(shift: Shift) -> None:
    entry = TicketEntry(
        complaint="Won't start.\r\n\r\n\r\n\r\nSmells of <b>petrol</b> & smoke",
        complaint_kind="Won't start",
        onset="At once",
        fuel="mix 50:1, two months old",
        accessories="guard, strap",
        condition="scratched shroud",
        notes="gate code 12",
        promised_on="in 3 days",
        limit="$60",
        old_parts_back=True,
    )
    ticket = kept(shift, taken_in(shift, entry=entry))
    assert (ticket.number, ticket.tag) == (1001, "T1001")
    assert (ticket.stage, ticket.move) == (Stage.INTAKE, Move.COUNTER)
    assert ticket.complaint == "Won't start.\n\nSmells of <b>petrol</b> & smoke"
    assert (ticket.onset, ticket.complaint_kind) == ("at once", "won't start")
    assert (ticket.promised_on, ticket.days_late) == (date(2031, 4, 10), 0)
    assert (ticket.limit, ticket.may_charge) == (Decimal("60.00"), Decimal("60.00"))
    assert ticket.old_parts_back
    assert ticket.unit.owner_id == ticket.owner.id
    assert ticket.if_declined == 0


def test_an_empty_promise_means_the_shops_usual_days(shift: Shift) -> None:
    assert taken_in(shift).promised_on == date(2031, 4, 14)


def test_late_is_counted_in_the_shops_days(shift: Shift, clock: Clock) -> None:
    ticket = taken_in(shift, entry=replace(INTAKE, promised_on="today"))
    clock.forward(days=0.6)
    assert open_ticket(shift, ticket.id).days_late == 0
    clock.forward(days=1)
    assert open_ticket(shift, ticket.id).days_late == 1


def test_numbers_have_no_gap_after_a_refused_intake(shift: Shift) -> None:
    assert another(shift, 1).number == 1001
    with refused(shift, "complaint", "The complaint is empty: type it"):
        another(shift, 2, replace(INTAKE, complaint=" \n "))
    assert another(shift, 2).number == 1002


@pytest.mark.parametrize(
    ("field", "typed", "words"),
    [
        ("complaint", "", "The complaint is empty"),
        ("complaint", "x" * 10_001, "10,001 characters long; keep it to 10,000"),
        ("complaint_kind", "sulks", "The kind of complaint can't be “sulks”"),
        ("onset", "slowly", "How it came on can't be “slowly”: choose one of at once"),
        ("fuel", "x" * 201, "201 characters"),
        ("accessories", "x" * 10_001, "10,001 characters"),
        ("condition", "x" * 10_001, "10,001 characters"),
        ("notes", "x" * 10_001, "10,001 characters"),
        ("promised_on", "30 feb", "There is no 30 Feb"),
        ("promised_on", "13/13", "There is no month 13"),
        ("promised_on", "yesterday", "is past: promise today or a later day"),
        ("promised_on", "later", "is not a date"),
        ("promised_on", "in 999999999 years", "more than 100 years off"),
        ("limit", "-5", "is below zero"),
        ("limit", "sixty", "is not an amount"),
        ("limit", "10000000", "is over 9,999,999.99"),
        ("limit", "1.234", "could be"),
    ],
)
def test_what_is_wrong_is_said_at_its_field(
    shift: Shift, field: str, typed: str, words: str
) -> None:
    with refused(shift, field, words):
        taken_in(shift, entry=replace(INTAKE, **{field: typed}))  # type: ignore[arg-type]


def test_a_complaint_of_ten_thousand_characters_is_kept_whole(shift: Shift) -> None:
    words = "won't start " * 834
    ticket = taken_in(
        shift, entry=replace(INTAKE, complaint=words[:10_000].strip().ljust(10_000, "!"))
    )
    assert len(kept(shift, ticket).complaint) == 10_000


def test_each_onset_is_kept(shift: Shift) -> None:
    ticket = taken_in(shift)
    for onset in complaints().onsets:
        entry = replace(INTAKE, onset=onset)
        assert change_intake(shift, ticket.id, entry).onset == onset


def test_a_refused_owner_or_machine_leaves_nothing_behind(shift: Shift) -> None:
    with refused(shift, "name", "empty"):
        taken_in(shift, owner=replace(OWNER, name=""))
    with refused(shift, "engine", "choose one of"):
        taken_in(shift, unit=replace(TRIMMER, engine="steam"))
    with refused(shift, "unit", "find it again"):
        taken_in(shift, unit=77)
    with refused(shift, "customer", "find them again"):
        taken_in(shift, owner=77)


def test_a_machine_that_is_here_is_not_taken_in_twice(shift: Shift) -> None:
    ticket = taken_in(shift)
    with refused(shift, "unit", "here already on ticket 1001: open that one"):
        taken_in(shift, ticket.owner.id, ticket.unit.id)


def test_a_machine_of_somebody_else_has_to_have_changed_hands(shift: Shift, clock: Clock) -> None:
    first = at_stage(shift, Stage.CLOSED)
    lukasz = add_customer(shift, OTHER_OWNER)
    with refused(shift, "unit", "This machine is Mara Quill's: take it in under that name, or say"):
        taken_in(shift, lukasz.id, first.unit.id)
    clock.forward(days=200)
    ticket = kept(shift, take_in(shift, lukasz.id, first.unit.id, INTAKE, changed_hands=True))
    assert ticket.unit.owner_name == "Łukasz Brightwater"
    assert open_ticket(shift, first.id).owner.name == "Mara Quill"


def test_a_comeback_is_linked_within_the_warranty(shift: Shift, clock: Clock) -> None:
    first = at_stage(shift, Stage.CLOSED)
    clock.forward(days=89)
    earlier = under_warranty(shift, first.unit.id)
    assert earlier is not None
    assert (earlier.tag, earlier.complaint) == (first.tag, first.complaint)
    assert under_warranty(shift, first.unit.id, first.taken_in_at) is None, "not of itself"
    again = kept(shift, taken_in(shift, first.owner.id, first.unit.id))
    assert again.comeback_of == first.number


@pytest.mark.parametrize(
    ("days", "comeback"), [(91, True), (5, False)], ids=["warranty over", "another matter"]
)
def test_a_comeback_is_not_linked(shift: Shift, clock: Clock, days: int, comeback: bool) -> None:
    first = at_stage(shift, Stage.CLOSED)
    clock.forward(days=days)
    assert (under_warranty(shift, first.unit.id) is None) == (days > 90)
    entry = replace(INTAKE, comeback=comeback)
    assert taken_in(shift, first.owner.id, first.unit.id, entry).comeback_of is None


def test_a_visit_without_a_repair_has_no_comeback(shift: Shift, clock: Clock) -> None:
    first = declined(shift)
    issue_invoice(shift, first.id)
    take_payment(shift, first.id, "37.80", "cash")
    assert go_on(shift, first.id, Stage.CLOSED).outcome == "returned as is"
    clock.forward(days=2)
    assert taken_in(shift, first.owner.id, first.unit.id).comeback_of is None


def test_a_wrong_owner_put_right_leaves_the_machines_past_alone(shift: Shift, clock: Clock) -> None:
    first = at_stage(shift, Stage.CLOSED)
    clock.forward(days=200)
    ticket = taken_in(shift, first.owner.id, first.unit.id)
    lukasz = add_customer(shift, OTHER_OWNER)
    change_ticket_owner(shift, ticket.id, lukasz.id)
    owners = [(one.owner, one.until) for one in unit_owners(shift, first.unit.id)]
    assert owners == [("Mara Quill", shift.today), ("Łukasz Brightwater", None)]


def test_a_comeback_owes_no_fee_for_finding_the_trouble(shift: Shift, clock: Clock) -> None:
    first = at_stage(shift, Stage.CLOSED)
    clock.forward(days=5)
    again = taken_in(shift, first.owner.id, first.unit.id)
    assert tag_content(shift, again.id).diagnosis_fee == 0
    change_intake(shift, again.id, replace(INTAKE, comeback=False))
    assert tag_content(shift, again.id).diagnosis_fee == Decimal("37.80")


def test_the_link_of_a_comeback_can_be_put_right(shift: Shift, clock: Clock) -> None:
    first = at_stage(shift, Stage.CLOSED)
    clock.forward(days=5)
    again = taken_in(shift, first.owner.id, first.unit.id)
    other = change_intake(shift, again.id, replace(INTAKE, comeback=False))
    assert kept(shift, other).comeback_of is None
    assert change_intake(shift, again.id, INTAKE).comeback_of == first.number


def test_intake_is_put_right(shift: Shift) -> None:
    ticket = taken_in(shift)
    entry = TicketEntry("No spark", promised_on="2031-04-20", limit="80", accessories="guard")
    changed = kept(shift, change_intake(shift, ticket.id, entry, ticket.version))
    assert (changed.complaint, changed.limit) == ("No spark", Decimal("80.00"))
    assert (changed.promised_on, changed.onset) == (date(2031, 4, 20), "")
    assert changed.version == ticket.version + 1


def test_a_past_promise_stands_while_it_is_not_changed(shift: Shift, clock: Clock) -> None:
    ticket = taken_in(shift, entry=replace(INTAKE, promised_on="2031-04-09"))
    clock.forward(days=5)
    entry = replace(INTAKE, promised_on="2031-04-09", notes="called")
    assert change_intake(shift, ticket.id, entry).promised_on == date(2031, 4, 9)
    assert change_intake(shift, ticket.id, replace(entry, promised_on="")).promised_on == date(
        2031, 4, 9
    )
    with refused(shift, "promised_on", "is past"):
        change_intake(shift, ticket.id, replace(entry, promised_on="2031-04-10"))


def test_a_change_over_someone_elses_change_is_refused(shift: Shift) -> None:
    ticket = taken_in(shift)
    change_intake(shift, ticket.id, replace(INTAKE, notes="mine"), ticket.version)
    with pytest.raises(StaleError, match="This ticket was changed elsewhere"):
        change_intake(shift, ticket.id, replace(INTAKE, notes="yours"), ticket.version)
    assert open_ticket(shift, ticket.id).notes == "mine"


def test_a_wrong_customer_is_put_right(shift: Shift) -> None:
    ticket = taken_in(shift)
    lukasz = add_customer(shift, OTHER_OWNER)
    right = kept(shift, change_ticket_owner(shift, ticket.id, lukasz.id))
    assert right.owner.name == right.unit.owner_name == "Łukasz Brightwater"
    assert unit_owners(shift, ticket.unit.id) == (
        OwnedFor("Łukasz Brightwater", date(2031, 4, 7), None),
    )


def test_someone_else_may_bring_the_owners_machine(shift: Shift) -> None:
    ticket = taken_in(shift)
    lukasz = add_customer(shift, OTHER_OWNER)
    right = kept(shift, change_ticket_owner(shift, ticket.id, lukasz.id, owns_unit=False))
    assert (right.owner.name, right.unit.owner_name) == ("Łukasz Brightwater", "Mara Quill")


def test_a_wrong_customer_leaves_no_trace_in_the_machines_owners(
    shift: Shift, clock: Clock
) -> None:
    first = at_stage(shift, Stage.CLOSED)
    lukasz = add_customer(shift, OTHER_OWNER)
    clock.forward(days=400)
    ticket = take_in(shift, lukasz.id, first.unit.id, INTAKE, changed_hands=True)
    make_reminder(shift, ticket.id)
    right = kept(shift, change_ticket_owner(shift, ticket.id, first.owner.id))
    assert unit_owners(shift, first.unit.id) == (OwnedFor("Mara Quill", date(2031, 4, 7), None),)
    assert reminder_content(shift, right.reminders[0].id).owner.name == "Mara Quill"


def test_a_wrong_machine_is_put_right(shift: Shift, clock: Clock) -> None:
    first = at_stage(shift, Stage.CLOSED)
    saw = add_unit(shift, first.owner.id, SAW)
    clock.forward(days=3)
    ticket = taken_in(shift, first.owner.id, first.unit.id)
    right = kept(shift, change_ticket_unit(shift, ticket.id, saw.id))
    assert right.unit == get_unit(shift, saw.id)
    assert right.comeback_of is None
    assert len(units_of(shift, first.owner.id)) == 2


def test_a_wrong_machine_is_refused_with_its_reason(shift: Shift) -> None:
    ticket, other = taken_in(shift), another(shift, 2)
    with refused(shift, "unit", "belongs to someone else: change the ticket's owner first"):
        change_ticket_unit(shift, ticket.id, other.unit.id)
    saw = add_unit(shift, ticket.owner.id, SAW)
    taken_in(shift, ticket.owner.id, saw.id)
    with refused(shift, "unit", "here already on ticket 1003"):
        change_ticket_unit(shift, ticket.id, saw.id)
    with refused(shift, "unit", "find it again"):
        change_ticket_unit(shift, ticket.id, 77)


def test_owner_and_machine_stand_on_an_invoice(shift: Shift) -> None:
    ticket = issue_invoice(shift, at_stage(shift, Stage.PICKUP).id)
    lukasz = add_customer(shift, OTHER_OWNER)
    saw = add_unit(shift, ticket.owner.id, SAW)
    with refused(shift, "invoice", "Invoice 5001 stands", "write a credit note for it first"):
        change_ticket_owner(shift, ticket.id, lukasz.id)
    with refused(shift, "invoice", "Invoice 5001 stands"):
        change_ticket_unit(shift, ticket.id, saw.id)
    credit_invoice(shift, ticket.id, "wrong customer")
    assert change_ticket_owner(shift, ticket.id, lukasz.id).owner.id == lukasz.id


def test_a_ticket_is_opened_by_its_number(shift: Shift) -> None:
    ticket = taken_in(shift)
    assert ticket_numbered(shift, 1001) == ticket
    for number in (1002, 0, -1, 10**30):
        with refused(shift, "ticket", f"There is no ticket {number}: check the number on the tag"):
            ticket_numbered(shift, number)
    with refused(shift, "ticket", "find it again"):
        open_ticket(shift, 77)
