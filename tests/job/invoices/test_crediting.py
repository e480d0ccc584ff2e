"""A part of an invoice is credited: lines or an amount; the invoice stands, the balance follows."""

from dataclasses import replace
from decimal import Decimal

import pytest

from shopdesk.job.approval import SayEntry, approve
from shopdesk.job.audit import audit
from shopdesk.job.invoices.crediting import PartCredit, credit_part, may_be_credited
from shopdesk.job.lines import LineEntry, add_line
from shopdesk.job.payments import take_payment
from shopdesk.job.pickup import credit_invoice, hand_over, invoice_as_issued, issue_invoice
from shopdesk.job.repair import do_line
from shopdesk.job.shift import Shift
from shopdesk.job.stages import Stage
from shopdesk.job.views import TicketView
from tests.job.workshop import KIT, at_stage, kept, refused

PLUGS = replace(KIT, description="Plugs", unit_price="6", quantity="3", part_number="")


@pytest.fixture
def ticket(shift: Shift) -> TicketView:
    """Invoice 5001: kit 18.40, labour 60.00, three plugs 18.00; 8 % tax: 104.11."""
    return invoiced(shift)


def invoiced(shift: Shift, *more: LineEntry) -> TicketView:
    ticket = at_stage(shift, Stage.PICKUP)
    for entry in (PLUGS, *more):
        ticket = add_line(shift, ticket.id, entry)
    approve(shift, ticket.id, SayEntry("Mara Quill", "in person"))
    for line in ticket.lines:
        if not line.done and line.is_work:
            do_line(shift, line.id)
    return issue_invoice(shift, ticket.id)


def test_some_of_a_line_are_credited_and_the_invoice_stands(
    shift: Shift, ticket: TicketView
) -> None:
    take_payment(shift, ticket.id, "104.11", "card")
    after = kept(shift, credit_part(shift, ticket.id, PartCredit("one was cracked", ((3, "1"),))))
    note = after.invoices[-1]
    assert (note.number, note.credits, note.total) == ("C1", "5001", Decimal("-6.48"))
    assert after.balance == Decimal("-6.48")
    bill = after.standing_invoice
    assert bill is not None
    assert (bill.number, bill.credited, bill.credited_amount) == ("5001", False, Decimal("6.48"))
    content = invoice_as_issued(shift, note.id)
    assert (content.credits_how, content.reason) == ("part", "one was cracked")
    (row,) = content.rows
    assert (row.description, row.quantity, row.net, row.of_row) == (
        "Plugs",
        Decimal(-1),
        Decimal("-6.00"),
        3,
    )
    assert content.totals.parts == Decimal("-6.00")
    assert content.credits_on == invoice_as_issued(shift, bill.id).on


def test_what_is_left_of_each_line_is_known(shift: Shift, ticket: TicketView) -> None:
    credit_part(shift, ticket.id, PartCredit("two came back", ((3, "2"),)))
    rows = may_be_credited(shift, ticket.id)
    assert [(row.row, row.description, row.quantity, row.net) for row in rows] == [
        (1, "Carburettor kit", Decimal(1), Decimal("18.40")),
        (2, "Clean and rebuild the carburettor", Decimal(1), Decimal("60.00")),
        (3, "Plugs", Decimal(1), Decimal("6.00")),
    ]
    with refused(shift, "quantity_3", "Only 1 of this line can be credited"):
        credit_part(shift, ticket.id, PartCredit("again", ((3, "2"),)))
    credit_part(shift, ticket.id, PartCredit("the last", ((3, "1"),)))
    assert [row.row for row in may_be_credited(shift, ticket.id)] == [1, 2]
    with refused(shift, "quantity_3", "Nothing is left of that line"):
        credit_part(shift, ticket.id, PartCredit("once more", ((3, "1"),)))


def test_an_amount_with_its_tax_is_credited(shift: Shift, ticket: TicketView) -> None:
    after = credit_part(shift, ticket.id, PartCredit("it took too long", amount="10.80"))
    content = invoice_as_issued(shift, after.invoices[-1].id)
    (row,) = content.rows
    assert (row.kind, row.description, row.net) == (
        "discount",
        "Allowed on invoice 5001",
        Decimal("-10.00"),
    )
    assert (content.totals.discount, content.totals.tax) == (Decimal("-10.00"), Decimal("-0.80"))
    assert after.balance == Decimal("93.31")


