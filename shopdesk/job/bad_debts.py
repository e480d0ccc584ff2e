"""Debts that are given up: written off with a reason, and owed again if the owner pays after all.

No money moves: what is written off is kept apart from payments, and counts on its own day.
"""

from decimal import Decimal

from shopdesk.errors import JobError
from shopdesk.job import typed
from shopdesk.job.opened import ticket_view
from shopdesk.job.shift import Change, Shift
from shopdesk.job.standing import TicketRows, find_ticket, rows_of
from shopdesk.job.views import TicketView
from shopdesk.records.tables import WriteOff


def write_off(shift: Shift, ticket_id: int, why: str) -> TicketView:
    """Give up what the owner still owes on the ticket, also on a closed one; nothing is owed then.

    Raises ``JobError`` without a reason, and where nothing is owed.
    """
    reason = typed.line(why, "why", "The reason", needed=True)
    with shift.changing() as change:
        rows = rows_of(find_ticket(ticket_id))
        if rows.balance <= 0:
            raise JobError("The owner owes nothing on this ticket: there is no debt.", "balance")
        return _kept(change, rows, rows.balance, reason)


def take_back_write_off(shift: Shift, ticket_id: int, why: str) -> TicketView:
    """Let the whole of what was written off be owed again, for a reason; then it can be paid."""
    reason = typed.line(why, "why", "The reason", needed=True)
    with shift.changing() as change:
        rows = rows_of(find_ticket(ticket_id))
        if rows.written_off <= 0:
            raise JobError("Nothing was written off on this ticket.", "balance")
        return _kept(change, rows, -rows.written_off, reason)


def _kept(change: Change, rows: TicketRows, amount: Decimal, why: str) -> TicketView:
    change.add(
        WriteOff(
            ticket=rows.ticket, amount=amount, why=why, written_by=change.who, written_at=change.at
        )
    )
    return ticket_view(rows.ticket, change.shop, change.today)
