"""Pickup: telling the owner, invoices and credit notes, payments, and the end of the ticket."""

from collections.abc import Callable
from dataclasses import replace
from decimal import Decimal

import pytest

from shopdesk.job.approval import SayEntry, approve
from shopdesk.job.customers import change_customer
from shopdesk.job.diagnosis import (
    correct_finding,
    drop_finding,
    record_observation,
    say_no_proof,
)
from shopdesk.job.history import ticket_journal
from shopdesk.job.lines import LineEntry, add_line, change_line, drop_line
from shopdesk.job.moving import go_on, send_back
from shopdesk.job.opened import open_ticket
from shopdesk.job.parts.supply import set_supply
from shopdesk.job.payments import METHODS, give_back, take_payment
from shopdesk.job.pickup import (
    agree_balance,
    close_unfetched,
    credit_invoice,
    hand_over,
    invoice_as_issued,
    issue_invoice,
    refuse_unfetched,
    tell_ready,
)
from shopdesk.job.repair import do_line, undo_line
from shopdesk.job.shift import Shift, save_shop
from shopdesk.job.stages import Move, Stage
from shopdesk.job.views import TicketView
from tests.job.workshop import (
    KIT,
    OWNER,
    SHOP,
    another,
    at_stage,
    declined,
    each,
    everything,
    kept,
    refused,
    taken_in,
)


@pytest.fixture
def ticket(shift: Shift) -> TicketView:
    """A mended machine in Pickup: 84.67 with tax."""
    return at_stage(shift, Stage.PICKUP)


def test_the_owner_is_told(shift: Shift, ticket: TicketView) -> None:
    told = kept(shift, tell_ready(shift, ticket.id, "left a message"))
    assert told.move is Move.OWNER
    assert told.told_ready_at is not None
    assert ticket_journal(shift, ticket.id)[-1].why == "told ready: left a message"
    with refused(shift, "how", "How they were told is empty"):
        tell_ready(shift, ticket.id, "")


def test_an_invoice_is_what_was_approved_done_and_taxed(shift: Shift, ticket: TicketView) -> None:
    bill = kept(shift, issue_invoice(shift, ticket.id)).invoices[-1]
    assert (bill.number, bill.total, bill.credits) == ("5001", Decimal("84.67"), "")
    content = invoice_as_issued(shift, bill.id)
    assert content.complaint == ticket.complaint
    assert (content.totals.parts, content.totals.labour) == (Decimal("18.40"), Decimal("60.00"))
    assert (content.totals.tax, content.approved) == (Decimal("6.27"), Decimal("84.67"))
    assert [row.condition for row in content.rows] == ["new", ""]
    assert content.approvals[0].who == "Mara Quill"
    assert content.warranty_days == 90
    assert not content.returned_as_is


def test_an_issued_invoice_never_changes(shift: Shift, ticket: TicketView) -> None:
    bill = issue_invoice(shift, ticket.id).invoices[-1]
    before = invoice_as_issued(shift, bill.id)
    change_customer(shift, ticket.owner.id, replace(OWNER, name="Someone Else"))
    save_shop(shift, replace(SHOP, name="Other Name", tax_rates=()))
    take_payment(shift, ticket.id, "10", "cash")
    credit_invoice(shift, ticket.id, "wrong price")
    assert invoice_as_issued(shift, bill.id) == before


def test_a_second_invoice_waits_for_the_credit_note(shift: Shift, ticket: TicketView) -> None:
    first = issue_invoice(shift, ticket.id).invoices[0]
    with refused(shift, "invoice", "Invoice 5001 stands already: print it again, or credit it"):
        issue_invoice(shift, ticket.id)
    credited = kept(shift, credit_invoice(shift, ticket.id, "kit was free"))
    note = credited.invoices[-1]
    assert (note.number, note.credits, note.total) == ("C1", "5001", Decimal("-84.67"))
    assert (credited.standing_invoice, credited.balance) == (None, Decimal("0.00"))
    assert credited.invoices[0].credited
    content = invoice_as_issued(shift, note.id)
    assert (content.reason, content.credits) == ("kit was free", "5001")
    assert content.totals.total == -invoice_as_issued(shift, first.id).totals.total
    assert sum(row.net for row in content.rows) == Decimal("-78.40")
    change_line(shift, ticket.lines[0].id, replace(KIT, unit_price="0"))
    again = kept(shift, issue_invoice(shift, ticket.id))
    assert (again.invoices[-1].number, again.balance) == ("5002", Decimal("64.80"))


