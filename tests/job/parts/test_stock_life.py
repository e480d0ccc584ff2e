"""The storeroom in any order: whatever is tried, the bins hold what their moves say.

Nothing is kept for two tickets, no bin falls below zero, and the journal is whole.
"""

import shutil
import tempfile
from collections.abc import Callable
from contextlib import suppress
from decimal import Decimal
from pathlib import Path

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
from shopdesk.job.lines import LineEntry, add_line, change_line, drop_line, offer_again, turn_down
from shopdesk.job.moving import go_on, send_back
from shopdesk.job.opened import open_ticket
from shopdesk.job.parts.catalogue import PartEntry, add_part, open_part
from shopdesk.job.parts.counting import WAYS_OUT, count_part, take_out
from shopdesk.job.parts.kits import KitEntry, open_kit, set_kit
from shopdesk.job.parts.order_changes import back_order, cancel_order, cancel_order_line
from shopdesk.job.parts.order_views import OrderView, list_orders, open_order
from shopdesk.job.parts.ordering import (
    OrderLineEntry,
    add_order_line,
    drop_order_line,
    new_order,
    place_order,
)
from shopdesk.job.parts.orders import OPEN_STATES
from shopdesk.job.parts.receipt import PackedEntry, ReceiptEntry
from shopdesk.job.parts.receiving import receive
from shopdesk.job.parts.supply import set_supply
from shopdesk.job.parts.views import PartView
from shopdesk.job.repair import do_line, undo_line
from shopdesk.job.stages import Stage
from shopdesk.job.standing import ON_ORDER, SUPPLIES, TO_ORDER
from shopdesk.job.views import LineView
from tests.job.parts.storeroom import FILTER, offered, part, sound, waiting
from tests.job.workshop import Clock, at_stage, open_shop
from tests.records.replay import kept_rows, replayed_rows

PARTS, TICKETS = st.integers(0, 2), st.integers(0, 2)
PLACES = st.integers(0, 5)
FEW = st.sampled_from(["1", "2", "3"])


