"""Moves a ticket on, or back to an earlier stage with a reason, as the stage rule allows."""

from shopdesk.errors import JobError
from shopdesk.job import typed
from shopdesk.job.labour.spells import stop_clocks
from shopdesk.job.opened import ticket_view
from shopdesk.job.shift import Change, Shift
from shopdesk.job.stages import AS_IS, MENDED, NOT_FETCHED, Stage, Way, ways_back, ways_on
from shopdesk.job.standing import TicketRows, find_ticket, rows_of, standing_of
from shopdesk.job.views import TicketView
from shopdesk.records.tables import Ticket

_AT_THE_DOOR = (Stage.PICKUP, Stage.CLOSED)
"""What a ticket comes to when the bench is done: whatever clock runs on it stops."""


def go_on(shift: Shift, ticket_id: int, to: Stage) -> TicketView:
    """Move the ticket on to ``to``; raises ``JobError`` that says what is missing before it may."""
    with shift.changing() as change:
        ticket = find_ticket(ticket_id)
        rows = move_on(change, ticket, to)
        return ticket_view(ticket, change.shop, change.today, rows)


def move_on(change: Change, ticket: Ticket, to: Stage) -> TicketRows:
    """Move the ticket on inside a transaction and return its rows; raises as ``go_on`` does."""
    rows = rows_of(ticket)
    _check(ticket, to, ways_on(standing_of(rows, change.shop)), "on")
    ticket.stage = to
    if to is Stage.CLOSED:
        ticket.outcome = MENDED if any(line.done_at for line in rows.live_lines) else AS_IS
        ticket.closed_at = change.at
    change.save(ticket)
    if to in _AT_THE_DOOR:
        stop_clocks(change, ticket.id)
    return rows


def send_back(shift: Shift, ticket_id: int, to: Stage, why: str) -> TicketView:
    """Send the ticket back to an earlier stage, or reopen it; the journal keeps ``why``."""
    reason = typed.line(why, "why", "The reason", needed=True)
    with shift.changing() as change:
        ticket = find_ticket(ticket_id)
        _check(ticket, to, ways_back(standing_of(rows_of(ticket), change.shop)), "back")
        ticket.stage = to
        if ticket.outcome == NOT_FETCHED:
            ticket.balance_reason = ticket.became = ""
            _is_here_again(change, ticket)
        ticket.closed_at = None
        ticket.outcome = ""
        if to is not Stage.PICKUP:
            ticket.told_ready_at = None
            ticket.proof_reason = ""
        change.save(ticket, reason)
        return ticket_view(ticket, change.shop, change.today)


def _is_here_again(change: Change, ticket: Ticket) -> None:
    unit = ticket.unit
    unit.gone_on, unit.gone_how = None, ""
    change.save(unit, "its ticket was opened again")


def _check(ticket: Ticket, to: Stage, ways: tuple[Way, ...], direction: str) -> None:
    way = next((one for one in ways if one.to is to), None)
    if way is None:
        open_to = " or ".join(one.to for one in ways)
        hint = f"it goes {direction} to {open_to}" if ways else f"it goes no further {direction}"
        raise JobError(f"A ticket in {ticket.stage} can't go {direction} to {to}: {hint}.", "stage")
    if way.missing:
        raise JobError(f"Not yet {to}: {'; '.join(way.missing)}.", "stage")