def test_a_credit_note_needs_an_invoice_and_a_reason(shift: Shift, ticket: TicketView) -> None:
    with refused(shift, "invoice", "No invoice stands", "there is nothing to credit"):
        credit_invoice(shift, ticket.id, "to see")
    issue_invoice(shift, ticket.id)
    with refused(shift, "why", "The reason is empty"):
        credit_invoice(shift, ticket.id, "")
    credit_invoice(shift, ticket.id, "once")
    with refused(shift, "invoice", "nothing to credit"):
        credit_invoice(shift, ticket.id, "twice")


@pytest.mark.parametrize("stage", [stage for stage in Stage if stage is not Stage.PICKUP])
def test_what_is_done_in_pickup_is_refused_elsewhere(shift: Shift, stage: Stage) -> None:
    ticket = at_stage(shift, stage)
    for action in each(
        lambda: tell_ready(shift, ticket.id, "by phone"),
        lambda: issue_invoice(shift, ticket.id),
        lambda: agree_balance(shift, ticket.id, "later"),
        lambda: close_unfetched(shift, ticket.id, "sold", "no address"),
    ):
        with refused(shift, "stage", f"in {stage}: that is done in Pickup"):
            action()
    with refused(shift, "stage", f"A ticket in {stage} can't go on to Closed"):
        hand_over(shift, ticket.id)


def test_no_more_than_was_agreed_is_invoiced(shift: Shift, ticket: TicketView) -> None:
    added = add_line(shift, ticket.id, replace(KIT, description="Filter", unit_price="20"))
    for action in each(
        lambda: issue_invoice(shift, ticket.id),
        lambda: do_line(shift, added.lines[-1].id),
    ):
        with refused(shift, "approval", "to $106.27 but only $93.13 was agreed: record a new yes"):
            action()
    approve(shift, ticket.id, SayEntry("Mara Quill", "in person"))
    do_line(shift, added.lines[-1].id)
    assert issue_invoice(shift, ticket.id).invoices[-1].total == Decimal("106.27")


def test_a_little_more_within_the_shops_rule_needs_no_new_yes(
    shift: Shift, ticket: TicketView
) -> None:
    added = add_line(shift, ticket.id, replace(KIT, description="Clip", unit_price="7.83"))
    do_line(shift, added.lines[-1].id)
    assert issue_invoice(shift, ticket.id).invoices[-1].total == Decimal("93.13")


def test_discounts_over_the_rest_make_no_invoice(shift: Shift, ticket: TicketView) -> None:
    add_line(shift, ticket.id, LineEntry("discount", "Slip", unit_price="500"))
    with refused(shift, "lines", "make them smaller"):
        issue_invoice(shift, ticket.id)


def test_with_nothing_to_charge_there_is_no_invoice(shift: Shift) -> None:
    save_shop(shift, replace(SHOP, diagnosis_fee=Decimal("0.00")))
    ticket = declined(shift)
    with refused(shift, "lines", "nothing to charge", "hand the machine over without an invoice"):
        issue_invoice(shift, ticket.id)
    assert hand_over(shift, ticket.id).outcome == "returned as is"


def test_a_comeback_is_invoiced_at_nothing(shift: Shift) -> None:
    ticket = taken_in(shift)
    go_on(shift, ticket.id, Stage.DIAGNOSIS)
    record_observation(shift, ticket.id, "Kit", "Needle sticks", "fail")
    line = add_line(shift, ticket.id, replace(KIT, reason="comeback")).lines[0]
    go_on(shift, ticket.id, Stage.REPAIR)
    do_line(shift, line.id)
    record_observation(shift, ticket.id, "Run", "Runs", "pass", phase="proof")
    go_on(shift, ticket.id, Stage.PICKUP)
    assert issue_invoice(shift, ticket.id).invoices[-1].total == 0
    assert hand_over(shift, ticket.id).outcome == "mended"


@pytest.mark.parametrize("method", METHODS)
def test_a_payment_is_kept(shift: Shift, ticket: TicketView, method: str) -> None:
    issue_invoice(shift, ticket.id)
    paid = kept(shift, take_payment(shift, ticket.id, "$84.67", method.upper(), "till 2"))
    payment = paid.payments[-1]
    assert (payment.amount, payment.method, payment.note) == (Decimal("84.67"), method, "till 2")
    assert paid.paid == Decimal("84.67")
    assert paid.balance == paid.totals.due == 0


