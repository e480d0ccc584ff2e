"""An invented shop for the job's tests: real records, a clock that is set, tickets at a stage."""

import sqlite3
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta
from decimal import Decimal
from pathlib import Path

import pytest

from shopdesk.errors import JobError
from shopdesk.job.approval import SayEntry, approve, decline, quote
from shopdesk.job.customers import CustomerEntry
from shopdesk.job.diagnosis import record_finding, record_observation
from shopdesk.job.intake import TicketEntry, take_in
from shopdesk.job.lines import LineEntry, add_line
from shopdesk.job.moving import go_on
from shopdesk.job.opened import open_ticket
from shopdesk.job.parts.supply import set_supply
from shopdesk.job.payments import take_payment
from shopdesk.job.pickup import hand_over, issue_invoice
from shopdesk.job.repair import do_line
from shopdesk.job.shift import Shift, save_shop
from shopdesk.job.shop import Shop
from shopdesk.job.stages import Stage
from shopdesk.job.units import UnitEntry
from shopdesk.job.views import TicketView
from shopdesk.pricing.totals import TaxRate
from shopdesk.records.store import open_records
from shopdesk.records.tables import TABLES

SHOP = Shop(
    "Fernhollow Small Engines",
    address="14 Millrace Lane\nFernhollow",
    phone="555-0100",
    zone="America/Denver",
    tax_rates=(TaxRate("Sales tax", Decimal(8)),),
)
OWNER = CustomerEntry("Mara Quill", ("home 555-0142",), "mara@example.com", "7 Orchard Row")
OTHER_OWNER = CustomerEntry("Łukasz Brightwater", ("555-0155",))
TRIMMER = UnitEntry("string trimmer", "two-stroke", "Tarnbeck", "TB-26", "TB26-004417")
SAW = UnitEntry("chain saw", "two-stroke", "Osmarrow", "OS 40", "OS/40/77")
INTAKE = TicketEntry("Starts, then dies when I squeeze the trigger.", onset="crept in")
KIT = LineEntry(
    "part", "Carburettor kit", unit_price="18.40", reason="failed", part_number="CK-2201"
)
HOUR = LineEntry("labour", "Clean and rebuild the carburettor", "1", reason="failed")
SAYS = SayEntry("Mara Quill", "by phone", phone="555-0142")


@dataclass
class Clock:
    """Gives the moment it is set to, a second later each time it is asked."""

    moment: datetime = datetime(2031, 4, 7, 15, 0, tzinfo=UTC)

    def __call__(self) -> datetime:
        self.moment += timedelta(seconds=1)
        return self.moment

    def forward(self, days: float) -> None:
        """Let ``days`` go by."""
        self.moment += timedelta(days=days)


def open_shop(folder: Path, clock: Clock, shop: Shop = SHOP) -> Shift:
    """Return a shift on fresh records in ``folder``."""
    shift = Shift(open_records(folder / "shop.db", clock()), "Sam", clock)
    save_shop(shift, shop)
    return shift


def taken_in(
    shift: Shift,
    owner: int | CustomerEntry = OWNER,
    unit: int | UnitEntry = TRIMMER,
    entry: TicketEntry = INTAKE,
) -> TicketView:
    """Return a ticket in Intake."""
    return take_in(shift, owner, unit, entry)


def another(shift: Shift, number: int, entry: TicketEntry = INTAKE) -> TicketView:
    """Return a ticket in Intake of one more owner with one more machine."""
    owner = CustomerEntry(f"Owner {number}", (f"555-01{number:02}9",))
    return taken_in(shift, owner, replace(TRIMMER, serial=f"N{number}"), entry)


def at_stage(shift: Shift, stage: Stage, entry: TicketEntry = INTAKE) -> TicketView:
    """Return a ticket brought to ``stage`` the usual way: a part, an hour, a yes, all done."""
    ticket = taken_in(shift, entry=entry)
    for step in _STEPS[: list(Stage).index(stage)]:
        ticket = step(shift, ticket)
    return ticket


def _to_diagnosis(shift: Shift, ticket: TicketView) -> TicketView:
    return go_on(shift, ticket.id, Stage.DIAGNOSIS)


def _to_approval(shift: Shift, ticket: TicketView) -> TicketView:
    record_finding(shift, ticket.id, "compression", "142")
    add_line(shift, ticket.id, replace(KIT, supply="to order"))
    add_line(shift, ticket.id, HOUR)
    return go_on(shift, ticket.id, Stage.APPROVAL)


def _to_parts(shift: Shift, ticket: TicketView) -> TicketView:
    quote(shift, ticket.id)
    approve(shift, ticket.id, SAYS)
    return go_on(shift, ticket.id, Stage.PARTS)


def _to_repair(shift: Shift, ticket: TicketView) -> TicketView:
    set_supply(shift, ticket.lines[0].id, "on hand")
    return go_on(shift, ticket.id, Stage.REPAIR)


def _to_pickup(shift: Shift, ticket: TicketView) -> TicketView:
    for line in ticket.lines:
        do_line(shift, line.id)
    record_observation(shift, ticket.id, "Run", "Ran 10 minutes", "pass", phase="proof")
    return go_on(shift, ticket.id, Stage.PICKUP)


def _to_closed(shift: Shift, ticket: TicketView) -> TicketView:
    ticket = issue_invoice(shift, ticket.id)
    take_payment(shift, ticket.id, str(ticket.balance), "card")
    return hand_over(shift, ticket.id)


_STEPS = (_to_diagnosis, _to_approval, _to_parts, _to_repair, _to_pickup, _to_closed)


def declined(shift: Shift) -> TicketView:
    """Return a ticket in Pickup whose owner said no."""
    ticket = at_stage(shift, Stage.APPROVAL)
    quote(shift, ticket.id)
    decline(shift, ticket.id, SAYS)
    return go_on(shift, ticket.id, Stage.PICKUP)


def everything(shift: Shift) -> dict[str, list[tuple[object, ...]]]:
    """Return every row of every table as kept."""
    names = [table._meta.table_name for table in TABLES]
    with shift.records.reading():
        return {name: _rows(shift, name) for name in names}


def _rows(shift: Shift, table: str) -> list[tuple[object, ...]]:
    query = f'SELECT * FROM "{table}" ORDER BY id'
    found: sqlite3.Cursor = shift.records.engine.execute_sql(query)
    return found.fetchall()


def each(*actions: Callable[[], object]) -> tuple[Callable[[], object], ...]:
    """Return the actions, to be tried one after the other."""
    return actions


@contextmanager
def refused(shift: Shift, field: str, *words: str) -> Iterator[None]:
    """Check that the block is refused at ``field`` with ``words``, and that nothing was written."""
    before = everything(shift)
    with pytest.raises(JobError) as caught:
        yield
    assert caught.value.field == field, caught.value.sentence
    for word in words:
        assert word in caught.value.sentence
    assert caught.value.sentence.endswith(".")
    caught.value.sentence.encode()
    assert everything(shift) == before


def kept(shift: Shift, ticket: TicketView) -> TicketView:
    """Return ``ticket``, having checked that it is what a fresh look at the records gives."""
    assert ticket == open_ticket(shift, ticket.id)
    return ticket
