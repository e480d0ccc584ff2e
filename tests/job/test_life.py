"""A ticket's life in any order: whatever is tried, the books balance and the journal is whole."""

import shutil
import tempfile
from collections.abc import Callable
from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import (
    RuleBasedStateMachine,
    initialize,
    invariant,
    rule,
    run_state_machine_as_test,
)

from shopdesk.errors import JobError
from shopdesk.job.approval import SayEntry, approve, decline, drop_approval, quote
from shopdesk.job.diagnosis import drop_finding, record_finding, record_observation, say_no_proof
from shopdesk.job.lines import LineEntry, add_line, drop_line, offer_again, turn_down
from shopdesk.job.moving import go_on, send_back
from shopdesk.job.opened import open_ticket
from shopdesk.job.parts.supply import set_supply
from shopdesk.job.payments import drop_payment, give_back, take_payment
from shopdesk.job.pickup import (
    agree_balance,
    close_unfetched,
    credit_invoice,
    hand_over,
    issue_invoice,
    tell_ready,
)
from shopdesk.job.repair import do_line, undo_line
from shopdesk.job.stages import Stage
from shopdesk.job.standing import SUPPLIES
from shopdesk.job.views import TicketView
from shopdesk.records.tables import Ticket
from tests.job.test_stages import AFTER, BEFORE
from tests.job.workshop import HOUR, INTAKE, KIT, SAYS, Clock, at_stage, open_shop
from tests.records.replay import Rows, kept_rows, replayed_rows

STAGES = st.sampled_from(Stage)
AMOUNTS = st.decimals(0, 200, places=2).map(str)
PLACES = st.integers(0, 3)


