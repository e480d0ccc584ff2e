"""Two owners who are one: made one with all that hangs on them, and taken apart again."""

from dataclasses import replace
from datetime import timedelta

import pytest

from shopdesk.errors import StaleError
from shopdesk.job.after import make_reminder
from shopdesk.job.audit import audit
from shopdesk.job.customers import (
    CustomerEntry,
    add_customer,
    change_customer,
    customer_view,
    get_customer,
)
from shopdesk.job.drafts import Place, keep_draft
from shopdesk.job.history import customer_history
from shopdesk.job.intake import change_ticket_owner
from shopdesk.job.merging.apart import owner_merges, take_apart
from shopdesk.job.merging.fields import OWNER_RULES, Side
from shopdesk.job.merging.owners import merge_owners, two_owners
from shopdesk.job.opened import open_ticket
from shopdesk.job.pickup import credit_invoice, issue_invoice
from shopdesk.job.shift import Shift
from shopdesk.job.stages import Stage
from shopdesk.job.units import hand_on, units_of
from shopdesk.job.views import CustomerView, TicketView
from shopdesk.records.tables import Customer
from tests.job.workshop import INTAKE, OWNER, SAW, Clock, at_stage, everything, refused, taken_in

TWIN = CustomerEntry(
    "Quill Mara",
    ("555 0142", "work 555-0199"),
    "m.quill@example.com",
    notes="pays cash",
    shared_phone=True,
)


@pytest.fixture
def first(shift: Shift) -> TicketView:
    """A ticket of Mara Quill's, mended and closed, with a reminder."""
    ticket = at_stage(shift, Stage.CLOSED)
    return make_reminder(shift, ticket.id, "+60")


@pytest.fixture
def second(shift: Shift, first: TicketView) -> TicketView:
    """A ticket of the same person written down once more, with her saw."""
    return taken_in(shift, TWIN, SAW)


def sound(shift: Shift) -> None:
    assert audit(shift).faults == ()


def test_all_that_hangs_on_the_other_goes_over(
    shift: Shift, first: TicketView, second: TicketView
) -> None:
    together = merge_owners(shift, first.owner.id, second.owner.id)
    assert together.name == "Mara Quill"
    assert [phone.number for phone in together.phones] == ["555-0142", "555-0199"]
    assert together.notes == "pays cash"
    assert {unit.kind for unit in units_of(shift, together.id)} == {"string trimmer", "chain saw"}
    assert [one.number for one in customer_history(shift, together.id)] == [1002, 1001]
    assert open_ticket(shift, second.id).owner == together
    with refused(shift, "customer", "find them again"):
        get_customer(shift, second.owner.id)
    sound(shift)


def test_what_differs_is_shown_side_by_side_with_what_goes_over(
    shift: Shift, first: TicketView, second: TicketView
) -> None:
    two = two_owners(shift, first.owner.id, second.owner.id)
    found = {one.name: (one.stays, one.goes, one.offered) for one in two.fields}
    assert found["name"] == ("Mara Quill", "Quill Mara", Side.STAYS)
    assert found["email"] == ("mara@example.com", "m.quill@example.com", Side.STAYS)
    assert found["address"] == ("7 Orchard Row", "", Side.STAYS)
    assert found["notes"] == ("", "pays cash", Side.GOES)
    assert set(found) == {"name", "email", "address", "notes"}
    assert two.goes_over == "1 ticket, 1 machine, 2 phones"


def test_each_field_is_chosen_by_itself(
    shift: Shift, first: TicketView, second: TicketView
) -> None:
    change_customer(shift, first.owner.id, replace(OWNER, notes="rings twice"))
    choices = {"email": Side.GOES, "notes": Side.BOTH, "name": Side.GOES}
    together = merge_owners(shift, first.owner.id, second.owner.id, choices)
    assert (together.name, together.email) == ("Quill Mara", "m.quill@example.com")
    assert together.notes == "rings twice\npays cash"
    assert together.address == "7 Orchard Row"
    with shift.records.reading():
        assert Customer.get_by_id(together.id).folded_name == "quill mara"


def test_only_what_can_be_joined_may_be_both(
    shift: Shift, first: TicketView, second: TicketView
) -> None:
    with refused(shift, "email", "E-mail can't be both: choose one of the two"):
        merge_owners(shift, first.owner.id, second.owner.id, {"email": Side.BOTH})


def test_a_wish_for_no_reminders_holds_for_both(shift: Shift, first: TicketView) -> None:
    quiet = add_customer(shift, CustomerEntry("Mara Quill", may_remind=False))
    together = merge_owners(shift, quiet.id, first.owner.id)
    assert not together.may_remind
    (reminder,) = open_ticket(shift, first.id).reminders
    assert reminder.state == "stopped"
    (merge,) = owner_merges(shift, together.id)
    take_apart(shift, merge.id)
    (reminder,) = open_ticket(shift, first.id).reminders
    assert reminder.state == "open"
    sound(shift)


