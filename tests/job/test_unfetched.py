"""Machines that are not fetched: days, storage by the terms, a series of letters, never twice."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest

from shopdesk.job.approval import SayEntry, decline
from shopdesk.job.lines import LineEntry, add_line
from shopdesk.job.messages import State, drop_message, say_answered, say_sent, say_undelivered
from shopdesk.job.moving import go_on
from shopdesk.job.pickup import issue_invoice, tell_ready
from shopdesk.job.shift import Shift, save_shop
from shopdesk.job.stages import Stage
from shopdesk.job.unfetched import (
    charge_storage,
    letter_content,
    letters_of,
    make_letter,
    missing_before_disposal,
    unfetched,
)
from shopdesk.job.views import TicketView
from shopdesk.records.tables import Ticket
from tests.job.workshop import SHOP, Clock, another, at_stage, refused

TERMS = replace(SHOP, storage_per_day=Decimal("2.00"), storage_after_days=30)


@pytest.fixture
def ready(shift: Shift) -> TicketView:
    """A mended trimmer whose owner was told on 7 April."""
    save_shop(shift, TERMS)
    ticket = at_stage(shift, Stage.PICKUP)
    return tell_ready(shift, ticket.id, "by phone")


def missing(shift: Shift, ticket: TicketView) -> str:
    with shift.records.reading():
        return missing_before_disposal(Ticket.get_by_id(ticket.id))


def test_a_machine_that_waits_says_how_long_and_what_is_owed(
    shift: Shift, ready: TicketView, clock: Clock
) -> None:
    clock.forward(42)
    (one,) = unfetched(shift)
    assert (one.tag, one.told_on, one.days) == (ready.tag, date(2031, 4, 7), 42)
    assert one.owed == ready.totals.due
    assert (one.storage, one.storage_words) == (
        Decimal("24.00"),
        "12 days × $2.00, after the first 30",
    )
    assert one.phones == ("home 555-0142",)
    assert one.next_words == "The first letter, from Mon 21 Apr 2031 on."


def test_who_was_never_told_comes_last(shift: Shift, ready: TicketView, clock: Clock) -> None:
    clock.forward(10)
    other = another(shift, 5)

    decline(shift, other.id, SayEntry("Owner 5", "by phone", phone="555-0101"))
    go_on(shift, other.id, Stage.PICKUP)
    assert [one.tag for one in unfetched(shift)] == [ready.tag, other.tag]
    assert unfetched(shift)[1].next_words == "Tell the owner that it is ready, and note it."
    with refused(shift, "told", "never told that it is ready"):
        make_letter(shift, other.id)


def test_storage_is_put_on_the_ticket_by_a_person_with_its_working(
    shift: Shift, ready: TicketView, clock: Clock
) -> None:
    with refused(shift, "storage", "the first 30 days are free"):
        charge_storage(shift, ready.id)
    clock.forward(40)
    first = charge_storage(shift, ready.id)
    line = next(one for one in first.lines if one.reckoned == "storage")
    assert line.description == "Storage, 10 days × $2.00, after the first 30"
    assert (line.net, line.reason_words) == (Decimal("20.00"), "by the terms on the claim tag")
    clock.forward(5)
    again = charge_storage(shift, ready.id)
    assert [one.net for one in again.lines if one.reckoned == "storage"] == [Decimal("30.00")]
    (found,) = unfetched(shift)
    assert found.storage_on_ticket


def test_a_shop_without_storage_terms_charges_none(shift: Shift, clock: Clock) -> None:
    ticket = tell_ready(shift, at_stage(shift, Stage.PICKUP).id, "by text")
    clock.forward(90)
    with refused(shift, "storage", "no storage is charged"):
        charge_storage(shift, ticket.id)


def test_the_letters_follow_each_other_and_none_goes_twice(
    shift: Shift, ready: TicketView, clock: Clock
) -> None:
    with refused(shift, "early", "in order from Mon 21 Apr 2031 on"):
        make_letter(shift, ready.id)
    steps = []
    for _ in range(3):
        clock.forward(14)
        letter = make_letter(shift, ready.id)
        say_sent(shift, letter.id)
        steps.append(letter.step)
        with refused(shift, "early" if letter.step < 3 else "step", "letter"):
            make_letter(shift, ready.id)
    assert steps == [1, 2, 3]
    with refused(shift, "step", "The last letter was written already"):
        make_letter(shift, ready.id, "in a hurry")
    assert "check your local law" in unfetched(shift)[0].next_words


def test_a_letter_may_go_early_for_a_reason(shift: Shift, ready: TicketView) -> None:
    letter = make_letter(shift, ready.id, "they moved away")
    assert (letter.step, letter.note, letter.state) == (1, "they moved away", State.MADE)


def test_a_letter_that_was_dropped_may_be_written_again(shift: Shift, ready: TicketView) -> None:
    letter = make_letter(shift, ready.id, "a test")
    drop_message(shift, letter.id, "wrong words")
    assert make_letter(shift, ready.id, "right words").step == 1


def test_a_letter_that_went_out_cant_be_taken_back(shift: Shift, ready: TicketView) -> None:
    letter = make_letter(shift, ready.id, "a test")
    say_sent(shift, letter.id)
    with refused(shift, "message", "went out: it can't be taken back"):
        drop_message(shift, letter.id, "wrong words")


def test_what_came_of_a_letter_is_kept(shift: Shift, ready: TicketView) -> None:
    letter = make_letter(shift, ready.id, "a test")
    with refused(shift, "note", "What they said is empty"):
        say_answered(shift, letter.id, "")
    booked = say_answered(shift, letter.id, "comes with a trailer", "fri")
    assert (booked.state, booked.booked_on) == (State.BOOKED, date(2031, 4, 11))
    assert booked.sent_at is not None
    back = say_undelivered(shift, letter.id, "unknown at this address")
    assert (back.state, back.note) == (State.CAME_BACK, "unknown at this address")


def test_what_a_letter_said_stays_as_it_was(shift: Shift, ready: TicketView, clock: Clock) -> None:
    clock.forward(35)
    letter = make_letter(shift, ready.id)
    save_shop(shift, replace(TERMS, name="Another Name"))
    clock.forward(30)
    content = letter_content(shift, letter.id)
    assert content.shop.name == SHOP.name
    assert (content.storage, content.step) == (Decimal("10.00"), 1)
    assert content.fetch_by == date(2031, 5, 26)
    with refused(shift, "message", "not in the records"):
        letter_content(shift, 99)


def test_before_disposal_the_whole_series_must_have_gone_out(
    shift: Shift, ready: TicketView, clock: Clock
) -> None:
    assert missing(shift, ready) == "the first letter was not sent"
    for _ in range(3):
        clock.forward(14)
        letter = make_letter(shift, ready.id)
        assert missing(shift, ready) != ""
        say_sent(shift, letter.id)
    assert missing(shift, ready) == ""
    with shift.records.reading():
        assert len(letters_of(Ticket.get_by_id(ready.id))) == 3


def test_only_a_ready_machine_waits(shift: Shift) -> None:
    ticket = at_stage(shift, Stage.REPAIR)
    assert unfetched(shift) == ()
    with refused(shift, "stage", "only a ready machine waits"):
        make_letter(shift, ticket.id)


def test_storage_was_agreed_to_with_the_tag_and_needs_no_yes_of_its_own(
    shift: Shift, ready: TicketView, clock: Clock
) -> None:
    before = ready.may_charge
    clock.forward(400)
    charged = charge_storage(shift, ready.id)
    assert charged.may_charge == before + Decimal("740.00") + Decimal("59.20")
    assert issue_invoice(shift, ready.id).standing_invoice is not None


def test_a_fee_typed_by_hand_is_not_storage(shift: Shift, ready: TicketView) -> None:
    entry = LineEntry("fee", "Storage, typed by hand", unit_price="900.00", reason="terms")
    typed = add_line(shift, ready.id, entry)
    assert typed.may_charge == ready.may_charge
    with refused(shift, "approval", "record a new yes first"):
        issue_invoice(shift, ready.id)
