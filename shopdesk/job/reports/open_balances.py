"""Open balances: who owes how much since when, and whose money the shop holds."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal

from shopdesk.dates import local_day, show_date
from shopdesk.job.opened import tag_of
from shopdesk.job.reports.asking import cents, money, tuples
from shopdesk.job.reports.period import Period
from shopdesk.job.reports.report import Bar, Bars, Kind, Report, Row, Table, columns, summed
from shopdesk.job.shift import Shift, load_shop
from shopdesk.pricing.money import show_money
from shopdesk.pricing.totals import ZERO
from shopdesk.records.tables import Customer, Invoice, Payment, Phone, Ticket, WriteOff

NAME = "open-balances"
BASIS = (
    "As the books stood at the end of the last day: invoiced less credited, paid and given up; "
    "the age counts from the day the invoice was issued."
)
BANDS = ((0, 30), (31, 60), (61, 90), (91, None))
"""Days since the invoice (common practice, no published source)."""


@dataclass(frozen=True, slots=True)
class OpenBalance:
    """What one ticket's owner owes (above zero) or has with us (below zero)."""

    ticket_id: int
    ticket: str
    owner_id: int
    owner: str
    phones: tuple[str, ...]
    since: date | None
    """The day of the invoice; ``None`` of a deposit without one."""
    days: int
    balance: Decimal
    agreed: str


@dataclass(frozen=True, slots=True)
class OpenBalances:
    """All of them at the end of a day, the oldest first."""

    on: date
    owed: tuple[OpenBalance, ...]
    held: tuple[OpenBalance, ...]


def open_balances(shift: Shift, on: date) -> OpenBalances:
    """Return what was owed, and what was held, at the end of that day."""
    with shift.records.reading():
        zone = load_shop().zone
        end = Period(on, on).moments(zone)[1]
        sums: Counter[int] = Counter()
        for ticket_id, amount in _sums(Invoice, "total", "issued_at", end):
            sums[ticket_id] += amount
        for table, at in ((Payment, "taken_at"), (WriteOff, "written_at")):
            for ticket_id, amount in _sums(table, "amount", at, end):
                sums[ticket_id] -= amount
        unsettled = {ticket_id: amount for ticket_id, amount in sums.items() if amount}
        found = _described(unsettled, on, end, zone)
    found.sort(key=lambda one: (-one.days, -abs(one.balance), one.ticket_id))
    return OpenBalances(
        on,
        tuple(one for one in found if one.balance > 0),
        tuple(one for one in found if one.balance < 0),
    )


_AnyMoney = type[Invoice] | type[Payment] | type[WriteOff]


def _sums(table: _AnyMoney, amount: str, at: str, end: datetime) -> list[tuple[int, int]]:
    """Return by ticket the cents of all rows before a moment."""
    fields = table._meta.fields
    query = table.select(table.ticket, cents(fields[amount])).where(fields[at] < end)
    return [(ticket_id, whole) for ticket_id, whole in tuples(query.group_by(table.ticket))]


def _described(unsettled: dict[int, int], on: date, end: datetime, zone: str) -> list[OpenBalance]:
    tickets = list(
        Ticket.select(Ticket, Customer).join(Customer).where(Ticket.id.in_(list(unsettled)))
    )
    issued = _issued(list(unsettled), end)
    phones = _phones([ticket.customer_id for ticket in tickets])
    return [_balance(ticket, unsettled[ticket.id], issued, phones, on, zone) for ticket in tickets]


def _balance(
    ticket: Ticket,
    amount: int,
    issued: dict[int, datetime],
    phones: dict[int, list[str]],
    on: date,
    zone: str,
) -> OpenBalance:
    at = issued.get(ticket.id)
    since = local_day(at, zone) if at else None
    return OpenBalance(
        ticket_id=ticket.id,
        ticket=tag_of(ticket.number),
        owner_id=ticket.customer_id,
        owner=ticket.customer.name,
        phones=tuple(phones.get(ticket.customer_id, ())),
        since=since,
        days=(on - since).days if since else 0,
        balance=money(amount),
        agreed=ticket.balance_reason,
    )


