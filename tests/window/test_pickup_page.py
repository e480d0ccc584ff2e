"""Handing it back by keyboard: the owner told, invoice, money, papers, reminder, never fetched."""

from decimal import Decimal
from pathlib import Path

import pytest
from pypdf import PdfReader

from shopdesk.desk.part_credit import PartCreditCard
from shopdesk.desk.pickup_page import PickupPage
from shopdesk.job.after import make_reminder
from shopdesk.job.history import ticket_journal
from shopdesk.job.invoices.prints import unprinted
from shopdesk.job.lines import LineEntry, add_line
from shopdesk.job.payments import take_payment
from shopdesk.job.shift import Shift
from shopdesk.job.stages import Stage
from shopdesk.job.views import TicketView
from shopdesk.pricing.totals import ZERO
from tests.window.conftest import Driver
from tests.window.so_far import repaired


@pytest.fixture
def page(desk: Driver, shift: Shift, ticket: TicketView) -> PickupPage:
    """The Pickup page of a mended trimmer."""
    desk.open(repaired(shift, ticket))
    found = desk.window.pane.page
    assert isinstance(found, PickupPage)
    return found


def words_of(paper: Path) -> str:
    return " ".join(page.extract_text() for page in PdfReader(paper).pages)


def pay(desk: Driver, amount: str, method: str = "cash", key: str = "<Return>") -> None:
    desk.press("<Alt-a>")
    desk.fill(amount)
    desk.type(method)
    desk.press(key)


def test_the_owner_is_told_and_it_is_their_move(
    desk: Driver, shift: Shift, page: PickupPage, ticket: TicketView
) -> None:
    assert page.told.startswith("Not told yet that it is ready. Ansel Brightwater: home 555-0142")
    desk.type("by phone")
    desk.press("<Alt-t>")
    assert page.told == "The owner was told on Mon 15 Mar 2027, 14:30 that it is ready."
    assert desk.kept(ticket).move == "owner"
    assert any(one.why == "told ready: by phone" for one in ticket_journal(shift, ticket.id))


def test_how_they_were_told_is_asked_for(desk: Driver, page: PickupPage) -> None:
    desk.press("<Alt-t>")
    assert page.telling["how"].error == "How they were told is empty: type it."


def test_the_invoice_is_issued_on_paper_and_printed_again(
    desk: Driver, shift: Shift, page: PickupPage, ticket: TicketView
) -> None:
    desk.press("<Alt-i>")
    (invoice,) = desk.kept(ticket).invoices
    assert invoice.total == Decimal("47.78")
    assert desk.opened[0].name == f"T1001 invoice {invoice.number}.pdf"
    assert "Starts, then dies as soon as I squeeze the trigger." in words_of(desk.opened[0])
    assert unprinted(shift) == ()
    first = desk.opened[0].read_bytes()
    desk.press("<Control-p>")
    assert len(desk.opened) == 2
    assert desk.opened[1].read_bytes() == first
    desk.shots("pickup")


def test_a_second_invoice_is_not_offered(desk: Driver, page: PickupPage) -> None:
    desk.press("<Alt-i>", "<Alt-i>")
    assert len(desk.opened) == 1


def test_a_credit_note_takes_the_invoice_back_with_its_reason(
    desk: Driver, page: PickupPage, ticket: TicketView
) -> None:
    desk.press("<Alt-i>")
    desk.dialogs.answers.append("wrong owner named")
    desk.press("<Alt-c>")
    kept = desk.kept(ticket)
    assert [one.total for one in kept.invoices] == [Decimal("47.78"), Decimal("-47.78")]
    assert kept.standing_invoice is None
    assert "wrong owner named" in words_of(desk.opened[1])


def test_payments_and_the_balance_in_words(
    desk: Driver, page: PickupPage, ticket: TicketView
) -> None:
    pay(desk, "10")
    assert page.money.balance == "No invoice yet. $10.00 was paid ahead."
    desk.press("<Alt-i>")
    assert page.money.balance == "The owner owes $37.78. $10.00 was paid."
    pay(desk, "37.78", "card")
    assert page.money.balance == "Nothing is owed. $47.78 was paid."
    assert [one.method for one in desk.kept(ticket).payments] == ["cash", "card"]


