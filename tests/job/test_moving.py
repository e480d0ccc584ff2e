"""Tickets moved on, sent back and reopened on real records."""

import pytest

from shopdesk.job.approval import SayEntry, approve, decline
from shopdesk.job.diagnosis import say_no_proof
from shopdesk.job.history import ticket_journal
from shopdesk.job.moving import go_on, send_back
from shopdesk.job.opened import open_ticket
from shopdesk.job.payments import take_payment
from shopdesk.job.pickup import close_unfetched, credit_invoice, issue_invoice, tell_ready
from shopdesk.job.repair import do_line
from shopdesk.job.shift import Shift
from shopdesk.job.stages import Move, Stage
from tests.job.test_stages import AFTER, BEFORE
from tests.job.workshop import SAYS, at_stage, declined, kept, refused


@pytest.mark.parametrize("to", Stage)
@pytest.mark.parametrize("start", Stage)
def test_a_ticket_goes_only_where_the_rule_says(shift: Shift, start: Stage, to: Stage) -> None:
    ticket = at_stage(shift, start)
    if (start, to) not in BEFORE:
        with refused(shift, "stage", f"A ticket in {start} can't go on to {to}: it goes"):
            go_on(shift, ticket.id, to)
    if (start, to) not in AFTER:
        with refused(shift, "stage", f"A ticket in {start} can't go back to {to}: it goes"):
            send_back(shift, ticket.id, to, "to see")


@pytest.mark.parametrize("stage", Stage)
def test_the_usual_way_reaches_every_stage(shift: Shift, stage: Stage) -> None:
    assert kept(shift, at_stage(shift, stage)).stage is stage


@pytest.mark.parametrize(("start", "to"), sorted(AFTER - {(Stage.CLOSED, Stage.PICKUP)}))
def test_a_ticket_is_sent_back_with_its_reason(shift: Shift, start: Stage, to: Stage) -> None:
    ticket = at_stage(shift, start)
    assert kept(shift, send_back(shift, ticket.id, to, "idle surges")).stage is to
    assert ticket_journal(shift, ticket.id)[-1].why == "idle surges"


def test_sending_back_takes_a_reason(shift: Shift) -> None:
    ticket = at_stage(shift, Stage.REPAIR)
    with refused(shift, "why", "The reason is empty: type it"):
        send_back(shift, ticket.id, Stage.DIAGNOSIS, "  ")


def test_what_is_missing_is_said_and_nothing_moves(shift: Shift) -> None:
    ticket = at_stage(shift, Stage.DIAGNOSIS)
    with refused(shift, "stage", "Not yet Approval: nothing found yet", "; no part, labour or fee"):
        go_on(shift, ticket.id, Stage.APPROVAL)


def test_the_missing_yes_names_the_amount(shift: Shift) -> None:
    ticket = at_stage(shift, Stage.APPROVAL)
    with refused(shift, "stage", "no approval recorded for $84.67: record who said yes and how"):
        go_on(shift, ticket.id, Stage.PARTS)


def test_a_ticket_that_is_gone_is_said(shift: Shift) -> None:
    with refused(shift, "ticket", "find it again"):
        go_on(shift, 77, Stage.DIAGNOSIS)


def test_back_at_the_bench_the_proof_run_is_due_anew(shift: Shift) -> None:
    ticket = at_stage(shift, Stage.REPAIR)
    for line in ticket.lines:
        do_line(shift, line.id)
    say_no_proof(shift, ticket.id, "no fuel in the house")
    go_on(shift, ticket.id, Stage.PICKUP)
    back = kept(shift, send_back(shift, ticket.id, Stage.REPAIR, "it leaks"))
    assert back.proof_reason == ""
    with refused(shift, "stage", "no proof run recorded"):
        go_on(shift, ticket.id, Stage.PICKUP)


def test_reopened_for_its_papers_a_ticket_keeps_why_it_was_not_proved(shift: Shift) -> None:
    ticket = at_stage(shift, Stage.PICKUP)
    say_no_proof(shift, ticket.id, "no fuel in the house")
    issue_invoice(shift, ticket.id)
    take_payment(shift, ticket.id, "84.67", "cash")
    go_on(shift, ticket.id, Stage.CLOSED)
    back = send_back(shift, ticket.id, Stage.PICKUP, "wrong name")
    assert back.proof_reason == "no fuel in the house"