@pytest.mark.parametrize(
    ("field", "amount", "method", "words"),
    [
        ("amount", "", "cash", "Nothing is typed"),
        ("amount", "0", "cash", "type how much it was"),
        ("amount", "-5", "cash", "below zero"),
        ("amount", "lots", "cash", "is not an amount"),
        ("amount", "99999999", "cash", "is over 9,999,999.99"),
        ("method", "5", "", "How it was paid is empty"),
        ("method", "5", "shells", "choose one of cash, card"),
    ],
)
def test_what_is_wrong_with_money_is_said_at_its_field(
    shift: Shift, ticket: TicketView, field: str, amount: str, method: str, words: str
) -> None:
    with refused(shift, field, words):
        take_payment(shift, ticket.id, amount, method)
    take_payment(shift, ticket.id, "50", "cash")
    with refused(shift, field, words):
        give_back(shift, ticket.id, amount, method)
    with refused(shift, "ticket", "find it again"):
        take_payment(shift, 77, "5", "cash")


def test_a_payment_over_what_is_owed_is_change(shift: Shift, ticket: TicketView) -> None:
    issue_invoice(shift, ticket.id)
    with refused(shift, "amount", "owes $84.67: take that and hand $15.33 back as change"):
        take_payment(shift, ticket.id, "100", "cash")
    take_payment(shift, ticket.id, "84.67", "cash")
    with refused(shift, "amount", "The owner owes nothing on this ticket: take no more"):
        take_payment(shift, ticket.id, "1", "cash")


def test_the_machine_goes_when_all_is_settled(shift: Shift, ticket: TicketView) -> None:
    with refused(shift, "stage", "no invoice issued: issue it first"):
        hand_over(shift, ticket.id)
    issue_invoice(shift, ticket.id)
    with refused(shift, "stage", "84.67 is still owed: take the payment, or note what was agreed"):
        hand_over(shift, ticket.id)
    take_payment(shift, ticket.id, "80", "cash")
    agreed = kept(shift, agree_balance(shift, ticket.id, "the rest on Friday"))
    assert agreed.balance_reason == "the rest on Friday"
    closed = kept(shift, hand_over(shift, ticket.id))
    assert (closed.stage, closed.outcome) == (Stage.CLOSED, "mended")
    assert (closed.move, closed.balance) == (Move.NOBODY, Decimal("4.67"))


def test_what_was_agreed_can_be_taken_back(shift: Shift, ticket: TicketView) -> None:
    agree_balance(shift, ticket.id, "later")
    assert agree_balance(shift, ticket.id, " ").balance_reason == ""


def test_money_that_the_shop_owes_is_given_back_first(shift: Shift, ticket: TicketView) -> None:
    take_payment(shift, ticket.id, "84.67", "card")
    change_line(shift, ticket.lines[0].id, replace(KIT, unit_price="0"))
    issue_invoice(shift, ticket.id)
    with refused(shift, "stage", "19.87 is owed to the owner: give it back"):
        hand_over(shift, ticket.id)
    give_back(shift, ticket.id, "19.87", "card")
    assert hand_over(shift, ticket.id).stage is Stage.CLOSED


def test_declined_it_goes_home_as_it_came_for_the_fee(shift: Shift) -> None:
    ticket = declined(shift)
    billed = issue_invoice(shift, ticket.id)
    content = invoice_as_issued(shift, billed.invoices[-1].id)
    assert content.returned_as_is
    assert (content.totals.total, content.warranty_days) == (Decimal("37.80"), 0)
    assert content.approved == 0
    take_payment(shift, ticket.id, "37.80", "cash")
    assert kept(shift, hand_over(shift, ticket.id)).outcome == "returned as is"


def test_never_fetched_it_is_closed_after_the_owner_was_told(
    shift: Shift, ticket: TicketView
) -> None:
    issue_invoice(shift, ticket.id)
    with refused(shift, "stage", "the owner was never told that it is ready: tell them"):
        close_unfetched(shift, ticket.id, "sold for parts", "they live abroad")
    with refused(shift, "stage", "never told that it is ready"):
        refuse_unfetched(shift, ticket.id)
    tell_ready(shift, ticket.id, "by post")
    with refused(shift, "became", "What became of the machine is empty"):
        close_unfetched(shift, ticket.id, "", "they live abroad")
    refuse_unfetched(shift, ticket.id)
    with refused(shift, "without_letters", "the first letter was not sent", "your local law"):
        close_unfetched(shift, ticket.id, "sold for parts")
    closed = kept(shift, close_unfetched(shift, ticket.id, "sold for parts", "they live abroad"))
    with refused(shift, "stage", "This ticket is in Closed"):
        refuse_unfetched(shift, ticket.id)
    assert (closed.stage, closed.outcome) == (Stage.CLOSED, "not fetched")
    assert closed.balance_reason == "never fetched: sold for parts"
    assert ticket_journal(shift, ticket.id)[-1].why == (
        "sold for parts; no letters: they live abroad"
    )