class TicketLife(RuleBasedStateMachine):
    """Tries anything a person may try on one ticket; refusals must change nothing."""

    def __init__(self) -> None:
        super().__init__()
        self.folder = Path(tempfile.mkdtemp(prefix="shopdesk-life-"))
        self.shift = open_shop(self.folder, Clock())

    @initialize(stage=STAGES, limit=st.sampled_from(["", "50", "300"]))
    def take_in(self, stage: Stage, limit: str) -> None:
        self.ticket = at_stage(self.shift, stage, replace(INTAKE, limit=limit))

    def tried(self, action: Callable[..., TicketView], *arguments: object) -> bool:
        """Do it, or see that a refusal changed nothing; returns whether it was done."""
        before = open_ticket(self.shift, self.ticket.id)
        try:
            after = action(self.shift, *arguments)
        except JobError:
            after = None
        self.ticket = open_ticket(self.shift, self.ticket.id)
        assert self.ticket == (after or before)
        return after is not None

    def line(self, place: int) -> int:
        lines = self.ticket.lines
        return lines[place % len(lines)].id if lines else 0

    @rule(to=STAGES)
    def go_on(self, to: Stage) -> None:
        start = self.ticket.stage
        if self.tried(go_on, self.ticket.id, to):
            assert (start, to) in BEFORE

    @rule()
    def go_the_next_way(self) -> None:
        way = self.ticket.next_way
        if way is not None:
            done = self.tried(go_on, self.ticket.id, way.to)
            assert done == (not way.missing)

    @rule(to=STAGES)
    def send_back(self, to: Stage) -> None:
        start = self.ticket.stage
        if self.tried(send_back, self.ticket.id, to, "again"):
            assert (start, to) in AFTER

    @rule(price=AMOUNTS, supply=st.sampled_from(SUPPLIES))
    def add_part(self, price: str, supply: str) -> None:
        self.tried(add_line, self.ticket.id, replace(KIT, unit_price=price, supply=supply))

    @rule(hours=st.sampled_from(["0.1", "1", "27 min"]))
    def add_labour(self, hours: str) -> None:
        self.tried(add_line, self.ticket.id, replace(HOUR, quantity=hours))

    @rule(amount=AMOUNTS)
    def add_discount(self, amount: str) -> None:
        entry = LineEntry("discount", "Neighbour", unit_price=amount)
        self.tried(add_line, self.ticket.id, entry)

    @rule(
        place=PLACES, what=st.sampled_from([drop_line, turn_down, offer_again, do_line, undo_line])
    )
    def change_line(self, place: int, what: Callable[..., TicketView]) -> None:
        self.tried(what, self.line(place))

    @rule(place=PLACES, supply=st.sampled_from(SUPPLIES))
    def order_or_receive(self, place: int, supply: str) -> None:
        self.tried(set_supply, self.line(place), supply)

    @rule()
    def do_all_work(self) -> None:
        for line in self.ticket.lines:
            self.tried(do_line, line.id)

    @rule(reading=st.sampled_from(["142", "80", "none"]))
    def record_finding(self, reading: str) -> None:
        self.tried(record_finding, self.ticket.id, "compression", reading)

    @rule(verdict=st.sampled_from(["pass", "fail"]))
    def run_the_proof(self, verdict: str) -> None:
        record = lambda *given: record_observation(*given, phase="proof")  # noqa: E731
        self.tried(record, self.ticket.id, "Run", "Ran", verdict)

    @rule(place=PLACES)
    def do_one(self, place: int) -> None:
        due = self.ticket.totals.total
        if self.tried(do_line, self.line(place)):
            assert due <= self.ticket.may_charge
            assert not self.ticket.declined

    @rule(place=PLACES)
    def drop_finding(self, place: int) -> None:
        findings = self.ticket.findings
        self.tried(drop_finding, findings[place % len(findings)].id if findings else 0)

    @rule(why=st.sampled_from(["", "no fuel"]))
    def say_no_proof(self, why: str) -> None:
        self.tried(say_no_proof, self.ticket.id, why)

    @rule()
    def quote(self) -> None:
        self.tried(quote, self.ticket.id)

    @rule(amount=st.just("") | AMOUNTS, place=st.none() | PLACES)
    def approve(self, amount: str, place: int | None) -> None:
        unwanted = () if place is None else (self.line(place),)
        say = SayEntry("Mara Quill", "in person", amount, declined_line_ids=unwanted)
        self.tried(approve, self.ticket.id, say)

    @rule()
    def decline(self) -> None:
        if self.tried(decline, self.ticket.id, SAYS):
            assert self.ticket.totals.total <= self.ticket.may_charge

    @rule()
    def drop_answer(self) -> None:
        answers = self.ticket.approvals
        self.tried(drop_approval, answers[-1].id if answers else 0, "misheard")

    @rule()
    def tell_ready(self) -> None:
        self.tried(tell_ready, self.ticket.id, "by phone")

    @rule()
    def issue_invoice(self) -> None:
        allowed = self.ticket.may_charge
        if self.tried(issue_invoice, self.ticket.id):
            assert 0 <= self.ticket.invoices[-1].total <= allowed

    @rule()
    def credit_invoice(self) -> None:
        if self.tried(credit_invoice, self.ticket.id, "wrong"):
            assert self.ticket.standing_invoice is None

    @rule(amount=AMOUNTS, what=st.sampled_from([take_payment, give_back]))
    def move_money(self, amount: str, what: Callable[..., TicketView]) -> None:
        self.tried(what, self.ticket.id, amount, "cash")

    @rule()
    def settle(self) -> None:
        owed = self.ticket.balance
        if self.ticket.stage is Stage.CLOSED:
            assert not self.tried(take_payment, self.ticket.id, "1", "cash")
        elif owed > 0 and self.ticket.standing_invoice:
            assert self.tried(take_payment, self.ticket.id, str(owed), "cash")
        elif owed < 0:
            assert self.tried(give_back, self.ticket.id, str(-owed), "cash")

    @rule(place=PLACES)
    def drop_payment(self, place: int) -> None:
        payments = self.ticket.payments
        payment_id = payments[place % len(payments)].id if payments else 0
        self.tried(drop_payment, payment_id, "slip of the pen")

    @rule(why=st.sampled_from(["", "on Friday"]))
    def agree_balance(self, why: str) -> None:
        self.tried(agree_balance, self.ticket.id, why)

    @rule()
    def hand_over(self) -> None:
        if self.tried(hand_over, self.ticket.id):
            assert self.ticket.outcome in ("mended", "returned as is")
            work = [line for line in self.ticket.lines if line.is_work and not line.declined]
            assert all(line.done and line.supply in ("", "on hand") for line in work)

    @rule()
    def close_unfetched(self) -> None:
        self.tried(close_unfetched, self.ticket.id, "sold", "no address")

    @invariant()
    def the_books_hold(self) -> None:
        rows = kept_rows(self.shift.records)
        self.balance_holds(rows)
        self.at_most_one_invoice_stands(rows)
        for row in rows["ticket"].values():
            closed = row["stage"] == Stage.CLOSED
            assert closed == (row["closed_at"] is not None) == bool(row["outcome"])

    def balance_holds(self, rows: Rows) -> None:
        invoiced = sum(row["total"] for row in rows["invoice"].values())
        paid = sum(row["amount"] for row in rows["payment"].values())
        shown = open_ticket(self.shift, 1).balance if rows["ticket"] else Decimal(0)
        assert shown * 100 == invoiced - paid
        assert paid >= 0

    def at_most_one_invoice_stands(self, rows: Rows) -> None:
        bills = rows["invoice"]
        credited = [row["credits_id"] for row in bills.values() if row["credits_id"]]
        assert len(credited) == len(set(credited))
        assert len(bills) - 2 * len(credited) in (0, 1)

    def teardown(self) -> None:
        assert replayed_rows(self.shift.records) == kept_rows(self.shift.records)
        self.shift.records.close()
        shutil.rmtree(self.folder)


BUDGET = settings(max_examples=30, stateful_step_count=25, deadline=None, derandomize=True)


def test_whatever_is_tried_the_books_hold() -> None:
    run_state_machine_as_test(TicketLife, settings=BUDGET)


def test_the_replay_tells_a_row_that_bypassed_the_journal(tmp_path: Path) -> None:
    shift = open_shop(tmp_path, Clock())
    at_stage(shift, Stage.DIAGNOSIS)
    with shift.records.writing():
        Ticket.update(notes="by the back door").execute()
    with pytest.raises(AssertionError):
        assert replayed_rows(shift.records) == kept_rows(shift.records)
    shift.records.close()
