"""Machines that are not fetched: days, storage by the terms, a series of letters, never twice."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest

from shopdesk.job.approval import SayEntry, decline
from shopdesk.job.customers import CustomerEntry, change_customer
from shopdesk.job.invoices.crediting import PartCredit, credit_part
from shopdesk.job.lines import LineEntry, add_line
from shopdesk.job.messages import State, drop_message, say_answered, say_sent, say_undelivered
from shopdesk.job.moving import go_on
from shopdesk.job.payments import take_payment
from shopdesk.job.pickup import issue_invoice, tell_ready
from shopdesk.job.shift import Shift, save_shop
from shopdesk.job.shop import Shop
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


def owed(shift: Shift) -> tuple[Decimal, Decimal, Decimal, Decimal]:
    (one,) = unfetched(shift)
    return one.owed, one.storage, one.storage_tax, one.storage_left


def test_storage_on_the_ticket_is_counted_once(
    shift: Shift, ready: TicketView, clock: Clock
) -> None:
    work = ready.totals.due
    clock.forward(42)
    before = owed(shift)
    assert before == (work, Decimal("24.00"), Decimal("1.92"), Decimal("25.92"))
    charged = charge_storage(shift, ready.id)
    assert owed(shift) == before
    assert charged.totals.due == before[0] + before[3]
    content = letter_content(shift, make_letter(shift, ready.id).id)
    assert (content.owed, content.storage, content.storage_tax) == before[:3]


@pytest.mark.parametrize("issued", [False, True], ids=["before the invoice", "invoiced"])
def test_storage_goes_on_after_it_was_put_on_the_ticket_and_paid(
    shift: Shift, ready: TicketView, clock: Clock, issued: bool
) -> None:
    clock.forward(40)
    charged = charge_storage(shift, ready.id)
    if issued:
        charged = issue_invoice(shift, ready.id)
        assert owed(shift)[0] == ready.totals.due
    take_payment(shift, ready.id, str(charged.totals.due), "card")
    assert owed(shift) == (Decimal("0.00"), Decimal("20.00"), Decimal("1.60"), Decimal("0.00"))
    clock.forward(5)
    assert owed(shift) == (Decimal("0.00"), Decimal("30.00"), Decimal("2.40"), Decimal("10.80"))
    content = letter_content(shift, make_letter(shift, ready.id).id)
    assert (content.owed, content.storage_settled) == (Decimal("0.00"), Decimal("21.60"))


def test_storage_credited_on_the_invoice_is_not_taken_off_the_work(
    shift: Shift, ready: TicketView, clock: Clock
) -> None:
    clock.forward(40)
    charge_storage(shift, ready.id)
    billed = issue_invoice(shift, ready.id)
    storage_row = next(at for at, line in enumerate(billed.lines, 1) if line.reckoned == "storage")
    credit_part(shift, ready.id, PartCredit("half of it is let off", ((storage_row, "0.5"),)))
    assert owed(shift)[0] == ready.totals.due
    credit_part(shift, ready.id, PartCredit("all of it is let off", ((storage_row, "0.5"),)))
    assert owed(shift)[0] == ready.totals.due


@pytest.mark.parametrize(
    ("shop", "tax"),
    [
        (replace(TERMS, tax_included=True), Decimal("0.00")),
        (replace(TERMS, tax_rates=()), Decimal("0.00")),
        (TERMS, Decimal("1.92")),
    ],
    ids=["in the price", "none", "on top"],
)
def test_the_tax_on_storage_is_what_comes_on_top(
    shift: Shift, ready: TicketView, clock: Clock, shop: Shop, tax: Decimal
) -> None:
    save_shop(shift, shop)
    clock.forward(42)
    _, storage, on_top, left = owed(shift)
    assert (storage, on_top, left) == (Decimal("24.00"), tax, Decimal("24.00") + tax)


def without(shift: Shift, ticket: TicketView, *missing: str) -> None:
    """Take an address, e-mail or the phones off the owner's card."""
    entry = CustomerEntry(
        "Mara Quill",
        () if "phones" in missing else ("home 555-0142",),
        "" if "email" in missing else "mara@example.com",
        "" if "address" in missing else "7 Orchard Row",
    )
    change_customer(shift, ticket.owner.id, entry)


def test_no_letter_goes_to_an_owner_without_an_address(
    shift: Shift, ready: TicketView, clock: Clock
) -> None:
    without(shift, ready, "address")
    clock.forward(14)
    assert unfetched(shift)[0].ways == ("e-mail", "phone")
    with refused(shift, "way", "No address", "Mara Quill", "tell them by phone and note it"):
        make_letter(shift, ready.id)
    told = make_letter(shift, ready.id, way="phone")
    assert (told.way, told.step) == ("phone", 1)
    clock.forward(14)
    assert make_letter(shift, ready.id, way="e-mail").step == 2
    say_sent(shift, told.id)
    assert missing(shift, ready) == "the second letter was not sent"


@pytest.mark.parametrize(
    ("card", "way", "words"),
    [("email", "e-mail", "No e-mail address"), ("phones", "phone", "No phone number")],
)
def test_nobody_is_told_by_a_way_that_is_not_on_their_card(
    shift: Shift, ready: TicketView, clock: Clock, card: str, way: str, words: str
) -> None:
    without(shift, ready, card)
    clock.forward(14)
    with refused(shift, "way", words, "write it on the owner's card"):
        make_letter(shift, ready.id, way=way)
    with refused(shift, "way", "choose one of letter, e-mail, phone"):
        make_letter(shift, ready.id, way="pigeon")


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
