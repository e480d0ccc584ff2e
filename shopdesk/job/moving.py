"""Moves a ticket on to its next stage, or back to an earlier one with a reason, as the stage rule allows."""

from shopdesk.errors import JobError
from shopdesk.job import typed
from shopdesk.job.opened import ticket_view
from shopdesk.job.shift import Change, Shift
from shopdesk.job.stages import Stage, Way, ways_back, ways_on
from shopdesk.job.standing import find_ticket, rows_of, standing_of
from shopdesk.job.views import TicketView
from shopdesk.records.tables import Ticket


def go_on(shift: Shift, ticket_id: int, to: Stage) -> TicketView:
    """Move the ticket on to ``to``; raises ``JobError`` that says what is missing before it may."""
    with shift.changing() as change:
        ticket = find_ticket(ticket_id)
        move_on(change, ticket, to)
        return ticket_view(ticket, change.shop, change.today)


def move_on(change: Change, ticket: Ticket, to: Stage) -> None:
    """Move the ticket on inside a transaction; raises as ``go_on`` does."""
    _check(ticket, to, ways_on(standing_of(rows_of(ticket), change.shop)))
    ticket.stage = to
    change.save(ticket)


def send_back(shift: Shift, ticket_id: int, to: Stage, why: str) -> TicketView:
    """Send the ticket back to an earlier stage (a closed one is reopened); ``why`` is kept in the journal."""
    reason = typed.line(why, "why", "The reason", needed=True)
    with shift.changing() as change:
        ticket = find_ticket(ticket_id)
        _check(ticket, to, ways_back(standing_of(rows_of(ticket), change.shop)))
        ticket.stage = to
        ticket.closed_at = None
        ticket.outcome = ""
        if to is not Stage.PICKUP:
            ticket.told_ready_at = None
        change.save(ticket, reason)
        return ticket_view(ticket, change.shop, change.today)


def _check(ticket: Ticket, to: Stage, ways: tuple[Way, ...]) -> None:
    way = next((one for one in ways if one.to is to), None)
    if way is None:
        raise JobError(f"A ticket in {ticket.stage} can't go to {to} from there.", "stage")
    if way.missing:
        raise JobError(f"Not yet {to}: {'; '.join(way.missing)}.", "stage")
