"""Day close: what was taken and given back by each way of paying, and what is in the till."""

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from shopdesk.dates import local_day, show_moment
from shopdesk.job.opened import tag_of
from shopdesk.job.payments import METHODS
from shopdesk.job.reports.issued import Money, payments_in, write_offs_in
from shopdesk.job.reports.period import Period
from shopdesk.job.reports.report import Bar, Bars, Kind, Report, Row, Table, columns, summed
from shopdesk.job.reports.till import Till, till_of
from shopdesk.job.shift import Shift, load_shop
from shopdesk.pricing.money import show_money
from shopdesk.pricing.totals import ZERO

NAME = "day-close"
BASIS = (
    "By the moment the money changed hands, in the shop's zone; change given on cash is not money "
    "taken."
)


@dataclass(frozen=True, slots=True)
class MethodSum:
    """What came and went by one way of paying; ``given_back`` is above zero."""

    method: str
    taken: Decimal
    given_back: Decimal
    payments: int

    @property
    def net(self) -> Decimal:
        """What stayed."""
        return self.taken - self.given_back


@dataclass(frozen=True, slots=True)
class DayClose:
    """The money of some days. ``till`` is that of a single day."""

    period: Period
    methods: tuple[MethodSum, ...]
    money: tuple[Money, ...]
    written_off: Decimal
    till: Till | None

    @property
    def net(self) -> Decimal:
        """All that came, less what was given back."""
        return sum((one.net for one in self.methods), ZERO)


def day_close(shift: Shift, period: Period) -> DayClose:
    """Add up the money of those days."""
    with shift.records.reading():
        zone = load_shop().zone
        money = payments_in(period, zone)
        given_up = sum((one.amount for one in write_offs_in(period, zone)), ZERO)
        found = till_of(period.first, zone) if period.is_day else None
    return DayClose(period, method_sums(money), tuple(money), given_up, found)


def method_sums(money: Iterable[Money]) -> tuple[MethodSum, ...]:
    """Add up money by how it was paid, in the order in which the ways are offered."""
    by_method: dict[str, list[Decimal]] = {method: [] for method in METHODS}
    for one in money:
        by_method.setdefault(one.what, []).append(one.amount)
    return tuple(
        MethodSum(
            method,
            sum((amount for amount in amounts if amount > 0), ZERO),
            -sum((amount for amount in amounts if amount < 0), ZERO),
            len(amounts),
        )
        for method, amounts in by_method.items()
        if amounts
    )


def report(shift: Shift, period: Period) -> Report:
    """Return the day close as it is shown."""
    shop, close = shift.shop, day_close(shift, period)
    debts = f"Debts given up: {show_money(close.written_off, shop.currency)}. No money moved."
    money = [f"Money that stayed: {show_money(close.net, shop.currency)}."]
    tables = [_by_method(close), _by_day(close, shop.zone), _each(close, shop.zone)]
    if close.till:
        tables.insert(1, _till_table(close.till))
        money = till_words(close.till, shop.currency)
    notes = (*money, debts) if close.written_off else tuple(money if close.till else ())
    return Report(
        name=NAME,
        title="Day close",
        period=period,
        basis=BASIS,
        tables=tuple(table for table in tables if table),
        pictures=(_picture(close, shop.currency),) if len(close.methods) > 1 else (),
        notes=notes,
        currency=shop.currency,
    )


def till_words(till: Till, currency: str) -> list[str]:
    """Say whether the till is right."""
    if till.counted is None:
        return ["The till is not counted yet."]
    difference = till.difference
    assert difference is not None
    amount = show_money(abs(difference), currency)
    if not difference:
        words = "The till is right to the cent."
    elif difference > 0:
        words = f"There is {amount} more in the till than there should be."
    else:
        words = f"There is {amount} missing from the till."
    if till.after_count:
        moved = show_money(till.after_count, currency)
        words += f" After the count {moved} more in cash came in: count again."
    return [words, till.note] if till.note else [words]


def _by_method(close: DayClose) -> Table:
    rows = tuple(
        Row((one.method.capitalize(), one.payments, one.taken, one.given_back, one.net))
        for one in close.methods
    )
    return Table(
        "By how it was paid",
        columns(
            "How it was paid",
            ("Payments", Kind.COUNT),
            ("Taken", Kind.MONEY),
            ("Given back", Kind.MONEY),
            ("Stays", Kind.MONEY),
        ),
        (*rows, summed(rows, "All", (1, 2, 3, 4))) if rows else (),
        "No money was taken or given back in these days.",
    )


def _till_table(till: Till) -> Table:
    lines: list[tuple[str, Decimal | None]] = [
        (f"In the till in the morning ({till.opening_words})", till.opening),
        ("Cash taken", till.taken - max(till.after_count, ZERO)),
        ("Cash given back", -till.given_back - min(till.after_count, ZERO)),
        ("Should be in the till", till.should_be),
    ]
    if till.counted is not None:
        lines += [
            ("Counted", till.counted),
            ("Over (below zero: missing)", till.difference),
            ("Taken out", -till.taken_out),
            ("Stays for the next day", till.stays),
        ]
    return Table(
        "The till",
        columns("Cash", ("Amount", Kind.MONEY)),
        tuple(Row(line, is_sum=line[0].startswith(("Should", "Stays"))) for line in lines),
    )


def _by_day(close: DayClose, zone: str) -> Table | None:
    """Return one row for each day with money, and a column for each way of paying."""
    if close.period.is_day:
        return None
    methods = [one.method for one in close.methods]
    rows = []
    for day in sorted({local_day(one.at, zone) for one in close.money}):
        sums = method_sums(one for one in close.money if local_day(one.at, zone) == day)
        net = {one.method: one.net for one in sums}
        amounts = [net.get(method) for method in methods]
        rows.append(Row((day, *amounts, sum(net.values(), ZERO))))
    heads = [(method.capitalize(), Kind.MONEY) for method in methods]
    sums_row = summed(rows, "All", range(1, len(methods) + 2))
    return Table(
        "Day by day",
        columns(("Day", Kind.DAY), *heads, ("Stays", Kind.MONEY)),
        (*rows, sums_row) if rows else (),
    )


def _each(close: DayClose, zone: str) -> Table:
    rows = tuple(
        Row(
            (
                show_moment(one.at, zone),
                tag_of(one.ticket),
                one.owner,
                one.what,
                one.by,
                one.amount,
            ),
            ticket_id=one.ticket_id,
        )
        for one in close.money
    )
    heads = columns("When", "Ticket", "Owner", "How", "Taken by", ("Amount", Kind.MONEY))
    return Table("Each payment", heads, rows)


def _picture(close: DayClose, currency: str) -> Bars:
    return Bars(
        "What stays, by how it was paid",
        tuple(
            Bar(one.method.capitalize(), one.net, show_money(one.net, currency))
            for one in close.methods
        ),
    )
