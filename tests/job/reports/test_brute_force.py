"""Every report against a plain sum over the rows, for whatever was sold, credited and paid."""

from collections import defaultdict
from contextlib import closing
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from decimal import Decimal
from pathlib import Path
from tempfile import TemporaryDirectory

import msgspec
from hypothesis import given, settings
from hypothesis import strategies as st

from shopdesk.dates import local_day
from shopdesk.job.bad_debts import write_off
from shopdesk.job.opened import open_ticket
from shopdesk.job.paper_content import InvoiceContent
from shopdesk.job.payments import give_back, take_payment
from shopdesk.job.pickup import credit_invoice
from shopdesk.job.reports.day_close import day_close
from shopdesk.job.reports.income import income
from shopdesk.job.reports.margin import margin
from shopdesk.job.reports.open_balances import open_balances
from shopdesk.job.reports.period import Period
from shopdesk.job.reports.tax import tax_report
from shopdesk.job.shift import Shift
from shopdesk.pricing.totals import TaxRate
from shopdesk.records.tables import Invoice, Payment, WriteOff
from tests.job.reports.books import FEE, HOUR, PART, ready, sold
from tests.job.workshop import SHOP, Clock, open_shop

RATES = (TaxRate("State", Decimal("6.875")), TaxRate("City", Decimal("0.5")))
ZONES = ("America/Denver", "Pacific/Auckland", "UTC")
START = datetime(2031, 3, 30, 20, 0, tzinfo=UTC)
PRICES = st.decimals("0.01", "200", places=2).map(str)
WHOLE = Period(date(2031, 1, 1), date(2031, 12, 31))


@st.composite
def _jobs(draw: st.DrawFn) -> list[tuple[float, str, str, str, str, str]]:
    what = st.tuples(
        st.floats(0, 9, width=16),
        PRICES,
        st.sampled_from(["", "1.00", "12.34"]),
        st.sampled_from(["", "EX-1"]),
        st.sampled_from(["invoiced", "credited", "waiting", "given up"]),
        st.sampled_from(["", "cash", "card"]),
    )
    return draw(st.lists(what, min_size=1, max_size=4))


@settings(max_examples=20, deadline=None)
@given(_jobs(), st.sampled_from(ZONES), st.integers(0, 40), st.integers(0, 20))
def test_reports_are_the_sums_of_the_rows(
    jobs: list[tuple[float, str, str, str, str, str]], zone: str, first: int, days: int
) -> None:
    with TemporaryDirectory() as folder:
        clock = Clock(START)
        shop = replace(SHOP, zone=zone, tax_rates=RATES)
        shift = open_shop(Path(folder), clock, shop)
        with closing(shift.records):
            for job in jobs:
                _do(shift, clock, *job)
            begin = date(2031, 3, 25) + timedelta(days=first)
            for period in (Period(begin, begin + timedelta(days=days)), WHOLE):
                _check(shift, period, zone)


def _do(
    shift: Shift, clock: Clock, after: float, price: str, cost: str, exempt: str, end: str, way: str
) -> None:
    clock.forward(after)
    lines = (replace(PART, unit_price=price, cost=cost), HOUR, FEE)
    if end == "waiting":
        ticket = ready(shift, *lines, exempt=exempt)
        if way:
            take_payment(shift, ticket.id, "5.00", way)
        return
    ticket = sold(shift, *lines, exempt=exempt)
    if way:
        take_payment(shift, ticket.id, str(ticket.balance), way)
        give_back(shift, ticket.id, "1.25", way)
    if end == "credited":
        clock.forward(after)
        credit_invoice(shift, ticket.id, "charged twice")
    elif end == "given up" and open_ticket(shift, ticket.id).balance > 0:
        clock.forward(after)
        write_off(shift, ticket.id, "moved away")


def _check(shift: Shift, period: Period, zone: str) -> None:
    with shift.records.reading():
        bills = [
            (bill, msgspec.json.decode(bill.content, type=InvoiceContent))
            for bill in Invoice.select()
        ]
        payments = list(Payment.select())
        debts = list(WriteOff.select())
    within = [said for bill, said in bills if local_day(bill.issued_at, zone) in period]
    _check_tax(shift, period, within)
    _check_income(shift, period, within)
    _check_margin(shift, period, within)
    paid = [one for one in payments if local_day(one.taken_at, zone) in period]
    close = day_close(shift, period)
    assert close.net == sum(one.amount for one in paid)
    assert sum(one.payments for one in close.methods) == len(paid)
    given_up = [one for one in debts if local_day(one.written_at, zone) in period]
    assert close.written_off == sum(one.amount for one in given_up)
    owed: defaultdict[int, Decimal] = defaultdict(Decimal)
    for bill, _said in bills:
        if local_day(bill.issued_at, zone) <= period.last:
            owed[bill.ticket_id] += bill.total
    for one in payments:
        if local_day(one.taken_at, zone) <= period.last:
            owed[one.ticket_id] -= one.amount
    for debt in debts:
        if local_day(debt.written_at, zone) <= period.last:
            owed[debt.ticket_id] -= debt.amount
    found = open_balances(shift, period.last)
    assert {one.ticket_id: one.balance for one in (*found.owed, *found.held)} == {
        ticket: balance for ticket, balance in owed.items() if balance
    }


def _check_tax(shift: Shift, period: Period, within: list[InvoiceContent]) -> None:
    tax = sum((said.totals.tax for said in within), Decimal(0))
    net = sum((said.totals.net for said in within), Decimal(0))
    found = tax_report(shift, period)
    assert (found.tax, found.net) == (tax, net)
    assert sum(one.tax for one in found.by_rate) == tax
    assert sum(one.net for one in found.by_rate) == net
    assert sum(one.tax for _month, sums in found.by_month for one in sums) == tax
    assert sum(one.tax for one in found.alone) == tax
    exempt = [said for said in within if said.tax_exempt_number]
    assert sum(one.net for one in found.exempt) == sum(said.totals.net for said in exempt)


def _check_income(shift: Shift, period: Period, within: list[InvoiceContent]) -> None:
    whole = income(shift, period).whole
    for kind, amount in zip(("part", "labour", "fee"), whole.by_kind, strict=False):
        assert amount == sum(row.net for said in within for row in said.rows if row.kind == kind)
    assert whole.total == sum(said.totals.total for said in within)
    assert sum(one.net for one in income(shift, period).by_month) == whole.net


def _check_margin(shift: Shift, period: Period, within: list[InvoiceContent]) -> None:
    rows = [row for said in within for row in said.rows if row.kind == "part"]
    found = margin(shift, period).by_part
    assert sum(one.sold for one in found) == sum(row.net for row in rows)
    costed = [row for row in rows if row.cost is not None]
    kept = sum(row.net - row.quantity * (row.cost or 0) for row in costed)
    assert sum(one.margin or 0 for one in found) == kept