def test_the_rest_is_credited_whole_and_then_the_lines_open_again(
    shift: Shift, ticket: TicketView
) -> None:
    credit_part(shift, ticket.id, PartCredit("cracked", ((3, "1"),)))
    credit_part(shift, ticket.id, PartCredit("late", amount="10.80"))
    after = kept(shift, credit_invoice(shift, ticket.id, "all wrong"))
    assert (after.standing_invoice, after.balance) == (None, Decimal("0.00"))
    assert [bill.credited for bill in after.invoices] == [True, False, False, False]
    content = invoice_as_issued(shift, after.invoices[-1].id)
    assert [(row.description, row.quantity, row.net) for row in content.rows] == [
        ("Carburettor kit", Decimal(-1), Decimal("-18.40")),
        ("Clean and rebuild the carburettor", Decimal(-1), Decimal("-60.00")),
        ("Plugs", Decimal(-2), Decimal("-12.00")),
        ("Allowed before, credit note C2", Decimal(1), Decimal("10.00")),
    ]
    assert content.totals.net == Decimal("-80.40")
    assert content.credits_how == "rest"
    assert may_be_credited(shift, ticket.id) == ()
    assert issue_invoice(shift, ticket.id).invoices[-1].number == "5002"
    assert audit(shift).faults == ()


def test_a_line_takes_its_share_of_the_discount(shift: Shift) -> None:
    ticket = invoiced(shift, LineEntry("discount", "Ten off", unit_price="9.64"))
    assert ticket.invoices[-1].total == Decimal("93.70")
    after = credit_part(shift, ticket.id, PartCredit("wrong kit", ((1, "1"),)))
    content = invoice_as_issued(shift, after.invoices[-1].id)
    assert [(row.description, row.net) for row in content.rows] == [
        ("Carburettor kit", Decimal("-18.40")),
        ("Their share of the discount", Decimal("1.84")),
    ]
    assert content.totals.net == Decimal("-16.56")
    rest = credit_invoice(shift, ticket.id, "the rest too")
    content = invoice_as_issued(shift, rest.invoices[-1].id)
    assert (content.rows[-1].description, content.rows[-1].net) == ("Ten off", Decimal("7.80"))
    assert rest.balance == 0
    assert audit(shift).faults == ()


@pytest.mark.parametrize(
    ("entry", "field", "words"),
    [
        (PartCredit("", amount="5"), "why", "The reason is empty"),
        (PartCredit("x"), "amount", "Type how many of a line are credited, or an amount"),
        (PartCredit("x", ((1, " "),)), "amount", "Type how many of a line"),
        (PartCredit("x", amount="0"), "amount", "Nothing is credited by 0"),
        (PartCredit("x", amount="lots"), "amount", "is not an amount"),
        (PartCredit("x", amount="-5"), "amount", "below zero"),
        (PartCredit("x", ((1, "1"),), "5"), "amount", "Choose lines or type an amount, not both"),
        (PartCredit("x", ((1, "many"),)), "quantity_1", "is not a quantity"),
        (PartCredit("x", ((3, "3.5"),)), "quantity_3", "Only 3 of this line"),
        (PartCredit("x", ((9, "1"),)), "quantity_9", "Nothing is left of that line"),
        (PartCredit("x", amount="104.12"), "amount", "Only 104.11 is left of this invoice"),
        (PartCredit("x", amount="104.11"), "amount", "credit the whole of it"),
        (PartCredit("x", ((1, "1"), (2, "1"), (3, "3"))), "amount", "credit the whole of it"),
        (PartCredit("x", amount="0.07"), "amount", "can't come to exactly 0.07"),
    ],
)
def test_what_is_wrong_is_said_at_its_field(
    shift: Shift, ticket: TicketView, entry: PartCredit, field: str, words: str
) -> None:
    with refused(shift, field, words):
        credit_part(shift, ticket.id, entry)


def test_without_an_invoice_there_is_nothing_to_credit(shift: Shift) -> None:
    ticket = at_stage(shift, Stage.PICKUP)
    assert may_be_credited(shift, ticket.id) == ()
    with refused(shift, "invoice", "No invoice stands for this ticket"):
        credit_part(shift, ticket.id, PartCredit("x", amount="5"))


def test_a_closed_ticket_stays_closed_with_its_day(shift: Shift, ticket: TicketView) -> None:
    take_payment(shift, ticket.id, "104.11", "card")
    closed = hand_over(shift, ticket.id)
    after = kept(shift, credit_part(shift, ticket.id, PartCredit("it died again", amount="10.80")))
    assert (after.stage, after.closed_at) == (Stage.CLOSED, closed.closed_at)
    assert after.balance == Decimal("-10.80")
