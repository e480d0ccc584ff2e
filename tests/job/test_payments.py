"""Money over the counter: deposits within what is on offer, slips put right, closed tickets."""

from dataclasses import replace
from decimal import Decimal

import pytest

from shopdesk.job.history import ticket_journal
from shopdesk.job.invoices.crediting import PartCredit, credit_part
from shopdesk.job.lines import add_line, turn_down
from shopdesk.job.opened import open_ticket
from shopdesk.job.payments import (
    Tender,
    change_of,
    drop_payment,
    give_back,
    take_payment,
    take_payments,
)
from shopdesk.job.pickup import (
    agree_balance,
    credit_invoice,
    hand_over,
    invoice_as_issued,
    issue_invoice,
)
from shopdesk.job.shift import Shift
from shopdesk.job.stages import Stage
from shopdesk.job.views import TicketView
from shopdesk.pricing.totals import ZERO
from tests.job.workshop import HOUR, at_stage, kept, refused, taken_in


@pytest.fixture
def ticket(shift: Shift) -> TicketView:
    """A mended machine in Pickup: 84.67 with tax."""
    return at_stage(shift, Stage.PICKUP)


def test_a_deposit_comes_off_and_too_much_is_given_back(shift: Shift) -> None:
    ticket = at_stage(shift, Stage.APPROVAL)
    held = kept(shift, take_payment(shift, ticket.id, "84.67", "card", "deposit"))
    assert (held.balance, held.totals.due) == (Decimal("-84.67"), Decimal("0.00"))
    turn_down(shift, ticket.lines[0].id)
    with refused(shift, "amount", "Only $84.67 was paid on this ticket"):
        give_back(shift, ticket.id, "84.68", "card")
    back = kept(shift, give_back(shift, ticket.id, "19.87", "card"))
    assert (back.paid, back.payments[-1].amount) == (Decimal("64.80"), Decimal("-19.87"))


def test_a_deposit_is_no_more_than_what_is_on_offer(shift: Shift) -> None:
    ticket = at_stage(shift, Stage.APPROVAL)
    with refused(shift, "amount", "on offer comes to $84.67: take $84.67 at most ahead of it"):
        take_payment(shift, ticket.id, "84.68", "card")
    take_payment(shift, ticket.id, "80", "card")
    with refused(shift, "amount", "take $4.67 at most"):
        take_payment(shift, ticket.id, "5", "card")
    take_payment(shift, ticket.id, "4.67", "card")
    with refused(shift, "amount", "on offer comes to $84.67: take no more ahead of it"):
        take_payment(shift, ticket.id, "0.01", "card")
    add_line(shift, ticket.id, replace(HOUR, description="Clutch"))
    assert take_payment(shift, ticket.id, "64.80", "card").totals.due == 0


def test_before_anything_is_on_offer_a_deposit_is_what_can_be_kept(shift: Shift) -> None:
    ticket = taken_in(shift)
    assert take_payment(shift, ticket.id, "9,999,999.99", "card").paid == Decimal("9999999.99")
    with refused(shift, "amount", "That is over 9,999,999.99 on one ticket: check it"):
        take_payment(shift, ticket.id, "0.01", "card")


def test_a_closed_ticket_takes_what_is_still_owed_and_no_more(
    shift: Shift, ticket: TicketView
) -> None:
    issue_invoice(shift, ticket.id)
    take_payment(shift, ticket.id, "80", "cash")
    agree_balance(shift, ticket.id, "the rest on Friday")
    closed = hand_over(shift, ticket.id)
    with refused(shift, "amount", "closed and $4.67 is still owed on it: reopen it first for more"):
        take_payment(shift, ticket.id, "4.68", "cash")
    with refused(shift, "amount", "closed and nothing is owed back on it"):
        give_back(shift, ticket.id, "1", "cash")
    with refused(shift, "stage", "This ticket is closed: reopen it first"):
        drop_payment(shift, closed.payments[0].id, "wrong")
    paid = kept(shift, take_payment(shift, ticket.id, "4.67", "cash"))
    assert (paid.balance, paid.stage, paid.closed_at) == (ZERO, Stage.CLOSED, closed.closed_at)
    with refused(shift, "amount", "closed and nothing is still owed on it"):
        take_payment(shift, ticket.id, "0.01", "cash")
    owed = drop_payment(shift, paid.payments[-1].id, "a slip of the pen, after it was closed")
    assert owed.balance == Decimal("4.67")


def test_a_closed_ticket_with_a_credit_gives_it_back(shift: Shift, ticket: TicketView) -> None:
    issue_invoice(shift, ticket.id)
    take_payment(shift, ticket.id, "84.67", "card")
    hand_over(shift, ticket.id)
    owing = credit_part(shift, ticket.id, PartCredit("it was dearer than said", amount="10"))
    assert owing.balance == Decimal("-10.00")
    with refused(shift, "amount", "closed and $10.00 is owed back on it"):
        give_back(shift, ticket.id, "10.01", "card")
    given = kept(shift, give_back(shift, ticket.id, "10", "card"))
    assert (given.balance, given.stage) == (ZERO, Stage.CLOSED)


