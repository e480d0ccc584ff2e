"""Doing the work: ticking off what was approved, in Pickup too where a line was forgotten.

A part of the catalogue leaves the bin as it is fitted, and comes back with its tick taken off.
"""

from shopdesk.errors import JobError
from shopdesk.job.lines import find_open_line
from shopdesk.job.opened import ticket_view
from shopdesk.job.parts.stock import put_back, settle_supply, take_for
from shopdesk.job.shift import Change, Shift
from shopdesk.job.stages import Stage
from shopdesk.job.standing import DECLINED, ON_HAND, TicketRows, refuse_over_agreed, rows_of
from shopdesk.job.views import TicketView
from shopdesk.pricing.totals import LineKind
from shopdesk.records.tables import Line, Ticket


def do_line(shift: Shift, line_id: int) -> TicketView:
    """Tick a line as done.

    Raises ``JobError`` outside Repair and Pickup, for a part not here yet or not in the bin, a
    declined line, or work that comes to more than was agreed.
    """
    with shift.changing() as change:
        line, ticket = find_open_line(line_id)
        _refuse_unless_doable(line, ticket)
        _refuse_unless_agreed(rows_of(ticket), change)
        _tick(change, line)
        return ticket_view(ticket, change.shop, change.today)


def undo_line(shift: Shift, line_id: int) -> TicketView:
    """Take the tick off a line again."""
    with shift.changing() as change:
        line, ticket = find_open_line(line_id)
        put_back(change, line)
        line.done_at = None
        line.done_by = ""
        if line.part is not None and line.kind == LineKind.PART:
            settle_supply(line)
        change.save(line, "tick taken off")
        return ticket_view(ticket, change.shop, change.today)


def _refuse_unless_doable(line: Line, ticket: Ticket) -> None:
    if ticket.stage not in (Stage.REPAIR, Stage.PICKUP):
        raise JobError(
            f"This ticket is in {ticket.stage}: move it to Repair before ticking work off.", "stage"
        )
    if line.decision == DECLINED:
        raise JobError(
            f"The owner declined “{line.description}”: put it back on offer and ask again first.",
            "line",
        )
    if line.kind == LineKind.PART and line.supply != ON_HAND:
        raise JobError(
            f"“{line.description}” is {line.supply}: receive it before fitting it.", "line"
        )


def _refuse_unless_agreed(rows: TicketRows, change: Change) -> None:
    if rows.declined:
        raise JobError("The owner said no: ask again, and record a yes first.", "approval")
    refuse_over_agreed(rows, change.shop, "The work")


def _tick(change: Change, line: Line) -> None:
    if line.done_at is None:
        take_for(change, line)
    line.done_at = change.at
    line.done_by = change.who
    change.save(line)