def test_an_issued_invoice_stays_to_the_letter(shift: Shift, first: TicketView) -> None:
    before = everything(shift)
    other = add_customer(shift, CustomerEntry("Mara Quil"))
    merge_owners(shift, other.id, first.owner.id, {"name": Side.STAYS})
    after = everything(shift)
    assert open_ticket(shift, first.id).owner.name == "Mara Quil"
    assert after["invoice"] == before["invoice"]
    assert after["invoice_print"] == before["invoice_print"]
    sound(shift)


KEPT_AS_THEY_WERE = {
    *("customer", "phone", "unit", "ownership", "ticket", "reminder", "message", "invoice"),
    "merge",
}


def facts(shift: Shift) -> dict[str, list[tuple[object, ...]]]:
    """Return the rows without their versions, which grow with each change."""
    found = everything(shift)
    return {
        table: sorted((row[0], *row[2:]) for row in found[table]) for table in KEPT_AS_THEY_WERE
    }


def test_taken_apart_at_once_all_is_as_it_was(
    shift: Shift, first: TicketView, second: TicketView
) -> None:
    before = facts(shift)
    merge_owners(shift, first.owner.id, second.owner.id, {"email": Side.GOES, "name": Side.GOES})
    (merge,) = owner_merges(shift, first.owner.id)
    assert (merge.called, merge.merged_by) == ("Quill Mara", "Sam")
    assert merge.went_over == "1 ticket, 1 machine, 1 phone"
    apart = take_apart(shift, merge.id)
    assert (apart.id, apart.called, apart.stayed) == (second.owner.id, "Quill Mara", ())
    assert facts(shift) == before
    sound(shift)
    with refused(shift, "", "apart already"):
        take_apart(shift, merge.id)


def test_taken_apart_later_what_was_changed_since_stands(
    shift: Shift, first: TicketView, second: TicketView
) -> None:
    merge_owners(shift, first.owner.id, second.owner.id, {"email": Side.GOES})
    entry = replace(OWNER, phones=("555-0142", "new 555-0199"), email="new@example.com")
    change_customer(shift, first.owner.id, replace(entry, notes="pays cash"))
    new = taken_in(shift, first.owner.id, replace(SAW, serial="77"))
    (merge,) = owner_merges(shift, first.owner.id)
    apart = take_apart(shift, merge.id)
    mine, theirs = get_customer(shift, first.owner.id), get_customer(shift, apart.id)
    assert (mine.email, mine.notes) == ("new@example.com", "")
    assert [phone.number for phone in mine.phones] == ["555-0142"]
    assert theirs.email == "m.quill@example.com"
    assert sorted(phone.number for phone in theirs.phones) == ["555 0142", "555-0199"]
    assert open_ticket(shift, new.id).owner.id == mine.id
    assert open_ticket(shift, second.id).owner.id == theirs.id
    sound(shift)


def test_a_machine_handed_on_since_stays_where_it_is(
    shift: Shift, first: TicketView, second: TicketView
) -> None:
    merge_owners(shift, first.owner.id, second.owner.id)
    third = add_customer(shift, CustomerEntry("Ivo Tarn"))
    hand_on(shift, second.unit.id, third.id)
    change_ticket_owner(shift, second.id, third.id, owns_unit=False)
    (merge,) = owner_merges(shift, first.owner.id)
    apart = take_apart(shift, merge.id)
    assert units_of(shift, apart.id) == ()
    assert [unit.id for unit in units_of(shift, third.id)] == [second.unit.id]
    assert open_ticket(shift, second.id).owner.id == third.id
    sound(shift)


def test_a_later_ticket_of_a_machine_that_goes_back_is_named(
    shift: Shift, clock: Clock, first: TicketView
) -> None:
    other = add_customer(shift, CustomerEntry("Maria Quill"))
    merge_owners(shift, other.id, first.owner.id)
    clock.forward(1)
    later = taken_in(shift, other.id, first.unit.id)
    (merge,) = owner_merges(shift, other.id)
    assert take_apart(shift, merge.id).stayed == (later.tag,)
    assert open_ticket(shift, later.id).owner.id == other.id
    sound(shift)


def test_an_invoice_issued_since_must_be_credited_first(shift: Shift, clock: Clock) -> None:
    ticket = at_stage(shift, Stage.PICKUP)
    other = add_customer(shift, CustomerEntry("Maria Quill"))
    merge_owners(shift, other.id, ticket.owner.id)
    clock.forward(1)
    bill = issue_invoice(shift, ticket.id).invoices[-1]
    (merge,) = owner_merges(shift, other.id)
    with refused(shift, "invoice", f"Invoice {bill.number} was issued since", "credit note"):
        take_apart(shift, merge.id)
    credit_invoice(shift, ticket.id, "wrong name")
    take_apart(shift, merge.id)
    assert open_ticket(shift, ticket.id).owner.name == "Mara Quill"
    sound(shift)