def test_a_payment_in_several_ways_with_its_change(shift: Shift, ticket: TicketView) -> None:
    billed = issue_invoice(shift, ticket.id)
    tenders = (Tender("40", "card"), Tender("50", "cash"))
    assert change_of(billed, tenders) == Decimal("5.33")
    paid = kept(shift, take_payments(shift, ticket.id, tenders, "in a hurry"))
    assert [(one.method, one.amount, one.note) for one in paid.payments] == [
        ("card", Decimal("40.00"), "in a hurry"),
        ("cash", Decimal("44.67"), "in a hurry; $50.00 handed over, $5.33 change"),
    ]
    assert (paid.balance, paid.paid) == (ZERO, Decimal("84.67"))


def test_change_never_comes_out_of_a_card(shift: Shift, ticket: TicketView) -> None:
    billed = issue_invoice(shift, ticket.id)
    tenders = (Tender("90", "card"), Tender("2", "cash"))
    assert change_of(billed, tenders) == Decimal("2.00")
    with refused(shift, "amount", "The owner owes $84.67: take that and hand $5.33 back"):
        take_payments(shift, ticket.id, tenders)


@pytest.mark.parametrize(
    ("second", "field", "words"),
    [
        (Tender("lots", "card"), "amount_2", "is not an amount"),
        (Tender("5", ""), "method_2", "How it was paid is empty"),
        (Tender("", "card"), "amount_2", "Nothing is typed"),
        (Tender("0", "card"), "amount_2", "The amount is 0.00"),
    ],
)
def test_what_is_wrong_with_the_second_of_two_is_said_at_it(
    shift: Shift, ticket: TicketView, second: Tender, field: str, words: str
) -> None:
    issue_invoice(shift, ticket.id)
    with refused(shift, field, words):
        take_payments(shift, ticket.id, (Tender("5", "cash"), second))


def test_a_second_way_left_empty_counts_for_none(shift: Shift, ticket: TicketView) -> None:
    paid = take_payments(shift, ticket.id, (Tender("20", "cash"), Tender("", "")))
    assert [one.amount for one in paid.payments] == [Decimal("20.00")]


def test_money_written_down_wrongly_is_taken_out(shift: Shift, ticket: TicketView) -> None:
    wrong = take_payment(shift, ticket.id, "48.67", "cash").payments[-1]
    with refused(shift, "why", "The reason is empty: type it"):
        drop_payment(shift, wrong.id, " ")
    after = kept(shift, drop_payment(shift, wrong.id, "it was 84.67"))
    assert (after.payments, after.paid) == ((), Decimal("0.00"))
    noted = ticket_journal(shift, ticket.id)[-1]
    assert (noted.action, noted.table, noted.why) == ("removed", "payment", "it was 84.67")
    assert '"amount":4867' in noted.before
    with refused(shift, "payment", "not in the records any more: open the ticket again"):
        drop_payment(shift, wrong.id, "again")
    take_payment(shift, ticket.id, "84.67", "cash")
    bill = issue_invoice(shift, ticket.id).invoices[-1]
    assert [row.amount for row in invoice_as_issued(shift, bill.id).payments] == [Decimal("84.67")]


def test_what_the_invoice_prints_is_not_taken_out(shift: Shift, ticket: TicketView) -> None:
    ahead = take_payment(shift, ticket.id, "20", "cash").payments[-1]
    issue_invoice(shift, ticket.id)
    after = take_payment(shift, ticket.id, "64.67", "card").payments[-1]
    with refused(shift, "payment", "printed on invoice 5001: write a credit note for that first"):
        drop_payment(shift, ahead.id, "it was 30")
    owed = drop_payment(shift, after.id, "the card was refused")
    assert owed.balance == Decimal("64.67")
    credit_invoice(shift, ticket.id, "wrong deposit")
    assert drop_payment(shift, ahead.id, "it was 30").payments == ()


def test_what_was_given_back_meanwhile_is_taken_out_first(shift: Shift) -> None:
    ticket = at_stage(shift, Stage.APPROVAL)
    wrong = take_payment(shift, ticket.id, "50", "cash").payments[-1]
    back = give_back(shift, ticket.id, "30", "cash").payments[-1]
    with refused(shift, "payment", "$30.00 of it was given back: take that out first"):
        drop_payment(shift, wrong.id, "never paid")
    drop_payment(shift, back.id, "never given")
    drop_payment(shift, wrong.id, "never paid")
    assert open_ticket(shift, ticket.id).payments == ()


def test_change_is_due_on_cash_over_what_the_invoice_leaves(
    shift: Shift, ticket: TicketView
) -> None:
    assert change_of(ticket, [Tender("100", "cash")]) == 0, "no invoice stands: it is a deposit"
    billed = issue_invoice(shift, ticket.id)
    assert change_of(billed, [Tender("100", "cash")]) == Decimal("15.33")
    assert change_of(billed, [Tender("84.67", "cash")]) == 0
    assert change_of(billed, [Tender("100", "card")]) == 0
    with refused(shift, "amount", "The amount is 0.00"):
        change_of(billed, [Tender("0", "cash")])
    with refused(shift, "method", "How it was paid is empty"):
        change_of(billed, [Tender("100", "")])
