"""Money over the counter: deposits, payments, money given back, and slips of the pen put right."""

from decimal import Decimal

from shopdesk.errors import JobError
from shopdesk.job import typed
from shopdesk.job.opened import ticket_view
from shopdesk.job.pickup import as_issued
from shopdesk.job.shift import Change, Shift
from shopdesk.job.standing import (
    TicketRows,
    find_ticket,
    refuse_if_closed,
    rows_of,
    totals_of,
)
from shopdesk.job.views import TicketView
from shopdesk.pricing.money import MOST_MONEY, show_money
from shopdesk.pricing.totals import ZERO
from shopdesk.records.fetch import row_of
from shopdesk.records.tables import Payment, Ticket

METHODS = ("cash", "card", "cheque", "bank transfer", "other")


def take_payment(
    shift: Shift, ticket_id: int, amount: str, method: str, note: str = ""
) -> TicketView:
    """Take a payment, or a deposit while no invoice stands.

    Raises ``JobError`` at the field, also for more than is owed, or than is on offer; and on a
    closed ticket.
    """
    with shift.changing() as change:
        ticket = find_ticket(ticket_id)
        refuse_if_closed(ticket)
        money = _above_zero(amount)
        rows = rows_of(ticket)
        if rows.standing_invoice is None:
            _refuse_large_deposit(change, money, rows)
        elif money > rows.balance:
            _refuse_excess(change, money, rows.balance)
        _keep(change, ticket, money, method, note)
        return ticket_view(ticket, change.shop, change.today)


def change_due(ticket: TicketView, amount: str, method: str) -> Decimal:
    """Return what goes back over the counter of cash that is more than the invoice's balance.

    0 where there is none. Raises ``JobError`` at the field for what can't be read.
    """
    money = _above_zero(amount)
    if _method(method) != "cash" or ticket.standing_invoice is None or ticket.balance <= 0:
        return ZERO
    return max(money - ticket.balance, ZERO)


def give_back(shift: Shift, ticket_id: int, amount: str, method: str, note: str = "") -> TicketView:
    """Give money back, at most what was paid on this ticket; not on a closed one."""
    with shift.changing() as change:
        ticket = find_ticket(ticket_id)
        refuse_if_closed(ticket)
        money = _above_zero(amount)
        paid = rows_of(ticket).paid
        if money > paid:
            shown = show_money(paid, change.shop.currency)
            raise JobError(
                f"Only {shown} was paid on this ticket: give back that or less.", "amount"
            )
        _keep(change, ticket, -money, method, note)
        return ticket_view(ticket, change.shop, change.today)


def drop_payment(shift: Shift, payment_id: int, why: str) -> TicketView:
    """Take out money that was written down wrongly; the journal keeps it and the reason.

    Raises ``JobError`` on a closed ticket, for what the standing invoice prints, and for what was
    given back meanwhile.
    """
    reason = typed.line(why, "why", "The reason", needed=True)
    with shift.changing() as change:
        row = row_of(Payment, payment_id)
        if row is None:
            raise JobError(
                "That payment is not in the records any more: open the ticket again.", "payment"
            )
        ticket = find_ticket(row.ticket_id)
        refuse_if_closed(ticket)
        _refuse_if_relied_on(change, row, rows_of(ticket))
        change.remove(row, reason)
        return ticket_view(ticket, change.shop, change.today)


def _refuse_if_relied_on(change: Change, row: Payment, rows: TicketRows) -> None:
    bill = rows.standing_invoice
    printed = rows.payments[: len(as_issued(bill).payments)] if bill else ()
    if bill and row.id in [payment.id for payment in printed]:
        raise JobError(
            f"It is printed on invoice {bill.number}: write a credit note for that first.",
            "payment",
        )
    short = row.amount - rows.paid
    if short > 0:
        raise JobError(
            f"{show_money(short, change.shop.currency)} of it was given back: take that out first.",
            "payment",
        )


def _refuse_large_deposit(change: Change, money: Decimal, rows: TicketRows) -> None:
    """Refuse a deposit of more than is on offer; without lines, only more than can be kept."""
    if not rows.live_lines:
        if rows.paid + money > MOST_MONEY:
            raise JobError(f"That is over {MOST_MONEY:,} on one ticket: check it.", "amount")
        return
    on_offer = totals_of(rows, change.shop).total
    left = on_offer - rows.paid
    if money > left:
        shown, most = (show_money(amount, change.shop.currency) for amount in (on_offer, left))
        advice = f"take {most} at most" if left > 0 else "take no more"
        raise JobError(f"All that is on offer comes to {shown}: {advice} ahead of it.", "amount")


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


def _method(written: str) -> str:
    return typed.choice(written, "method", METHODS, "How it was paid", needed=True)


def _keep(change: Change, ticket: Ticket, money: Decimal, method: str, note: str) -> None:
    change.add(
        Payment(
            ticket=ticket,
            amount=money,
            method=_method(method),
            note=typed.line(note, "note", "The note"),
            taken_by=change.who,
            taken_at=change.at,
        )
    )
