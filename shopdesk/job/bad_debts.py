"""Debts that are given up: written off with a reason, and owed again if the owner pays after all.

No money moves: what is written off is kept apart from payments, and counts on its own day.
"""

from decimal import Decimal

from shopdesk.errors import JobError
from shopdesk.job import typed
from shopdesk.job.opened import ticket_view
from shopdesk.job.shift import Change, Shift
from shopdesk.job.shop import Shop
from shopdesk.job.standing import TicketRows, find_ticket, rows_of
from shopdesk.job.views import TicketView
from shopdesk.pricing.money import show_money
from shopdesk.records.tables import WriteOff


def write_off(shift: Shift, ticket_id: int, why: str, amount: str = "") -> TicketView:
    """Give up what the owner still owes on the ticket, or ``amount`` of it, also on a closed one.

    Raises ``JobError`` without a reason, where nothing is owed, and for more than is owed.
    """
    reason = reason_given(why)
    with shift.changing() as change:
        rows = rows_of(find_ticket(ticket_id))
        return _kept(change, rows, _of_the_debt(rows.balance, amount, change.shop), reason)


def amount_given_up(ticket: TicketView, amount: str, shop: Shop) -> Decimal:
    """Return how much of a ticket's debt would be given up, all of it where ``amount`` is empty.

    Raises ``JobError`` where nothing is owed, for nothing, and for more than is owed.
    """
    return _of_the_debt(ticket.balance, amount, shop)


def reason_given(why: str) -> str:
    """Return why a debt is given up or owed again; raises ``JobError`` where no word says it."""
    reason = typed.line(why, "why", "The reason", needed=True)
    if not any(char.isalpha() for char in reason):
        raise JobError(f"“{reason}” is no reason: say it in words.", "why")
    return reason


def take_back_write_off(shift: Shift, ticket_id: int, why: str) -> TicketView:
    """Let the whole of what was written off be owed again, for a reason; then it can be paid."""
    reason = reason_given(why)
    with shift.changing() as change:
        rows = rows_of(find_ticket(ticket_id))
        if rows.written_off <= 0:
            raise JobError("Nothing was written off on this ticket.", "balance")
        return _kept(change, rows, -rows.written_off, reason)


def _of_the_debt(owed: Decimal, amount: str, shop: Shop) -> Decimal:
    if owed <= 0:
        raise JobError("The owner owes nothing on this ticket: there is no debt.", "balance")
    given_up = typed.optional_money(amount, "amount")
    if given_up is None:
        return owed
    if not 0 < given_up <= owed:
        raise JobError(
            f"{show_money(given_up, shop.currency)} can't be given up: type an amount over 0, "
            f"up to the {show_money(owed, shop.currency)} that is owed.",
            "amount",
        )
    return given_up


def _kept(change: Change, rows: TicketRows, amount: Decimal, why: str) -> TicketView:
    change.add(
        WriteOff(
            ticket=rows.ticket, amount=amount, why=why, written_by=change.who, written_at=change.at
        )
    )
    return ticket_view(rows.ticket, change.shop, change.today)
