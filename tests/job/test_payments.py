"""Money over the counter: deposits within what is on offer, slips put right, closed tickets."""

from dataclasses import replace
from decimal import Decimal

import pytest

from shopdesk.job.history import ticket_journal
from shopdesk.job.lines import add_line, turn_down
from shopdesk.job.moving import send_back
from shopdesk.job.opened import open_ticket
from shopdesk.job.payments import change_due, drop_payment, give_back, take_payment
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
from tests.job.workshop import HOUR, at_stage, each, kept, refused, taken_in


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


def test_a_closed_ticket_takes_no_money_until_it_is_reopened(
    shift: Shift, ticket: TicketView
) -> None:
    issue_invoice(shift, ticket.id)
    take_payment(shift, ticket.id, "80", "cash")
    agree_balance(shift, ticket.id, "the rest on Friday")
    paid = hand_over(shift, ticket.id).payments[0].id
    for action in each(
        lambda: take_payment(shift, ticket.id, "4.67", "cash"),
        lambda: give_back(shift, ticket.id, "1", "cash"),
        lambda: credit_invoice(shift, ticket.id, "wrong"),
        lambda: drop_payment(shift, paid, "wrong"),
    ):
        with refused(shift, "stage", "This ticket is closed: reopen it first"):
            action()
    send_back(shift, ticket.id, Stage.PICKUP, "came to pay the rest")
    assert take_payment(shift, ticket.id, "4.67", "cash").balance == 0
    assert hand_over(shift, ticket.id).stage is Stage.CLOSED


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
    assert change_due(ticket, "100", "cash") == 0, "no invoice stands: it is a deposit"
    billed = issue_invoice(shift, ticket.id)
    assert change_due(billed, "100", "cash") == Decimal("15.33")
    assert change_due(billed, "84.67", "cash") == 0
    assert change_due(billed, "100", "card") == 0
    with refused(shift, "amount", "The amount is 0.00"):
        change_due(billed, "0", "cash")
    with refused(shift, "method", "How it was paid is empty"):
        change_due(billed, "100", "")
