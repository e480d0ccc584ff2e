"""Income: what was invoiced for parts, labour, fees and work done by others, month by month."""

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from shopdesk.job.reports.issued import Bill, bills_in
from shopdesk.job.reports.period import Period
from shopdesk.job.reports.report import (
    Bar,
    Bars,
    Kind,
    Picture,
    Report,
    Row,
    Strip,
    Strips,
    Table,
    columns,
    percent_of,
    summed,
)
from shopdesk.job.shift import Shift
from shopdesk.pricing.money import show_money, show_percent
from shopdesk.pricing.totals import ZERO

NAME = "income"
BASIS = "By the day of issue, before tax; a credit note takes away in its own month."
_KINDS = ("Parts", "Labour", "Fees", "Work done by others", "Discounts")


@dataclass(frozen=True, slots=True)
class IncomeSum:
    """What some days brought, before tax; ``discount`` is below zero."""

    period: Period
    parts: Decimal
    labour: Decimal
    fees: Decimal
    sublet: Decimal
    discount: Decimal
    net: Decimal
    tax: Decimal
    total: Decimal

    @property
    def by_kind(self) -> tuple[Decimal, ...]:
        """The amounts that add up to ``net``, in the order of the report's columns."""
        return self.parts, self.labour, self.fees, self.sublet, self.discount


@dataclass(frozen=True, slots=True)
class Income:
    """The income of some days, by month (by year of many) and as a whole."""

    by_month: tuple[IncomeSum, ...]
    whole: IncomeSum


def income(shift: Shift, period: Period) -> Income:
    """Add up what was issued on those days."""
    with shift.records.reading():
        bills = list(bills_in(period))
    months = (
        _sum(month, (bill for bill in bills if bill.said.on in month)) for month in period.parts()
    )
    return Income(tuple(months), _sum(period, bills))


def _sum(period: Period, bills: Iterable[Bill]) -> IncomeSum:
    totals = [bill.said.totals for bill in bills]
    return IncomeSum(
        period,
        sum((each.parts for each in totals), ZERO),
        sum((each.labour for each in totals), ZERO),
        sum((each.fees for each in totals), ZERO),
        sum((each.sublet for each in totals), ZERO),
        sum((each.discount for each in totals), ZERO),
        sum((each.net for each in totals), ZERO),
        sum((each.tax for each in totals), ZERO),
        sum((each.total for each in totals), ZERO),
    )


def report(shift: Shift, period: Period) -> Report:
    """Return the income as it is shown."""
    shop, found = shift.shop, income(shift, period)
    return Report(
        name=NAME,
        title="Income",
        period=period,
        basis=BASIS,
        tables=(_table(found),),
        pictures=tuple(_pictures(found, shop.currency)),
        currency=shop.currency,
    )


def _table(found: Income) -> Table:
    rows = tuple(
        Row((one.period.month_words, *one.by_kind, one.net, one.tax, one.total))
        for one in found.by_month
    )
    heads = [(title, Kind.MONEY) for title in (*_KINDS, "Net", "Tax", "Total")]
    return Table(
        "By month",
        columns("Month", *heads),
        (*rows, summed(rows, "All", range(1, len(heads) + 1))),
    )


def _pictures(found: Income, currency: str) -> Iterable[Picture]:
    seen = [place for place in range(len(_KINDS)) if found.whole.by_kind[place]]
    if not seen:
        return
    if len(found.by_month) > 1:
        yield Strips(
            "Month by month, before tax",
            tuple(one.period.month_words for one in found.by_month),
            (
                *(
                    Strip(_KINDS[place], tuple(one.by_kind[place] for one in found.by_month))
                    for place in seen
                ),
                Strip("Net", tuple(one.net for one in found.by_month)),
            ),
        )
    bars = []
    for place in seen:
        amount = found.whole.by_kind[place]
        share = percent_of(amount, found.whole.net)
        words = show_money(amount, currency)
        words += f", {show_percent(share)} of the net" if share is not None else ""
        bars.append(Bar(_KINDS[place], amount, words))
    yield Bars("What it was for", tuple(bars))
