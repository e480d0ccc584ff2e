"""Debts that are given up, and those that are paid after all."""

from decimal import Decimal

import pytest

from shopdesk.job.bad_debts import take_back_write_off, write_off
from shopdesk.job.changes import ticket_changes
from shopdesk.job.payments import take_payment
from shopdesk.job.pickup import agree_balance, credit_invoice, hand_over, issue_invoice
from shopdesk.job.shift import Shift
from shopdesk.job.stages import Stage
from shopdesk.job.views import TicketView
from shopdesk.pricing.totals import ZERO
from tests.job.workshop import Clock, at_stage, kept, refused


@pytest.fixture
def owed(shift: Shift) -> TicketView:
    """An invoice over 84.67 of which 50.00 was paid."""
    ticket = at_stage(shift, Stage.PICKUP)
    issue_invoice(shift, ticket.id)
    return take_payment(shift, ticket.id, "50", "cash")


def test_what_is_given_up_is_owed_no_more_and_is_no_money(shift: Shift, owed: TicketView) -> None:
    given_up = kept(shift, write_off(shift, owed.id, "moved away, letters come back"))
    assert (given_up.balance, given_up.paid) == (ZERO, Decimal("50.00"))
    assert given_up.written_off == Decimal("34.67")
    (one,) = given_up.write_offs
    assert (one.amount, one.why, one.written_by) == (
        Decimal("34.67"),
        "moved away, letters come back",
        "Sam",
    )
    assert len(given_up.payments) == 1
    told = ticket_changes(shift, owed.id)[-1]
    assert told.row == "debt given up of $34.67"
    assert hand_over(shift, owed.id).stage is Stage.CLOSED


def test_a_part_is_given_up_and_the_rest_stays_owed(shift: Shift, owed: TicketView) -> None:
    part = kept(shift, write_off(shift, owed.id, "regular customer", "4.67"))
    assert (part.balance, part.written_off) == (Decimal("30.00"), Decimal("4.67"))
    more = write_off(shift, owed.id, "moved away", "10")
    assert (more.balance, more.written_off) == (Decimal("20.00"), Decimal("14.67"))
    paid = take_payment(shift, owed.id, "20", "cash")
    assert (paid.balance, paid.paid) == (ZERO, Decimal("70.00"))
    again = take_back_write_off(shift, owed.id, "came to pay")
    assert (again.balance, again.written_off) == (Decimal("14.67"), ZERO)


@pytest.mark.parametrize("amount", ["34.68", "0", "0.00"])
def test_no_more_than_the_debt_is_given_up(shift: Shift, owed: TicketView, amount: str) -> None:
    with refused(shift, "amount", "type an amount over 0, up to the $34.67 that is owed"):
        write_off(shift, owed.id, "regular customer", amount)


def test_a_number_is_no_reason(shift: Shift, owed: TicketView) -> None:
    with refused(shift, "why", "“5” is no reason: say it in words."):
        write_off(shift, owed.id, "5")
    with refused(shift, "why", "“12.50” is no reason"):
        take_back_write_off(shift, owed.id, "12.50")


def test_a_closed_ticket_is_paid_after_all(shift: Shift, owed: TicketView, clock: Clock) -> None:
    agree_balance(shift, owed.id, "the rest on Friday")
    hand_over(shift, owed.id)
    write_off(shift, owed.id, "never came")
    clock.forward(400)
    with refused(shift, "amount", "closed and nothing is still owed"):
        take_payment(shift, owed.id, "34.67", "cash")
    again = kept(shift, take_back_write_off(shift, owed.id, "came to pay"))
    assert (again.balance, again.written_off) == (Decimal("34.67"), ZERO)
    assert [one.amount for one in again.write_offs] == [Decimal("34.67"), Decimal("-34.67")]
    days = [one.written_at.year for one in again.write_offs]
    assert days == [2031, 2032], "each counts on its own day"
    paid = take_payment(shift, owed.id, "34.67", "cash")
    assert (paid.balance, paid.stage) == (ZERO, Stage.CLOSED)


def test_money_for_a_debt_that_was_given_up_waits(shift: Shift, owed: TicketView) -> None:
    write_off(shift, owed.id, "never came")
    with refused(shift, "amount", "$34.67 of this ticket's debt was written off: take that back"):
        take_payment(shift, owed.id, "34.67", "cash")


def test_only_a_debt_is_given_up_and_for_a_reason(shift: Shift, owed: TicketView) -> None:
    with refused(shift, "why", "The reason is empty"):
        write_off(shift, owed.id, " ")
    with refused(shift, "balance", "Nothing was written off"):
        take_back_write_off(shift, owed.id, "by mistake")
    with refused(shift, "why", "The reason is empty"):
        take_back_write_off(shift, owed.id, "")
    take_payment(shift, owed.id, "34.67", "cash")
    with refused(shift, "balance", "The owner owes nothing on this ticket"):
        write_off(shift, owed.id, "never came")


def test_a_deposit_is_no_debt(shift: Shift) -> None:
    ticket = at_stage(shift, Stage.APPROVAL)
    take_payment(shift, ticket.id, "20", "cash")
    with refused(shift, "balance", "The owner owes nothing"):
        write_off(shift, ticket.id, "why not")


def test_a_credit_note_after_a_write_off_leaves_a_balance_that_can_be_put_right(
    shift: Shift, owed: TicketView
) -> None:
    write_off(shift, owed.id, "never came")
    credited = credit_invoice(shift, owed.id, "the wrong machine")
    assert credited.balance == Decimal("-84.67"), "paid 50.00 and written off 34.67, nothing owed"
    again = take_back_write_off(shift, owed.id, "the invoice is gone")
    assert again.balance == Decimal("-50.00")