def test_back_at_the_bench_the_owner_the_owner_has_to_be_told_anew(shift: Shift) -> None:
    ticket = at_stage(shift, Stage.PICKUP)
    tell_ready(shift, ticket.id, "by phone")
    back = send_back(shift, ticket.id, Stage.REPAIR, "it leaks")
    assert back.told_ready_at is None
    assert go_on(shift, ticket.id, Stage.PICKUP).move is Move.COUNTER


def test_an_invoice_keeps_a_ticket_in_pickup_until_it_is_credited(shift: Shift) -> None:
    ticket = issue_invoice(shift, at_stage(shift, Stage.PICKUP).id)
    with refused(shift, "stage", "an invoice stands: write a credit note for it first"):
        send_back(shift, ticket.id, Stage.REPAIR, "forgot the filter")
    credit_invoice(shift, ticket.id, "forgot the filter")
    assert send_back(shift, ticket.id, Stage.REPAIR, "forgot the filter").stage is Stage.REPAIR


def test_closing_is_the_same_by_either_way(shift: Shift) -> None:
    ticket = at_stage(shift, Stage.CLOSED)
    assert ticket.outcome == "mended"
    assert ticket.closed_at is not None
    send_back(shift, ticket.id, Stage.PICKUP, "wrong key")
    again = kept(shift, go_on(shift, ticket.id, Stage.CLOSED))
    assert again.outcome == "mended"
    assert again.closed_at is not None


def test_a_reopened_ticket_is_open_in_every_respect(shift: Shift) -> None:
    ticket = at_stage(shift, Stage.CLOSED)
    back = kept(shift, send_back(shift, ticket.id, Stage.PICKUP, "owner came back at once"))
    assert (back.stage, back.outcome, back.closed_at) == (Stage.PICKUP, "", None)
    assert back.standing_invoice is not None


def test_fetched_after_all_it_is_to_be_paid(shift: Shift) -> None:
    ticket = at_stage(shift, Stage.PICKUP)
    tell_ready(shift, ticket.id, "by post")
    issue_invoice(shift, ticket.id)
    close_unfetched(shift, ticket.id, "scrapped", "no address")
    back = send_back(shift, ticket.id, Stage.PICKUP, "the owner came after all")
    assert back.balance_reason == ""
    with refused(shift, "stage", "84.67 is still owed"):
        go_on(shift, ticket.id, Stage.CLOSED)


def test_extra_work_found_in_repair_is_asked_about(shift: Shift) -> None:
    ticket = at_stage(shift, Stage.REPAIR)
    back = send_back(shift, ticket.id, Stage.APPROVAL, "the clutch is worn too")
    assert back.move is Move.COUNTER


def test_a_ticket_of_a_no_skips_the_repair(shift: Shift) -> None:
    ticket = declined(shift)
    assert (ticket.stage, ticket.declined) == (Stage.PICKUP, True)


def test_a_no_after_the_work_began_bars_pickup_as_mended(shift: Shift) -> None:
    ticket = at_stage(shift, Stage.REPAIR)
    decline(shift, ticket.id, SAYS)
    with refused(shift, "stage", "or return the machine as it is"):
        go_on(shift, ticket.id, Stage.PICKUP)
    send_back(shift, ticket.id, Stage.APPROVAL, "the owner changed their mind")
    assert go_on(shift, ticket.id, Stage.PICKUP).declined


def test_a_small_yes_does_not_carry_a_large_bill(shift: Shift) -> None:
    ticket = at_stage(shift, Stage.APPROVAL)
    approve(shift, ticket.id, SayEntry("Mara Quill", "in person", "70"))
    with refused(shift, "stage", "no approval recorded for $84.67"):
        go_on(shift, ticket.id, Stage.PARTS)
    assert open_ticket(shift, ticket.id).may_charge == 77