def test_a_closed_ticket_with_a_wrong_invoice_is_put_right(shift: Shift) -> None:
    ticket = at_stage(shift, Stage.CLOSED)
    send_back(shift, ticket.id, Stage.PICKUP, "wrong invoice")
    credited = kept(shift, credit_invoice(shift, ticket.id, "kit was free"))
    assert (credited.balance, credited.move) == (Decimal("-84.67"), Move.COUNTER)
    change_line(shift, ticket.lines[0].id, replace(KIT, unit_price="0"))
    issue_invoice(shift, ticket.id)
    give_back(shift, ticket.id, "19.87", "card")
    assert hand_over(shift, ticket.id).balance == 0


def test_a_credit_note_takes_what_was_agreed_about_the_balance_with_it(
    shift: Shift, ticket: TicketView
) -> None:
    issue_invoice(shift, ticket.id)
    take_payment(shift, ticket.id, "80", "cash")
    agree_balance(shift, ticket.id, "the rest on Friday")
    assert credit_invoice(shift, ticket.id, "all wrong").balance_reason == ""
    with refused(shift, "stage", "80.00 is owed to the owner: give it back"):
        hand_over(shift, ticket.id)


def undo_all(shift: Shift, ticket: TicketView) -> None:
    for line in ticket.lines:
        undo_line(shift, line.id)


def fail_the_proof(shift: Shift, ticket: TicketView) -> None:
    correct_finding(shift, ticket.findings[-1].id, "Died at full throttle", verdict="fail")


def drop_the_proof(shift: Shift, ticket: TicketView) -> None:
    drop_finding(shift, ticket.findings[-1].id, "wrong machine")


def part_on_order(shift: Shift, ticket: TicketView) -> None:
    set_supply(shift, ticket.lines[0].id, "on order")


@pytest.mark.parametrize(
    ("spoil", "words"),
    [
        (undo_all, "2 lines are not ticked as done"),
        (fail_the_proof, "the proof run failed (Run): mend it, or say why it may go"),
        (drop_the_proof, "no proof run recorded"),
        (part_on_order, "1 part is not here yet: receive or drop what is missing"),
    ],
)
def test_what_came_undone_in_pickup_is_neither_invoiced_nor_handed_over(
    shift: Shift, ticket: TicketView, spoil: Callable[[Shift, TicketView], None], words: str
) -> None:
    spoil(shift, ticket)
    with refused(shift, "stage", f"Not yet invoiced: {words}"):
        issue_invoice(shift, ticket.id)
    assert words in " ".join(open_ticket(shift, ticket.id).missing_before(Stage.CLOSED))


@pytest.mark.parametrize("spoil", [fail_the_proof, drop_the_proof])
def test_a_proof_that_came_undone_after_the_invoice_stops_the_hand_over(
    shift: Shift, ticket: TicketView, spoil: Callable[[Shift, TicketView], None]
) -> None:
    issue_invoice(shift, ticket.id)
    take_payment(shift, ticket.id, "84.67", "card")
    spoil(shift, ticket)
    with refused(shift, "stage", "Not yet Closed: ", "proof run"):
        hand_over(shift, ticket.id)
    say_no_proof(shift, ticket.id, "the owner takes it untried")
    assert hand_over(shift, ticket.id).outcome == "mended"


def test_work_added_after_a_no_is_never_charged(shift: Shift) -> None:
    ticket = declined(shift)
    fee = next(line for line in ticket.lines if not line.declined)
    drop_line(shift, fee.id)
    added = add_line(shift, ticket.id, replace(KIT, unit_price="5"))
    with refused(shift, "approval", "The owner said no: ask again, and record a yes first"):
        do_line(shift, added.lines[-1].id)
    with refused(shift, "stage", "Not yet invoiced: 1 line is not ticked as done"):
        issue_invoice(shift, ticket.id)


def test_an_invoice_that_is_gone_is_said(shift: Shift) -> None:
    before = everything(shift)
    with refused(shift, "invoice", "open the ticket again"):
        invoice_as_issued(shift, 77)
    assert everything(shift) == before


def test_invoice_numbers_run_over_all_tickets_without_gap(shift: Shift) -> None:
    first = at_stage(shift, Stage.PICKUP)
    second = another(shift, 2)
    with refused(shift, "stage", "done in Pickup"):
        issue_invoice(shift, second.id)
    numbers = [issue_invoice(shift, first.id).invoices[-1].number]
    credit_invoice(shift, first.id, "again")
    numbers += [issue_invoice(shift, first.id).invoices[-1].number]
    assert numbers == ["5001", "5002"]
    assert open_ticket(shift, second.id).invoices == ()