def test_what_is_owed_stands_in_the_amount_ready_to_be_taken(
    desk: Driver, page: PickupPage, ticket: TicketView
) -> None:
    desk.press("<Alt-i>", "<Alt-a>")
    assert page.money.payment.text_of("amount") == "47.78"
    desk.press("<Tab>")
    desk.type("card")
    desk.press("<Return>")
    assert desk.kept(ticket).balance == 0
    assert page.money.payment.text_of("amount") == ""


def test_more_cash_than_is_owed_is_taken_with_its_change(
    desk: Driver, page: PickupPage, ticket: TicketView
) -> None:
    desk.press("<Alt-i>")
    desk.dialogs.answers += [False, True]
    pay(desk, "50")
    assert desk.dialogs.asked == [
        "$47.78 is owed. Take that, and hand $2.22 back as change?",
    ]
    assert desk.kept(ticket).payments == ()
    assert page.money.payment.text_of("amount") == "50"
    desk.press("<Return>")
    assert [one.amount for one in desk.kept(ticket).payments] == [Decimal("47.78")]


def test_too_much_money_by_card_is_refused_at_its_field(
    desk: Driver, page: PickupPage, ticket: TicketView
) -> None:
    desk.press("<Alt-i>")
    pay(desk, "50", "card")
    assert page.money.payment["amount"].error == (
        "The owner owes $47.78: take that and hand $2.22 back as change."
    )
    assert desk.kept(ticket).payments == ()


def test_money_comes_in_two_ways_at_once_with_its_change(
    desk: Driver, page: PickupPage, ticket: TicketView
) -> None:
    desk.press("<Alt-i>", "<Alt-a>")
    desk.fill("40", "card", "half and half", "10")
    desk.type("cash")
    desk.dialogs.answers.append(True)
    desk.press("<Return>")
    assert desk.dialogs.asked == [
        "$47.78 is owed. Take that, and hand $2.22 back as change?",
    ]
    card, cash = desk.kept(ticket).payments
    assert (card.method, card.amount) == ("card", Decimal("40.00"))
    assert (cash.method, cash.amount) == ("cash", Decimal("7.78"))
    assert cash.note == "half and half; $10.00 handed over, $2.22 change"
    assert page.money.balance == "Nothing is owed. $47.78 was paid."
    assert not page.money.payment.changed


def test_what_is_wrong_with_the_second_amount_is_said_at_it(
    desk: Driver, page: PickupPage, ticket: TicketView
) -> None:
    desk.press("<Alt-i>", "<Alt-a>")
    desk.fill("40", "card", "", "lots")
    desk.type("cash")
    desk.press("<Alt-k>")
    assert "is not an amount" in page.money.payment["amount_2"].error
    assert desk.kept(ticket).payments == ()


def test_a_debt_is_written_off_and_owed_after_all(
    desk: Driver, page: PickupPage, ticket: TicketView
) -> None:
    desk.press("<Alt-i>")
    pay(desk, "40")
    desk.dialogs.answers += ["7.78", "moved away", "came back"]
    desk.press("<Alt-x>")
    assert desk.dialogs.asked == [
        "How much of the $7.78 that is owed is given up?",
        "Why is $7.78 given up? It stays on the ticket as a debt that was written off.",
    ]
    assert page.money.balance == "Nothing is owed. $40.00 was paid. $7.78 was written off."
    assert desk.kept(ticket).written_off == Decimal("7.78")
    desk.shots("pickup-written-off")
    desk.press("<Alt-x>")
    assert desk.dialogs.asked[2] == "Why is $7.78 owed again?"
    assert page.money.balance == "The owner owes $7.78. $40.00 was paid."
    assert [one.why for one in desk.kept(ticket).write_offs] == ["moved away", "came back"]