def _issued(tickets: Sequence[int], end: datetime) -> dict[int, datetime]:
    """Return when the last invoice of each ticket was issued, before a moment."""
    rows = (
        Invoice.select(Invoice.ticket, Invoice.issued_at)
        .where(Invoice.ticket.in_(tickets) & Invoice.credits.is_null() & (Invoice.issued_at < end))
        .order_by(Invoice.id)
    )
    return dict(tuples(rows))


def _phones(owners: Sequence[int]) -> dict[int, list[str]]:
    found: dict[int, list[str]] = {}
    for phone in Phone.select().where(Phone.customer.in_(owners)).order_by(Phone.position):
        found.setdefault(phone.customer_id, []).append(phone.number)
    return found


def report(shift: Shift, period: Period) -> Report:
    """Return the open balances at the end of the period as they are shown."""
    shop = shift.shop
    on = min(period.last, shift.today_in(shop))
    found = open_balances(shift, on)
    bands = [_band(found.owed, *band) for band in BANDS]
    bars = tuple(
        Bar(words, amount, f"{show_money(amount, shop.currency)}, {_tickets(count)}")
        for words, count, amount in bands
    )
    return Report(
        name=NAME,
        title="Open balances",
        period=Period(on, on),
        basis=BASIS,
        tables=(_band_table(bands), _owed_table(found.owed), _held_table(found.held)),
        pictures=(Bars(f"Owed to us on {show_date(on)}, by age", bars),) if found.owed else (),
        currency=shop.currency,
    )


def _band(owed: Sequence[OpenBalance], first: int, last: int | None) -> tuple[str, int, Decimal]:
    within = [
        one.balance for one in owed if first <= one.days and (last is None or one.days <= last)
    ]
    words = f"{first} to {last} days" if last is not None else f"over {first - 1} days"
    return words, len(within), sum(within, ZERO)


def _tickets(count: int) -> str:
    return "1 ticket" if count == 1 else f"{count} tickets"


def _band_table(bands: Sequence[tuple[str, int, Decimal]]) -> Table:
    rows = tuple(Row(band) for band in bands)
    heads = columns("Since the invoice", ("Tickets", Kind.COUNT), ("Owed", Kind.MONEY))
    return Table("By age", heads, (*rows, summed(rows, "All", (1, 2))))


def _owed_table(owed: Sequence[OpenBalance]) -> Table:
    rows = tuple(
        Row(
            (
                *(one.owner, ", ".join(one.phones), one.ticket, one.since),
                *(one.days, one.agreed, one.balance),
            ),
            ticket_id=one.ticket_id,
        )
        for one in owed
    )
    heads = columns(
        *("Owner", "Phone", "Ticket", ("Invoiced", Kind.DAY)),
        *(("Days", Kind.COUNT), "Agreed", ("Owed", Kind.MONEY)),
    )
    last = (summed(rows, "All", (6,)),) if rows else ()
    return Table("Whom to call", heads, (*rows, *last), "Nobody owes anything.")


def _held_table(held: Sequence[OpenBalance]) -> Table:
    rows = tuple(
        Row(
            (one.owner, ", ".join(one.phones), one.ticket, _why(one), -one.balance),
            ticket_id=one.ticket_id,
        )
        for one in held
    )
    heads = columns("Owner", "Phone", "Ticket", "What it is", ("Held", Kind.MONEY))
    last = (summed(rows, "All", (4,)),) if rows else ()
    return Table("Owners' money that we hold", heads, (*rows, *last), "We hold nobody's money.")


def _why(one: OpenBalance) -> str:
    return "deposit, not invoiced yet" if one.since is None else "paid or credited too much"
