"""Money over the counter: deposits, payments, money given back, and slips of the pen put right."""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from shopdesk.errors import JobError
from shopdesk.job import typed
from shopdesk.job.invoices.chain import as_issued
from shopdesk.job.opened import ticket_view
from shopdesk.job.shift import Change, Shift
from shopdesk.job.stages import Stage
from shopdesk.job.standing import TicketRows, find_ticket, refuse_if_closed, rows_of, totals_of
from shopdesk.job.views import TicketView
from shopdesk.pricing.money import MOST_MONEY, show_money
from shopdesk.pricing.totals import ZERO
from shopdesk.records.fetch import row_of
from shopdesk.records.tables import Payment, Ticket

METHODS = ("cash", "card", "cheque", "bank transfer", "other")
CASH = METHODS[0]


@dataclass(frozen=True, slots=True)
class Tender:
    """Money that is handed over, as typed: how much, and how."""

    amount: str
    method: str


def take_payment(
    shift: Shift, ticket_id: int, amount: str, method: str, note: str = ""
) -> TicketView:
    """Take a payment, or a deposit while no invoice stands.

    Raises ``JobError`` at the field, also for more than is owed, or than is on offer. On a closed
    ticket only what is still owed is taken.
    """
    with shift.changing() as change:
        ticket = find_ticket(ticket_id)
        money = _above_zero(amount)
        _refuse_more_than_due(change, rows_of(ticket), money)
        _keep(change, ticket, money, _method(method), note)
        return ticket_view(ticket, change.shop, change.today)


def take_payments(
    shift: Shift, ticket_id: int, tenders: Sequence[Tender], note: str = ""
) -> TicketView:
    """Take a payment that comes in several ways at once; cash over what is owed goes back.

    What goes back is not kept as paid; the note on the cash says what was handed over. Raises
    ``JobError`` at ``amount`` or ``method``, with the number of the tender behind it from the
    second on (``amount_2``), and for all that ``take_payment`` refuses.
    """
    with shift.changing() as change:
        ticket = find_ticket(ticket_id)
        rows = rows_of(ticket)
        handed = _handed(tenders)
        back = _change_of(handed, rows)
        _refuse_more_than_due(change, rows, sum((money for money, _ in handed), ZERO) - back)
        for money, method in handed:
            less = min(back, money) if method == CASH else ZERO
            back -= less
            if money > less:
                told = _change_words(change, money, less) if less else ""
                words = "; ".join(filter(None, (note.strip(), told)))
                _keep(change, ticket, money - less, method, words)
        return ticket_view(ticket, change.shop, change.today)


def change_of(ticket: TicketView, tenders: Sequence[Tender]) -> Decimal:
    """Return what goes back over the counter of what is handed over, 0 where nothing does.

    Only cash goes back, and only against an invoice. Raises ``JobError`` as ``take_payments``.
    """
    handed = _handed(tenders)
    if ticket.standing_invoice is None or ticket.balance <= 0:
        return ZERO
    return _over(handed, ticket.balance)


def give_back(shift: Shift, ticket_id: int, amount: str, method: str, note: str = "") -> TicketView:
    """Give money back, at most what was paid on this ticket; on a closed one, what we owe."""
    with shift.changing() as change:
        ticket = find_ticket(ticket_id)
        money = _above_zero(amount)
        rows = rows_of(ticket)
        if ticket.stage == Stage.CLOSED and money > -rows.balance:
            raise JobError(_closed_words(change, max(-rows.balance, ZERO), "owed back"), "amount")
        if money > rows.paid:
            shown = show_money(rows.paid, change.shop.currency)
            raise JobError(
                f"Only {shown} was paid on this ticket: give back that or less.", "amount"
            )
        _keep(change, ticket, -money, _method(method), note)
        return ticket_view(ticket, change.shop, change.today)


