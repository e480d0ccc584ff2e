"""What the pages say in words of money, lines and the owner's say."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest

from shopdesk.desk.approval_say import estimate_words
from shopdesk.desk.approval_totals import charge_words, no_words, sums_words
from shopdesk.desk.line_list import where_words, whole_line, why_words
from shopdesk.desk.pickup_money import balance_words
from shopdesk.desk.pickup_page import told_words
from shopdesk.job.approval import SayEntry, approve, quote
from shopdesk.job.lines import LineEntry, add_line
from shopdesk.job.opened import open_ticket
from shopdesk.job.payments import take_payment
from shopdesk.job.pickup import issue_invoice
from shopdesk.job.shift import Shift
from shopdesk.job.views import TicketView
from tests.window.so_far import diagnosed, repaired

TODAY = date(2027, 3, 15)


@pytest.fixture
def priced(shift: Shift, ticket: TicketView) -> TicketView:
    """A ticket in Approval over $47.78, with $60.00 said at intake."""
    return diagnosed(shift, ticket)


def test_sums_leave_out_what_is_nothing(shift: Shift, priced: TicketView) -> None:
    words = sums_words(priced.totals, shift.shop)
    assert words == (
        "Parts $14.50  ·  Labour $30.00  ·  County 0.5% + State 6.875% = 7.375% on $44.50 $3.28"
    )


def test_a_discount_and_work_elsewhere_are_named(shift: Shift, priced: TicketView) -> None:
    add_line(shift, priced.id, LineEntry("sublet", "Chain ground", unit_price="12"))
    with_both = add_line(shift, priced.id, LineEntry("discount", "Neighbour", unit_price="5"))
    words = sums_words(with_both.totals, shift.shop)
    assert "Work done elsewhere $12.00" in words
    assert "Discount -$5.00" in words


def test_how_far_the_owners_word_goes(shift: Shift, priced: TicketView) -> None:
    assert charge_words(priced, shift.shop) == (
        "Up to $60.00 may be charged as things stand (that covers the total); "
        "the owner said at intake: up to $60.00."
    )
    add_line(shift, priced.id, LineEntry("part", "Clutch", unit_price="80", reason="worn"))
    dear = open_ticket(shift, priced.id)
    assert "(that is less than the total: ask)" in charge_words(dear, shift.shop)
    asked = approve(shift, priced.id, SayEntry("Ansel Brightwater", "in person"))
    assert charge_words(asked, shift.shop).endswith(
        f"Last yes: ${asked.totals.total}; our rule for going over it: 10 percent "
        "(check your local law)."
    )
    said = SayEntry("Ansel Brightwater", "in person", option="Only what failed")
    chosen = approve(shift, priced.id, said)
    assert f"Last yes: Only what failed, ${asked.totals.total};" in charge_words(chosen, shift.shop)
    assert "that covers the total" in charge_words(asked, shift.shop)


def test_what_a_no_costs(shift: Shift, priced: TicketView) -> None:
    assert no_words(replace(priced, if_declined=Decimal(0)), shift.shop) == (
        "If the owner says no, nothing is owed."
    )
    assert no_words(priced, shift.shop) == (
        "If the owner says no, $37.58 is owed for the diagnosis, tax included."
    )


def test_the_last_estimate_in_words(shift: Shift, priced: TicketView) -> None:
    assert estimate_words(priced.estimates, shift.shop) == "No estimate was given yet."
    given = quote(shift, priced.id)
    assert estimate_words(given.estimates, shift.shop) == (
        "Estimate 1001-1 over $47.78 was given Mon 15 Mar 2027, 14:30."
    )


def test_a_line_whole(shift: Shift, priced: TicketView) -> None:
    plug = priced.lines[0]
    words = whole_line(plug, shift.shop)
    assert words.startswith("Spark plug (new SP-7): failed.  Rests on Plug gap: 0.040 in")
    assert "Taxed." in words
    assert "Costs us $3.10." in words
    assert "does not want" not in words
    assert whole_line(replace(plug, declined=True), shift.shop).endswith(
        "The owner does not want it."
    )


def test_where_a_part_is(priced: TicketView) -> None:
    plug, oil, labour = priced.lines
    due = replace(oil, supply="on order", expected_on=date(2027, 3, 18))
    assert where_words(plug, TODAY) == "on hand"
    assert where_words(oil, TODAY) == "to order"
    assert where_words(due, TODAY) == "on order, Thu 18 Mar"
    assert where_words(replace(plug, done=True), TODAY) == "done"
    assert where_words(replace(plug, declined=True), TODAY) == "not wanted"
    assert where_words(labour, TODAY) == ""


def test_why_a_line_stands_there(priced: TicketView) -> None:
    plug, oil, _labour = priced.lines
    assert why_words(oil) == "renewed ahead of failure"
    assert why_words(replace(plug, evidence="no finding recorded for this")) == (
        "failed:  no finding recorded for this"
    )


def test_the_balance_in_words(shift: Shift, ticket: TicketView) -> None:
    shop = shift.shop
    ready = repaired(shift, ticket)
    assert balance_words(ready, shop) == "No invoice yet, and nothing paid."
    ahead = take_payment(shift, ticket.id, "20", "cash")
    assert balance_words(ahead, shop) == "No invoice yet. $20.00 was paid ahead."
    billed = issue_invoice(shift, ticket.id)
    assert balance_words(billed, shop) == "The owner owes $27.78. $20.00 was paid."
    paid = take_payment(shift, ticket.id, "27.78", "card")
    assert balance_words(paid, shop) == "Nothing is owed. $47.78 was paid."
    over = replace(paid, balance=Decimal("-3"))
    assert balance_words(over, shop).startswith("We owe the owner $3.00")


def test_how_the_owner_can_be_reached(ticket: TicketView) -> None:
    nobody = replace(ticket, owner=replace(ticket.owner, phones=(), email=""))
    assert told_words(nobody, "UTC").endswith("Ansel Brightwater: no phone, no e-mail.")
    mailed = replace(nobody, owner=replace(nobody.owner, email="ansel@example.com"))
    assert told_words(mailed, "UTC").endswith("Ansel Brightwater: ansel@example.com.")
