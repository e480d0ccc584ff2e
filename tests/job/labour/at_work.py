"""Work at the bench in a line: time written down, and all that is to be done, done."""

from shopdesk.job.diagnosis import record_observation
from shopdesk.job.labour.clock import TimeEntry, add_time
from shopdesk.job.moving import go_on
from shopdesk.job.repair import do_line
from shopdesk.job.shift import Shift
from shopdesk.job.stages import Stage
from shopdesk.job.views import TicketView


def worked(
    shift: Shift, ticket: TicketView, *times: str, work: str = "repair", rate: str = ""
) -> TicketView:
    """Write down spells by hand."""
    for time in times:
        ticket = add_time(shift, ticket.id, TimeEntry(time, work=work, rate=rate))
    return ticket


def finished(shift: Shift, ticket: TicketView) -> TicketView:
    """Do all that is to be done and move on to Pickup."""
    for line in ticket.lines:
        do_line(shift, line.id)
    record_observation(shift, ticket.id, "Run", "Ran 10 minutes", "pass", phase="proof")
    return go_on(shift, ticket.id, Stage.PICKUP)