def drop_payment(shift: Shift, payment_id: int, why: str) -> TicketView:
    """Take out money that was written down wrongly; the journal keeps it and the reason.

    Raises ``JobError`` for what was there when the ticket was closed, for what the standing invoice
    prints, and for what was given back meanwhile.
    """
    reason = typed.line(why, "why", "The reason", needed=True)
    with shift.changing() as change:
        row = row_of(Payment, payment_id)
        if row is None:
            raise JobError(
                "That payment is not in the records any more: open the ticket again.", "payment"
            )
        ticket = find_ticket(row.ticket_id)
        if ticket.closed_at is None or row.taken_at <= ticket.closed_at:
            refuse_if_closed(ticket)
        _refuse_if_relied_on(change, row, rows_of(ticket))
        change.remove(row, reason)
        return ticket_view(ticket, change.shop, change.today)


def _refuse_more_than_due(change: Change, rows: TicketRows, money: Decimal) -> None:
    if rows.ticket.stage == Stage.CLOSED:
        if money > rows.balance:
            raise JobError(_closed_words(change, max(rows.balance, ZERO), "still owed"), "amount")
    elif rows.standing_invoice is None:
        _refuse_large_deposit(change, money, rows)
    elif money > rows.balance:
        _refuse_excess(change, money, rows)


def _closed_words(change: Change, amount: Decimal, what: str) -> str:
    shown = show_money(amount, change.shop.currency) if amount else "nothing"
    return f"This ticket is closed and {shown} is {what} on it: reopen it first for more."


def _handed(tenders: Sequence[Tender]) -> list[tuple[Decimal, str]]:
    """Return each tender's amount and method; those left empty after the first count for none."""
    filled = [
        (place, one)
        for place, one in enumerate(tenders, 1)
        if place == 1 or one.amount.strip() or one.method.strip()
    ]
    return [
        (
            _above_zero(one.amount, _at("amount", place)),
            _method(one.method, _at("method", place)),
        )
        for place, one in filled
    ]


def _at(field: str, place: int) -> str:
    return field if place == 1 else f"{field}_{place}"


def _change_of(handed: Sequence[tuple[Decimal, str]], rows: TicketRows) -> Decimal:
    return ZERO if rows.standing_invoice is None else _over(handed, max(rows.balance, ZERO))


def _over(handed: Sequence[tuple[Decimal, str]], owed: Decimal) -> Decimal:
    """Return how much of the cash is more than is owed."""
    over = max(sum((money for money, _ in handed), ZERO) - owed, ZERO)
    cash = sum((money for money, method in handed if method == CASH), ZERO)
    return min(over, cash) if owed else ZERO


def _change_words(change: Change, money: Decimal, back: Decimal) -> str:
    symbol = change.shop.currency
    return f"{show_money(money, symbol)} handed over, {show_money(back, symbol)} change"


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


def _above_zero(amount: str, field: str = "amount") -> Decimal:
    money = typed.money(amount, field)
    if money == 0:
        raise JobError("The amount is 0.00: type how much it was.", field)
    return money


def _refuse_excess(change: Change, money: Decimal, rows: TicketRows) -> None:
    symbol, owed = change.shop.currency, rows.balance
    if owed <= 0 and rows.written_off > 0:
        shown = show_money(rows.written_off, symbol)
        raise JobError(
            f"{shown} of this ticket's debt was written off: take that back first, "
            "then take the money.",
            "amount",
        )
    if owed <= 0:
        raise JobError("The owner owes nothing on this ticket: take no more.", "amount")
    raise JobError(
        f"The owner owes {show_money(owed, symbol)}: take that "
        f"and hand {show_money(money - owed, symbol)} back as change.",
        "amount",
    )


def _method(written: str, field: str = "method") -> str:
    return typed.choice(written, field, METHODS, "How it was paid", needed=True)


def _keep(change: Change, ticket: Ticket, money: Decimal, method: str, note: str) -> None:
    change.add(
        Payment(
            ticket=ticket,
            amount=money,
            method=method,
            note=typed.line(note, "note", "The note"),
            taken_by=change.who,
            taken_at=change.at,
        )
    )