def test_a_part_of_a_debt_is_written_off_and_what_is_no_answer_is_asked_again(
    desk: Driver, page: PickupPage, ticket: TicketView
) -> None:
    desk.press("<Alt-i>")
    desk.dialogs.answers += ["50", "7.78", "5", "regular customer"]
    desk.press("<Alt-x>")
    assert desk.dialogs.asked[1].startswith("$50.00 can't be given up")
    assert desk.dialogs.asked[3].startswith("“5” is no reason: say it in words.")
    assert page.money.balance == "The owner owes $40.00. $0.00 was paid. $7.78 was written off."
    assert desk.notice == "$7.78 is written off."
    desk.dialogs.answers += ["Have", "by mistake"]
    desk.press("<Alt-x>")
    assert desk.kept(ticket).balance == Decimal("47.78")
    desk.dialogs.answers.append(None)
    desk.press("<Alt-x>")
    assert desk.kept(ticket).written_off == ZERO


def test_nothing_is_written_off_where_nothing_is_owed(
    desk: Driver, page: PickupPage, ticket: TicketView
) -> None:
    desk.press("<Alt-x>")
    assert desk.dialogs.asked == []
    assert desk.kept(ticket).write_offs == ()


def test_a_closed_ticket_takes_what_is_still_owed(
    desk: Driver, page: PickupPage, ticket: TicketView
) -> None:
    desk.press("<Alt-i>")
    page.money.agreed["balance_reason"].focus_input()
    desk.type("pays on Friday")
    desk.press("<Alt-n>", "<Control-Return>")
    desk.open(ticket)
    pay(desk, "47.78")
    closed = desk.kept(ticket)
    assert (closed.stage, closed.balance) == (Stage.CLOSED, ZERO)


def test_money_written_down_wrongly_is_taken_out_with_a_reason(
    desk: Driver, shift: Shift, page: PickupPage, ticket: TicketView
) -> None:
    desk.press("<Alt-d>")
    assert desk.notice == "Choose a payment in the list first."
    pay(desk, "10")
    desk.dialogs.answers.append("it was 20")
    desk.press("<Alt-d>")
    assert desk.notice == "Choose a payment in the list first."
    desk.press("<Delete>")
    assert desk.dialogs.asked == ["What is wrong with $10.00, cash? It is taken out."]
    assert desk.kept(ticket).payments == ()
    assert any(one.why == "it was 20" for one in ticket_journal(shift, ticket.id))


def test_money_printed_on_the_invoice_stays(
    desk: Driver, page: PickupPage, ticket: TicketView
) -> None:
    pay(desk, "10")
    desk.press("<Alt-i>", "<Alt-d>")
    desk.dialogs.answers.append("it was 20")
    desk.press("<Delete>")
    assert "write a credit note for that first" in desk.notice
    assert len(desk.kept(ticket).payments) == 1


def test_money_is_given_back_at_most_what_was_paid(
    desk: Driver, page: PickupPage, ticket: TicketView
) -> None:
    pay(desk, "20")
    pay(desk, "30", key="<Alt-g>")
    assert "Only $20.00 was paid" in page.money.payment["amount"].error
    desk.press("<Alt-a>", "<Control-a>")
    desk.type("5")
    desk.press("<Alt-g>")
    assert [one.amount for one in desk.kept(ticket).payments] == [Decimal("20"), Decimal("-5")]


def test_money_the_shop_owes_is_said(
    desk: Driver, shift: Shift, page: PickupPage, ticket: TicketView
) -> None:
    take_payment(shift, ticket.id, "47.78", "cash")
    add_line(shift, ticket.id, LineEntry("discount", "Late by a week", unit_price="10"))
    desk.open(ticket)
    desk.press("<Alt-i>")
    assert page.money.balance.startswith("We owe the owner $10.74: give it back")


