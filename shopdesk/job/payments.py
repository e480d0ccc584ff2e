"""Money over the counter: deposits, payments, and money given back."""

from decimal import Decimal

from shopdesk.errors import JobError
from shopdesk.job import typed
from shopdesk.job.opened import ticket_view
from shopdesk.job.shift import Change, Shift
from shopdesk.job.standing import find_ticket, rows_of
from shopdesk.job.views import TicketView
from shopdesk.pricing.money import show_money
from shopdesk.records.tables import Payment, Ticket

METHODS = ("cash", "card", "cheque", "bank transfer", "other")


def take_payment(
    shift: Shift, ticket_id: int, amount: str, method: str, note: str = ""
) -> TicketView:
    """Take a payment, or a deposit while no invoice stands.

    Raises ``JobError`` at the field, also for more than is owed.
    """
    with shift.changing() as change:
        ticket = find_ticket(ticket_id)
        money = _above_zero(amount)
        rows = rows_of(ticket)
        if rows.standing_invoice is not None and money > rows.balance:
            _refuse_excess(change, money, rows.balance)
        _keep(change, ticket, money, method, note)
        return ticket_view(ticket, change.shop, change.today)


def give_back(shift: Shift, ticket_id: int, amount: str, method: str, note: str = "") -> TicketView:
    """Give money back, at most what was paid on this ticket."""
    with shift.changing() as change:
        ticket = find_ticket(ticket_id)
        money = _above_zero(amount)
        paid = rows_of(ticket).paid
        if money > paid:
            shown = show_money(paid, change.shop.currency)
            raise JobError(
                f"Only {shown} was paid on this ticket: give back that or less.", "amount"
            )
        _keep(change, ticket, -money, method, note)
        return ticket_view(ticket, change.shop, change.today)


def _above_zero(amount: str) -> Decimal:
    money = typed.money(amount, "amount")
    if money == 0:
        raise JobError("The amount is 0.00: type how much it was.", "amount")
    return money


def _refuse_excess(change: Change, money: Decimal, owed: Decimal) -> None:
    if owed <= 0:
        raise JobError("The owner owes nothing on this ticket: take no more.", "amount")
    symbol = change.shop.currency
    raise JobError(
        f"The owner owes {show_money(owed, symbol)}: take that "
        f"and hand {show_money(money - owed, symbol)} back as change.",
        "amount",
    )


def _keep(change: Change, ticket: Ticket, money: Decimal, method: str, note: str) -> None:
    change.add(
        Payment(
            ticket=ticket,
            amount=money,
            method=typed.choice(method, "method", METHODS, "How it was paid", needed=True),
            note=typed.line(note, "note", "The note"),
            taken_by=change.who,
            taken_at=change.at,
        )
    )
