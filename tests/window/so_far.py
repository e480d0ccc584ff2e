"""Brings a ticket to a stage by what people do, so that a test begins where its page does."""

from shopdesk.job.approval import SayEntry, approve, quote
from shopdesk.job.diagnosis import confirm_complaint, record_finding
from shopdesk.job.lines import LineEntry, add_line
from shopdesk.job.moving import go_on
from shopdesk.job.parts.supply import set_supply
from shopdesk.job.repair import do_line
from shopdesk.job.shift import Shift
from shopdesk.job.stages import Stage
from shopdesk.job.views import TicketView


def at_bench(shift: Shift, ticket: TicketView) -> TicketView:
    """Bring a ticket that was just taken in to the bench."""
    return go_on(shift, ticket.id, Stage.DIAGNOSIS)


def diagnosed(shift: Shift, ticket: TicketView) -> TicketView:
    """Find the cause, price the repair, and go to Approval."""
    at_bench(shift, ticket)
    confirm_complaint(shift, ticket.id, "seen")
    record_finding(shift, ticket.id, "spark", "s")
    record_finding(shift, ticket.id, "compression", "142")
    found = record_finding(shift, ticket.id, "plug-gap", ".040").findings[-1]
    add_line(
        shift,
        ticket.id,
        LineEntry(
            "part",
            "Spark plug",
            unit_price="6.50",
            reason="failed",
            finding_id=found.id,
            part_number="SP-7",
            cost="3.10",
        ),
    )
    add_line(
        shift,
        ticket.id,
        LineEntry(
            "part",
            "Fuel filter",
            unit_price="8.00",
            reason="preventive",
            supply="to order",
        ),
    )
    add_line(shift, ticket.id, LineEntry("labour", "Fit plug and filter", "0.5", reason="failed"))
    return go_on(shift, ticket.id, Stage.APPROVAL)


def approved(shift: Shift, ticket: TicketView) -> TicketView:
    """Have all of it approved, the parts here, and go to Repair."""
    lines = diagnosed(shift, ticket).lines
    set_supply(shift, lines[1].id, "on hand")
    quote(shift, ticket.id)
    approve(shift, ticket.id, SayEntry("Ansel Brightwater", "by phone", phone="555-0142"))
    return go_on(shift, ticket.id, Stage.REPAIR)


def repaired(shift: Shift, ticket: TicketView) -> TicketView:
    """Do the work, prove it, and go to Pickup."""
    for line in approved(shift, ticket).lines:
        do_line(shift, line.id)
    record_finding(shift, ticket.id, "plug-gap", ".025", phase="setting")
    record_finding(shift, ticket.id, "stop-switch", "s", phase="proof")
    return go_on(shift, ticket.id, Stage.PICKUP)