class StockLife(RuleBasedStateMachine):
    """Tries anything a person may try with three parts, one a kit of the others."""

    def __init__(self) -> None:
        super().__init__()
        self.folder = Path(tempfile.mkdtemp(prefix="shopdesk-stock-"))
        self.shift = open_shop(self.folder, Clock())

    @initialize(lying=FEW)
    def open_the_storeroom(self, lying: str) -> None:
        filter_ = part(self.shift, FILTER, lying)
        plug = add_part(self.shift, PartEntry("SP-6", "Spark plug", price="5.00"))
        kit = part(self.shift, PartEntry("TK-26", "Tune-up kit"), "1")
        set_kit(self.shift, kit.id, (KitEntry(filter_.id, "2"), KitEntry(plug.id)))
        self.parts = [filter_.id, plug.id, kit.id]
        self.supplier = offered(self.shift, kit.id, cost="12.00")
        repair = waiting(self.shift, 1, [(filter_.id, "1")], stage=Stage.REPAIR)
        parts = waiting(self.shift, 2, [(plug.id, "1")], promised="20 apr")
        self.tickets = [repair.id, parts.id, at_stage(self.shift, Stage.DIAGNOSIS).id]

    def tried(self, action: Callable[..., object], *arguments: object) -> None:
        """Do it; a refusal changes nothing, which the invariants see to."""
        with suppress(JobError):
            action(self.shift, *arguments)

    def lines(self) -> list[LineView]:
        tickets = (open_ticket(self.shift, ticket_id) for ticket_id in self.tickets)
        return [line for ticket in tickets for line in ticket.lines]

    def line(self, place: int) -> int:
        lines = self.lines()
        return lines[place % len(lines)].id if lines else 0

    def orders(self, *, coming: bool) -> list[OrderView]:
        """Return the orders that are on their way, or those being written."""
        orders = (open_order(self.shift, row.id) for row in list_orders(self.shift))
        return [order for order in orders if order.may_receive == coming]

    def entry(self, which: int, quantity: str) -> LineEntry:
        return LineEntry("part", "", quantity, "5.00", part_id=self.parts[which], reason="failed")

    @rule(ticket=TICKETS, which=PARTS, quantity=FEW)
    def add_part(self, ticket: int, which: int, quantity: str) -> None:
        self.tried(add_line, self.tickets[ticket], self.entry(which, quantity))

    @rule(place=PLACES, which=PARTS, quantity=FEW)
    def change_part(self, place: int, which: int, quantity: str) -> None:
        self.tried(change_line, self.line(place), self.entry(which, quantity))

    @rule(place=PLACES, what=st.sampled_from([turn_down, offer_again, drop_line]))
    def change_line(self, place: int, what: Callable[..., object]) -> None:
        self.tried(what, self.line(place))

    @rule(done=st.booleans())
    def do_what_may_be_done(self, done: bool) -> None:
        for line in self.lines():
            self.tried(undo_line if line.done and not done else do_line, line.id)

    @rule(place=PLACES, supply=st.sampled_from(SUPPLIES))
    def set_supply(self, place: int, supply: str) -> None:
        self.tried(set_supply, self.line(place), supply)

    @rule(ticket=TICKETS)
    def move_ticket(self, ticket: int) -> None:
        self.tried(go_on, self.tickets[ticket], Stage.REPAIR)
        self.tried(send_back, self.tickets[ticket], Stage.PARTS, "again")

    @rule(packs=FEW, placed=st.booleans())
    def order_what_waits(self, packs: str, placed: bool) -> None:
        waits = [line for line in self.lines() if line.supply == TO_ORDER and line.part_id]
        order = new_order(self.shift, self.supplier)
        for line in waits:
            kit = self.parts[2] if packs == "2" else line.part_id or 0
            self.tried(
                add_order_line, order.id, OrderLineEntry(kit, packs, cost="3.00"), (line.id,)
            )
        if placed:
            self.tried(place_order, order.id)

    @rule(which=PARTS, packs=FEW)
    def order_for_the_shelf(self, which: int, packs: str) -> None:
        order = new_order(self.shift, self.supplier)
        self.tried(add_order_line, order.id, OrderLineEntry(self.parts[which], packs, cost="3.00"))
        self.tried(place_order, order.id)

    @rule()
    def place_what_is_written(self) -> None:
        for order in self.orders(coming=False):
            self.tried(place_order, order.id)

    @rule(most=st.sampled_from(["1", "2", "9"]))
    def receive(self, most: str) -> None:
        for order in self.orders(coming=True)[:1]:
            packed = (
                PackedEntry(line.id, str(min(line.to_come, Decimal(most)))) for line in order.lines
            )
            self.tried(receive, order.id, ReceiptEntry(tuple(packed)))

    @rule(coming=st.booleans(), what=st.sampled_from([cancel_order_line, back_order]))
    def change_order_lines(self, coming: bool, what: Callable[..., object]) -> None:
        for order in self.orders(coming=coming)[:1]:
            self.tried(what if coming else drop_order_line, order.lines[0].id if order.lines else 0)

    @rule(coming=st.booleans())
    def cancel(self, coming: bool) -> None:
        for order in self.orders(coming=coming)[:1]:
            self.tried(cancel_order, order.id)

    @rule(which=PARTS, counted=st.sampled_from(["0", "1", "4"]))
    def count(self, which: int, counted: str) -> None:
        self.tried(count_part, self.parts[which], counted)

    @rule(which=PARTS, why=st.sampled_from(WAYS_OUT))
    def take_out(self, which: int, why: str) -> None:
        self.tried(take_out, self.parts[which], "1", why)

    @rule()
    def open_a_kit(self) -> None:
        self.tried(open_kit, self.parts[2])

    @invariant()
    def the_stock_proves(self) -> None:
        if hasattr(self, "parts"):
            assert sound(self.shift)
            for part_id in self.parts:
                self.adds_up(open_part(self.shift, part_id))

    def adds_up(self, view: PartView) -> None:
        assert view.quantity >= view.reserved >= 0
        assert view.free == view.quantity - view.reserved
        assert view.on_order >= 0
        kept = [wait.quantity for wait in view.waits if wait.supply == "on hand"]
        assert view.reserved == sum(kept, Decimal(0))

    @invariant()
    def what_is_on_order_is_on_an_order_that_is_open(self) -> None:
        if not hasattr(self, "parts"):
            return
        live = {line.id: line for line in self.lines() if not line.declined and not line.done}
        for row in list_orders(self.shift, closed=True):
            order = open_order(self.shift, row.id)
            for line in order.lines:
                assert 0 <= line.received + line.cancelled <= line.packs
                if row.state not in OPEN_STATES:
                    waiting = self.waiting_on(line.id)
                    assert not any(live[one].supply == ON_ORDER for one in waiting if one in live)

    def waiting_on(self, order_line_id: int) -> list[int]:
        query = "SELECT id FROM line WHERE order_line_id = ?"
        with self.shift.records.reading():
            found = self.shift.records.engine.execute_sql(query, (order_line_id,))
            return [line_id for (line_id,) in found]

    def teardown(self) -> None:
        assert replayed_rows(self.shift.records) == kept_rows(self.shift.records)
        self.shift.records.close()
        shutil.rmtree(self.folder)


BUDGET = settings(max_examples=20, stateful_step_count=20, deadline=None, derandomize=True)


def test_whatever_is_tried_the_storeroom_proves() -> None:
    run_state_machine_as_test(StockLife, settings=BUDGET)