def test_it_may_go_with_an_agreement_about_the_rest(
    desk: Driver, page: PickupPage, ticket: TicketView
) -> None:
    desk.press("<Alt-i>")
    assert "47.78 is still owed" in desk.window.pane.ways.missing
    page.money.agreed["balance_reason"].focus_input()
    desk.type("pays on Friday")
    desk.press("<Alt-n>", "<Control-Return>")
    kept = desk.kept(ticket)
    assert (kept.stage, kept.outcome) == (Stage.CLOSED, "mended")
    assert kept.balance_reason == "pays on Friday"


def test_an_amount_half_typed_is_not_left_behind(
    desk: Driver, page: PickupPage, ticket: TicketView
) -> None:
    desk.press("<Alt-i>", "<Alt-a>")
    desk.type("40")
    desk.press("<Control-s>")
    assert desk.notice.startswith("An amount is typed and not noted")
    assert desk.kept(ticket).payments == ()


def test_an_emptied_amount_means_that_nothing_is_taken(
    desk: Driver, page: PickupPage, ticket: TicketView
) -> None:
    desk.press("<Alt-i>", "<Alt-a>", "<BackSpace>")
    assert page.money.payment.text_of("amount") == ""
    assert not page.changed
    desk.press("<Tab>")
    desk.type("card")
    assert page.save()
    assert page.money.payment.values()["amount"] == "47.78"
    assert desk.kept(ticket).payments == ()


def test_escape_in_the_money_form_puts_what_is_owed_back(
    desk: Driver, page: PickupPage, ticket: TicketView
) -> None:
    desk.press("<Alt-i>", "<Alt-a>")
    desk.fill("40", "card")
    desk.press("<Escape>")
    assert page.money.payment.text_of("amount") == "47.78"
    assert page.money.payment.text_of("method") == ""
    assert desk.focus is page.money.payment["amount"].input


def test_the_key_for_an_agreement_asks_for_its_words_first(
    desk: Driver, page: PickupPage, ticket: TicketView
) -> None:
    desk.press("<Alt-i>", "<Alt-n>")
    assert desk.notice == "Type what was agreed about the rest, then Alt+N."
    assert desk.focus is page.money.agreed["balance_reason"].input


def test_a_part_credit_that_is_typed_holds_back_the_handing_over(
    desk: Driver, page: PickupPage, ticket: TicketView
) -> None:
    desk.press("<Alt-i>")
    pay(desk, "47.78")
    desk.press("<Alt-z>")
    desk.fill("too dear", "5")
    desk.press("<Escape>", "<Control-Return>")
    assert desk.notice.startswith("Typed and not saved yet: a credit on T1001.")
    assert desk.kept(ticket).stage is Stage.PICKUP
    desk.press("<Alt-z>")
    card = desk.window.in_sight
    assert isinstance(card, PartCreditCard)
    for name in ("why", "amount"):
        card.form[name].focus_input()
        desk.press("<Control-a>", "<BackSpace>")
    desk.press("<Escape>", "<Control-Return>")
    assert desk.kept(ticket).stage is Stage.CLOSED


def test_work_performed_and_why_is_printed(desk: Driver, page: PickupPage) -> None:
    desk.press("<Alt-w>")
    text = words_of(desk.opened[0])
    assert "Plug gap" in text
    assert "0.040 in" in text


def test_a_reminder_is_made_printed_and_followed(
    desk: Driver, page: PickupPage, ticket: TicketView
) -> None:
    desk.press("<Alt-r>")
    (reminder,) = desk.kept(ticket).reminders
    desk.press("<Alt-l>")
    assert desk.opened[0].name == f"T1001 reminder {reminder.due_on:%Y-%m-%d}.pdf"
    desk.dialogs.answers.append("sent")
    desk.press("<Alt-s>")
    assert desk.kept(ticket).reminders[0].state == "sent"


def test_a_reminder_for_a_past_day_is_refused_at_its_field(
    desk: Driver, page: PickupPage, ticket: TicketView
) -> None:
    page.after_it.reminder["due_on"].focus_input()
    desk.type("2020-01-01")
    desk.press("<Return>")
    assert page.after_it.reminder["due_on"].error
    assert desk.kept(ticket).reminders == ()


