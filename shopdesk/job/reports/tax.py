"""Tax: what was charged by rate and month, what was sold without, and to whom it was exempt."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import ROUND_DOWN, Decimal

from shopdesk.dates import local_day
from shopdesk.job.opened import tag_of
from shopdesk.job.reports.issued import Bill, Money, bills_in, write_offs_in
from shopdesk.job.reports.period import Period
from shopdesk.job.reports.report import Kind, Report, Row, Table, columns, summed
from shopdesk.job.shift import Shift, load_shop
from shopdesk.pricing.money import CENT
from shopdesk.pricing.totals import ZERO, TaxLine
from shopdesk.records.tables import Invoice

NAME = "tax"
BASIS = (
    "By the day of issue, as printed: invoices in the month of the invoice, credit notes in their "
    "own. Payments make no difference to it."
)
_NO_TAX, _EXEMPT = "Not taxed", "Exempt, with certificate"


@dataclass(frozen=True, slots=True)
class TaxSum:
    """What one rate (or none) came to: on invoices, and taken back by credit notes."""

    label: str
    invoiced: Decimal = ZERO
    credited: Decimal = ZERO
    """Above zero."""
    tax_invoiced: Decimal = ZERO
    tax_credited: Decimal = ZERO

    @property
    def net(self) -> Decimal:
        """What the tax is on."""
        return self.invoiced - self.credited

    @property
    def tax(self) -> Decimal:
        """The tax that is owed on it."""
        return self.tax_invoiced - self.tax_credited


@dataclass(frozen=True, slots=True)
class ExemptSale:
    """One invoice, or credit note, to an owner who is exempt, and the certificate it names."""

    on: date
    number: str
    ticket_id: int
    owner: str
    certificate: str
    net: Decimal


@dataclass(frozen=True, slots=True)
class TaxReport:
    """The tax of some days: by rate, by month and rate, by each rate alone, and without tax."""

    period: Period
    by_rate: tuple[TaxSum, ...]
    by_month: tuple[tuple[Period, tuple[TaxSum, ...]], ...]
    alone: tuple[TaxSum, ...]
    """Rates that are charged together, taken apart; empty where none are."""
    exempt: tuple[ExemptSale, ...]
    given_up: tuple[tuple[Money, Decimal], ...]
    """Debts given up, with the tax that was in each."""
    net: Decimal
    tax: Decimal
    total: Decimal


def tax_report(shift: Shift, period: Period) -> TaxReport:
    """Add up the tax of what was issued on those days."""
    with shift.records.reading():
        zone = load_shop().zone
        bills = list(bills_in(period))
        debts = write_offs_in(period, zone)
        shares = _tax_shares({debt.ticket_id for debt in debts}) if debts else {}
    months = [
        (month, _sums(bill for bill in bills if bill.said.on in month)) for month in period.parts()
    ]
    totals = [bill.said.totals for bill in bills]
    return TaxReport(
        period=period,
        by_rate=_sums(bills),
        by_month=tuple((month, sums) for month, sums in months if sums),
        alone=_alone(bills),
        exempt=tuple(_exempt_sales(bills)),
        given_up=tuple((debt, _share(debt, shares)) for debt in debts),
        net=sum((each.net for each in totals), ZERO),
        tax=sum((each.tax for each in totals), ZERO),
        total=sum((each.total for each in totals), ZERO),
    )


def shared_out(tax: Decimal, line: TaxLine) -> list[Decimal]:
    """Share a tax out among the rates that it was charged with, to the cent.

    In proportion to the rates; the cents that are left go where the most was cut off, so that the
    shares come to the whole.
    """
    sign = -1 if tax < 0 else 1
    exact = [
        abs(tax) * rate.percent / line.percent if line.percent else ZERO for rate in line.rates
    ]
    shares = [share.quantize(CENT, ROUND_DOWN) for share in exact]
    left = int((abs(tax) - sum(shares, ZERO)) / CENT)
    by_rest = sorted(range(len(shares)), key=lambda at: (shares[at] - exact[at], at))
    for at in by_rest[:left]:
        shares[at] += CENT
    return [sign * share for share in shares]


def _sums(bills: Iterable[Bill]) -> tuple[TaxSum, ...]:
    """Return a sum for each rate, in the order of their names, and what has none at the end."""
    taxed: defaultdict[str, list[_Piece]] = defaultdict(list)
    free: defaultdict[str, list[_Piece]] = defaultdict(list)
    for bill in bills:
        totals = bill.said.totals
        for line in totals.taxes:
            taxed[line.label].append(_Piece(bill.is_credit, line.base, line.tax))
        if totals.untaxed or not totals.taxes:
            label = _EXEMPT if bill.said.tax_exempt_number else _NO_TAX
            free[label].append(_Piece(bill.is_credit, totals.untaxed, ZERO))
    return tuple(_added(label, kept[label]) for kept in (taxed, free) for label in sorted(kept))


@dataclass(frozen=True, slots=True)
class _Piece:
    is_credit: bool
    net: Decimal
    tax: Decimal


def _added(label: str, pieces: Sequence[_Piece]) -> TaxSum:
    billed = [piece for piece in pieces if not piece.is_credit]
    taken_back = [piece for piece in pieces if piece.is_credit]
    return TaxSum(
        label,
        sum((piece.net for piece in billed), ZERO),
        -sum((piece.net for piece in taken_back), ZERO),
        sum((piece.tax for piece in billed), ZERO),
        -sum((piece.tax for piece in taken_back), ZERO),
    )


def _alone(bills: Sequence[Bill]) -> tuple[TaxSum, ...]:
    lines = [(bill, line) for bill in bills for line in bill.said.totals.taxes]
    if all(len(line.rates) == 1 for _bill, line in lines):
        return ()
    by_rate: defaultdict[str, list[_Piece]] = defaultdict(list)
    for bill, line in lines:
        for rate, share in zip(line.rates, shared_out(line.tax, line), strict=True):
            by_rate[rate.label].append(_Piece(bill.is_credit, line.base, share))
    return tuple(_added(label, by_rate[label]) for label in sorted(by_rate))


def _exempt_sales(bills: Iterable[Bill]) -> Iterator[ExemptSale]:
    for bill in bills:
        said = bill.said
        if said.tax_exempt_number:
            yield ExemptSale(
                said.on,
                said.number,
                bill.ticket_id,
                said.owner.name,
                said.tax_exempt_number,
                said.totals.untaxed,
            )


def _tax_shares(tickets: set[int]) -> dict[int, tuple[Decimal, Decimal]]:
    """Return for each ticket the tax and the total of all its invoices and credit notes."""
    found: dict[int, tuple[Decimal, Decimal]] = {}
    for bill in Invoice.select().where(Invoice.ticket.in_(tickets)):
        tax, whole = found.get(bill.ticket_id, (ZERO, ZERO))
        found[bill.ticket_id] = tax + bill.tax, whole + bill.total
    return found


def _share(debt: Money, shares: dict[int, tuple[Decimal, Decimal]]) -> Decimal:
    tax, whole = shares.get(debt.ticket_id, (ZERO, ZERO))
    return (debt.amount * tax / whole).quantize(CENT) if whole else ZERO


def report(shift: Shift, period: Period) -> Report:
    """Return the tax as it is shown."""
    shop, found = shift.shop, tax_report(shift, period)
    tables = [_rate_table("By rate", found.by_rate)]
    if len(found.by_month) > 1:
        tables.append(_month_table(found))
    if found.alone:
        tables.append(_rate_table("Each rate alone", found.alone))
    tables.append(_exempt_table(found.exempt))
    if found.given_up:
        tables.append(_given_up_table(found.given_up, shop.zone))
    notes = [
        "“Each rate alone” shares the tax of rates that are charged together out among them, in "
        "proportion and to the cent."
    ]
    return Report(
        name=NAME,
        title="Tax",
        period=period,
        basis=BASIS,
        tables=tuple(tables),
        notes=(*(notes if found.alone else ()), *([_GIVEN_UP] if found.given_up else ())),
        currency=shop.currency,
    )


_GIVEN_UP = (
    "Debts given up stand apart and change nothing above: whether their tax can be had back is for "
    "your tax rules to say."
)
_HEADS = (
    ("Invoiced before tax", Kind.MONEY),
    ("Credited before tax", Kind.MONEY),
    ("Net", Kind.MONEY),
    ("Tax", Kind.MONEY),
)


def _cells(one: TaxSum) -> tuple[Decimal, Decimal, Decimal, Decimal]:
    return one.invoiced, one.credited, one.net, one.tax


def _rate_table(title: str, sums: Sequence[TaxSum]) -> Table:
    rows = tuple(Row((one.label, *_cells(one))) for one in sums)
    alone = title != "By rate"
    last = (summed(rows, "All", (4,) if alone else (1, 2, 3, 4)),) if rows else ()
    return Table(title, columns("Rate", *_HEADS), (*rows, *last), _NONE)


def _month_table(found: TaxReport) -> Table:
    rows = [
        Row((month.month_words, one.label, *_cells(one)))
        for month, sums in found.by_month
        for one in sums
    ]
    last = summed(rows, "All", (2, 3, 4, 5))
    return Table("By month and rate", columns("Month", "Rate", *_HEADS), (*rows, last), _NONE)


def _exempt_table(sales: Sequence[ExemptSale]) -> Table:
    rows = tuple(
        Row((one.on, one.number, one.owner, one.certificate, one.net), ticket_id=one.ticket_id)
        for one in sales
    )
    heads = columns(
        ("Day", Kind.DAY), "Invoice", "Owner", "Certificate number", ("Net", Kind.MONEY)
    )
    last = (summed(rows, "All", (4,)),) if rows else ()
    return Table("Exempt sales", heads, (*rows, *last), "No exempt sales in these days.")


def _given_up_table(given_up: Sequence[tuple[Money, Decimal]], zone: str) -> Table:
    rows = tuple(
        Row(
            (local_day(debt.at, zone), tag_of(debt.ticket), debt.owner, debt.amount, tax),
            ticket_id=debt.ticket_id,
        )
        for debt, tax in given_up
    )
    heads = columns(
        ("Day", Kind.DAY), "Ticket", "Owner", ("Given up", Kind.MONEY), ("Tax in it", Kind.MONEY)
    )
    return Table("Debts given up", heads, (*rows, summed(rows, "All", (3, 4))))


_NONE = "Nothing was invoiced or credited in these days."
