"""Tickets taken the whole way, for tests of what closed ones leave behind."""

from collections.abc import Iterable
from dataclasses import replace

from shopdesk.job.approval import SayEntry, approve, quote
from shopdesk.job.causes import say_cause
from shopdesk.job.customers import CustomerEntry
from shopdesk.job.diagnosis import record_finding, record_observation
from shopdesk.job.intake import TicketEntry
from shopdesk.job.lines import LineEntry, add_line
from shopdesk.job.moving import go_on
from shopdesk.job.payments import take_payment
from shopdesk.job.pickup import hand_over, issue_invoice
from shopdesk.job.repair import do_line
from shopdesk.job.shift import Shift
from shopdesk.job.stages import Stage
from shopdesk.job.units import UnitEntry
from shopdesk.job.views import TicketView
from tests.job.workshop import INTAKE, TRIMMER, taken_in


def on_the_bench(
    shift: Shift,
    number: int,
    unit: UnitEntry = TRIMMER,
    checks: Iterable[tuple[str, str]] = (),
    entry: TicketEntry = INTAKE,
) -> TicketView:
    """Return a ticket in Diagnosis of an owner of their own, with these readings."""
    owner = CustomerEntry(f"Owner {number}", (f"555-01{number:02}",))
    ticket = taken_in(shift, owner, replace(unit, serial=f"N-{number}"), entry)
    ticket = go_on(shift, ticket.id, Stage.DIAGNOSIS)
    for check, reading in checks:
        ticket = record_finding(shift, ticket.id, check, reading)
    return ticket


def closed(shift: Shift, ticket: TicketView, hours: str = "1") -> TicketView:
    """Take a ticket in Diagnosis to Closed, mended by some hours at the bench."""
    record_observation(shift, ticket.id, "Looked over", "gummed up", "noted")
    add_line(shift, ticket.id, LineEntry("labour", "Mend it", hours, reason="failed"))
    go_on(shift, ticket.id, Stage.APPROVAL)
    quote(shift, ticket.id)
    approve(shift, ticket.id, SayEntry(ticket.owner.name, "by phone", phone="555-0142"))
    ticket = go_on(shift, ticket.id, Stage.REPAIR)
    for line in ticket.lines:
        do_line(shift, line.id)
    record_observation(shift, ticket.id, "Run", "Ran 10 minutes", "pass", phase="proof")
    go_on(shift, ticket.id, Stage.PICKUP)
    ticket = issue_invoice(shift, ticket.id)
    take_payment(shift, ticket.id, str(ticket.balance), "card")
    return hand_over(shift, ticket.id)


def mended(
    shift: Shift,
    number: int,
    cause: str = "",
    unit: UnitEntry = TRIMMER,
    checks: Iterable[tuple[str, str]] = (),
    hours: str = "1",
) -> TicketView:
    """Return a closed ticket of one more owner, whose cause was said."""
    ticket = on_the_bench(shift, number, unit, checks)
    if cause:
        say_cause(shift, ticket.id, cause)
    return closed(shift, ticket, hours)