def test_without_a_reminder_its_keys_say_so(desk: Driver, page: PickupPage) -> None:
    desk.press("<Alt-l>")
    assert desk.notice == "There is no reminder yet: make it first."


def test_a_machine_never_fetched_is_closed_once_the_owner_was_told(
    desk: Driver, page: PickupPage, ticket: TicketView
) -> None:
    desk.press("<Alt-f>")
    assert "never told that it is ready" in desk.notice
    assert desk.dialogs.asked == [], "nothing is asked that could not be kept"
    desk.dialogs.answers += ["sold for parts", ""]
    desk.type("in writing")
    desk.press("<Alt-t>", "<Alt-f>")
    assert "the first letter was not sent" in desk.notice
    assert desk.kept(ticket).stage is Stage.PICKUP
    desk.dialogs.answers += ["sold for parts", "they live abroad"]
    desk.press("<Alt-f>")
    kept = desk.kept(ticket)
    assert (kept.stage, kept.outcome) == (Stage.CLOSED, "not fetched")
    desk.press("<Alt-f>")
    assert len(desk.dialogs.asked) == 4, "a closed ticket is not closed again"


def test_old_parts_are_named(desk: Driver, page: PickupPage) -> None:
    assert page.after_it.old_parts == "The owner did not ask for the old parts."


def test_the_upkeep_goes_into_the_owners_calendar(desk: Driver, ticket: TicketView) -> None:
    made = make_reminder(desk.shift, ticket.id)
    desk.open(made)
    desk.press("<Alt-Key-5>")
    desk.press("<Alt-j>")
    desk.until(lambda: len(desk.opened) == 1)
    file = desk.opened[0]
    assert file.name == f"{ticket.tag} upkeep {made.reminders[-1].due_on.isoformat()}.ics"
    assert file.read_bytes().startswith(b"BEGIN:VCALENDAR\r\n")
    assert "The calendar file is in" in desk.notice


def test_without_a_reminder_the_calendar_key_says_what_is_missing(
    desk: Driver, ticket: TicketView
) -> None:
    desk.open(ticket)
    desk.press("<Alt-Key-5>")
    desk.press("<Alt-j>")
    assert "make it first" in desk.notice


def test_a_part_of_the_invoice_is_credited_and_it_stands(
    desk: Driver, page: PickupPage, ticket: TicketView
) -> None:
    desk.press("<Alt-i>", "<Alt-z>")
    card = desk.window.in_sight
    assert isinstance(card, PartCreditCard)
    desk.fill("the filter was torn", "", "2")
    assert card.comes_to == "Only 1 of this line can be credited: type that or less."
    desk.press("<Control-s>")
    assert card.form["quantity_1"].error == card.comes_to
    desk.press("<BackSpace>")
    desk.type("1")
    assert card.comes_to == "It comes to $6.98 with its tax."
    desk.shots("part-credit")
    desk.press("<Control-s>")
    kept = desk.kept(ticket)
    bill = kept.standing_invoice
    assert bill is not None
    assert (bill.credited, bill.credited_amount) == (False, Decimal("6.98"))
    assert desk.window.pane.page is page
    assert page.invoices.says == f"Invoice {bill.number} stands, with $6.98 of it credited."
    assert desk.opened[-1].name == "T1001 credit note C1.pdf"
    assert "the filter was torn" in words_of(desk.opened[-1])


def test_what_is_typed_of_a_part_credit_waits_when_it_is_left(
    desk: Driver, page: PickupPage, ticket: TicketView
) -> None:
    desk.press("<Alt-i>", "<Alt-z>")
    desk.fill("too dear", "5")
    desk.press("<Escape>")
    assert desk.window.pane.page is page
    assert len(desk.kept(ticket).invoices) == 1
    desk.press("<Alt-z>")
    card = desk.window.in_sight
    assert isinstance(card, PartCreditCard)
    assert (card.form.text_of("why"), card.form.text_of("amount")) == ("too dear", "5")