def three(shift: Shift) -> tuple[TicketView, TicketView, CustomerView]:
    one = taken_in(shift)
    two = taken_in(shift, CustomerEntry("Mara Quil", ("555-0177",)), SAW)
    return one, two, add_customer(shift, CustomerEntry("M Quill", ("555-0178",)))


@pytest.mark.parametrize("first_undone", [0, 1])
def test_merges_on_top_of_each_other_come_apart_in_any_order(
    shift: Shift, first_undone: int
) -> None:
    one, two, third = three(shift)
    before = facts(shift)
    merge_owners(shift, two.owner.id, one.owner.id)
    merge_owners(shift, third.id, two.owner.id)
    merges = owner_merges(shift, third.id)
    assert [merge.called for merge in merges] == ["Mara Quil", "Mara Quill"]
    take_apart(shift, merges[first_undone].id)
    left = merges[1 - first_undone]
    take_apart(shift, left.id)
    after = facts(shift)
    for table in ("ticket", "ownership", "merge"):
        assert after[table] == before[table]
    assert [row[:-1] for row in after["phone"]] == [row[:-1] for row in before["phone"]]
    assert get_customer(shift, one.owner.id).name == "Mara Quill"
    sound(shift)


def test_a_number_of_a_card_given_to_somebody_else_meanwhile_does_no_harm(shift: Shift) -> None:
    one = taken_in(shift)
    two = taken_in(shift, CustomerEntry("Mara Quil"), SAW)
    merge_owners(shift, one.owner.id, two.owner.id)
    stranger = add_customer(shift, CustomerEntry("Ivo Tarn"))
    assert stranger.id == two.owner.id, "the last number is given out again"
    (merge,) = owner_merges(shift, one.owner.id)
    apart = take_apart(shift, merge.id)
    assert apart.id != stranger.id
    assert open_ticket(shift, two.id).owner.id == apart.id
    assert get_customer(shift, stranger.id).name == "Ivo Tarn"
    sound(shift)


def test_what_can_not_be_made_one_is_refused(
    shift: Shift, first: TicketView, second: TicketView
) -> None:
    with refused(shift, "other", "the same card"):
        merge_owners(shift, first.owner.id, first.owner.id)
    with refused(shift, "customer", "find them again"):
        merge_owners(shift, first.owner.id, 99)
    keep_draft(shift, Place("owner", second.owner.id), "a card", {"particulars": {"name": "Q"}})
    with refused(shift, "other", "Something is typed on the card of Quill Mara", "save it"):
        merge_owners(shift, first.owner.id, second.owner.id)


def test_more_phones_than_are_kept_are_refused(shift: Shift) -> None:
    many = [
        add_customer(
            shift, CustomerEntry("Ivo Tarn", tuple(f"555-0{n}{d}1" for d in range(10, 15)))
        )
        for n in (1, 2)
    ]
    with refused(shift, "other", "10 phones, and 8 are kept at most"):
        merge_owners(shift, many[0].id, many[1].id)


def test_a_change_at_another_desk_meanwhile_is_said(
    shift: Shift, first: TicketView, second: TicketView
) -> None:
    seen = two_owners(shift, first.owner.id, second.owner.id).versions
    change_customer(shift, second.owner.id, replace(TWIN, notes="pays by card"))
    with pytest.raises(StaleError, match="changed elsewhere meanwhile"):
        merge_owners(shift, first.owner.id, second.owner.id, seen=seen)


def test_every_column_of_an_owner_is_chosen_or_left_out_on_purpose() -> None:
    chosen = {column for rule in OWNER_RULES for column in rule.columns}
    assert chosen | {"id", "version", "created_at"} == set(Customer._meta.columns)


def test_the_older_day_of_writing_down_stands(shift: Shift, clock: Clock) -> None:
    old = add_customer(shift, CustomerEntry("Mara Quill"))
    clock.forward(30)
    new = add_customer(shift, CustomerEntry("Mara Quill"))
    merge_owners(shift, new.id, old.id)
    with shift.records.reading():
        row = Customer.get_by_id(new.id)
        assert shift.now() - row.created_at > timedelta(days=29)
        assert customer_view(row).id == new.id


def test_the_journal_says_why_a_ticket_has_another_owner(
    shift: Shift, first: TicketView, second: TicketView
) -> None:
    from shopdesk.job.changes import ticket_changes

    merge_owners(shift, first.owner.id, second.owner.id)
    last = ticket_changes(shift, second.id)[-1]
    assert last.why == "Quill Mara is the same as Mara Quill"
    assert INTAKE.complaint == second.complaint
