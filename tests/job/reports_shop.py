"""Tickets with a known course in time, for the reports."""

from dataclasses import replace

from shopdesk.job.customers import CustomerEntry
from shopdesk.job.intake import TicketEntry
from shopdesk.job.moving import go_on
from shopdesk.job.shift import Shift
from shopdesk.job.stages import Stage
from shopdesk.job.units import UnitEntry
from shopdesk.job.views import TicketView
from tests.job.mended import closed
from tests.job.workshop import TRIMMER, Clock, taken_in


def mended_in(
    shift: Shift,
    clock: Clock,
    number: int,
    days: float,
    *,
    promised: str = "",
    unit: UnitEntry = TRIMMER,
    until_looked_at: float = 0,
) -> TicketView:
    """Take a machine in, and close its ticket ``days`` later."""
    owner = CustomerEntry(f"Owner {number}", (f"555-01{number:02}",))
    entry = TicketEntry("Won't start.", promised_on=promised)
    ticket = taken_in(shift, owner, replace(unit, serial=f"N-{number}"), entry)
    clock.forward(until_looked_at)
    ticket = go_on(shift, ticket.id, Stage.DIAGNOSIS)
    clock.forward(days - until_looked_at)
    return closed(shift, ticket)
