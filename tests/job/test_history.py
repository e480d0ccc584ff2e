"""What is remembered: visits, owners and the journal; and the list of open tickets."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

from shopdesk.job.board import open_tickets
from shopdesk.job.causes import say_cause
from shopdesk.job.customers import add_customer
from shopdesk.job.diagnosis import record_finding
from shopdesk.job.history import customer_history, ticket_journal, unit_history, unit_owners
from shopdesk.job.intake import change_intake, take_in
from shopdesk.job.moving import go_on
from shopdesk.job.shift import Shift
from shopdesk.job.stages import Move, Stage
from tests.job.workshop import (
    INTAKE,
    OTHER_OWNER,
    Clock,
    another,
    at_stage,
    declined,
    refused,
    taken_in,
)


def test_a_visit_says_what_failed_what_was_done_and_what_it_cost(
    shift: Shift, clock: Clock
) -> None:
    ticket = at_stage(shift, Stage.REPAIR)
    record_finding(shift, ticket.id, "compression", "80")
    visit = unit_history(shift, ticket.unit.id)[0]
    assert (visit.number, visit.tag, visit.stage) == (1001, "T1001", Stage.REPAIR)
    assert (visit.owner, visit.complaint) == ("Mara Quill", INTAKE.complaint)
    assert (visit.taken_in_on, visit.closed_on) == (date(2031, 4, 7), None)
    assert visit.failed == ("Compression: 80 psi",)
    assert (visit.done, visit.total) == ((), Decimal("84.67"))
    assert visit.cause_title == ""
    say_cause(shift, ticket.id, "something-else", "a wasp nest in the muffler")
    assert unit_history(shift, ticket.unit.id)[0].cause_title == "a wasp nest in the muffler"
    say_cause(shift, ticket.id, "worn-rings")
    assert unit_history(shift, ticket.unit.id)[0].cause_title == "worn or stuck piston rings"


def test_a_closed_visit_lists_the_work_done(shift: Shift) -> None:
    ticket = at_stage(shift, Stage.CLOSED)
    visit = unit_history(shift, ticket.unit.id)[0]
    assert visit.done == (
        "Carburettor kit (failed)",
        "Clean and rebuild the carburettor (failed)",
    )
    assert (visit.outcome, visit.closed_on) == ("mended", date(2031, 4, 7))


def test_visits_are_newest_first_over_all_owners(shift: Shift, clock: Clock) -> None:
    first = at_stage(shift, Stage.CLOSED)
    lukasz = add_customer(shift, OTHER_OWNER)
    clock.forward(days=10)
    second = take_in(shift, lukasz.id, first.unit.id, INTAKE, changed_hands=True)
    visits = unit_history(shift, first.unit.id)
    assert [(visit.number, visit.owner, visit.comeback_of) for visit in visits] == [
        (second.number, "Łukasz Brightwater", first.number),
        (first.number, "Mara Quill", None),
    ]
    assert [visit.number for visit in customer_history(shift, lukasz.id)] == [second.number]
    assert [visit.number for visit in customer_history(shift, first.owner.id)] == [first.number]
    assert customer_history(shift, 77) == unit_history(shift, 77) == ()
    with refused(shift, "unit", "find it again"):
        unit_owners(shift, 77)


def test_the_journal_keeps_who_when_before_and_after(shift: Shift, clock: Clock) -> None:
    ticket = taken_in(shift)
    moment = clock.moment
    change_intake(shift, ticket.id, replace(INTAKE, complaint="No spark"))
    added, changed = ticket_journal(shift, ticket.id)
    assert (added.action, added.table, added.before) == ("added", "ticket", "{}")
    assert (changed.action, changed.who) == ("changed", "Sam")
    assert changed.at > moment
    assert INTAKE.complaint in changed.before
    assert changed.after == '{"complaint":"No spark"}'
    assert ticket_journal(shift, 77) == ()


def test_open_tickets_stand_under_whose_move_it_is(shift: Shift) -> None:
    bench = go_on(shift, another(shift, 1).id, Stage.DIAGNOSIS)
    counter = another(shift, 2)
    closed = at_stage(shift, Stage.CLOSED)
    board = open_tickets(shift)
    assert list(board) == [Move.BENCH, Move.COUNTER, Move.OWNER, Move.SUPPLIER]
    assert [row.number for row in board[Move.BENCH]] == [bench.number]
    assert [row.number for row in board[Move.COUNTER]] == [counter.number]
    assert closed.number not in [row.number for rows in board.values() for row in rows]
    row = board[Move.BENCH][0]
    assert (row.tag, row.owner, row.stage) == ("T1001", "Owner 1", Stage.DIAGNOSIS)
    assert (row.machine, row.complaint) == ("String trimmer, Tarnbeck TB-26", INTAKE.complaint)


def test_late_tickets_come_first(shift: Shift, clock: Clock) -> None:
    for number, promise in ((1, "in 3 days"), (2, "tomorrow"), (3, "in 2 days")):
        another(shift, number, replace(INTAKE, promised_on=promise))
    clock.forward(days=3)
    rows = open_tickets(shift)[Move.COUNTER]
    assert [(row.number, row.days_late) for row in rows] == [(1002, 2), (1003, 1), (1001, 0)]


def test_a_machine_that_is_ready_is_not_late(shift: Shift, clock: Clock) -> None:
    declined(shift)
    clock.forward(days=60)
    assert [row.days_late for row in open_tickets(shift)[Move.COUNTER]] == [0]


def test_a_long_list_is_cut(shift: Shift) -> None:
    for number in range(4):
        another(shift, number)
    assert sum(len(rows) for rows in open_tickets(shift, most=3).values()) == 3
