"""What the owner pays: lines added up, tax worked out and rounded, payments taken off.

Tax follows section 324 of the Streamlined Sales and Use Tax Agreement: rates that apply to a line
are added first, the tax is rounded once, a cent going up when the third decimal is over 4, and the
shop chooses whether that happens on each line or on the invoice. On the invoice it happens once
for each combination of rates, as EN 16931-1 BR-CO-17 asks for each tax category.
"""

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass, replace
from decimal import Decimal
from enum import StrEnum

from shopdesk.pricing.money import MoneyError, exact, round_money, show_percent

ZERO = Decimal("0.00")


class LineKind(StrEnum):
    """What a priced line is for."""

    PART = "part"
    LABOUR = "labour"
    FEE = "fee"
    SUBLET = "sublet"
    DISCOUNT = "discount"


class TaxBasis(StrEnum):
    """Where tax is rounded to the cent: on each line, or once on the invoice."""

    LINE = "line"
    INVOICE = "invoice"


@dataclass(frozen=True, slots=True, order=True)
class TaxRate:
    """One authority's rate, in percent of the net amount (``Decimal("6.875")``)."""

    name: str
    percent: Decimal

    def __post_init__(self) -> None:
        """Refuse a rate that is no exact number from 0 to 100."""
        if not 0 <= exact(self.percent) <= 100:
            raise MoneyError(f"{self.name} is {self.percent}%: set a rate from 0 to 100.")

    @property
    def label(self) -> str:
        """The rate as printed: ``State 6.875%``."""
        return f"{self.name} {show_percent(self.percent)}"


@dataclass(frozen=True, slots=True)
class PricedLine:
    """One line's net amount in whole cents (below zero for a discount) and what taxes it."""

    kind: LineKind
    net: Decimal
    rates: tuple[TaxRate, ...] = ()

    def __post_init__(self) -> None:
        """Refuse a part of a cent, a discount that adds, and a rate that is named twice."""
        if round_money(self.net) != self.net:
            raise MoneyError(f"A line of {self.net} is not whole cents: round it first.")
        if self.kind is LineKind.DISCOUNT and self.net > 0:
            raise MoneyError(f"A discount of {self.net} would add to the bill: put it below zero.")
        names = [rate.name for rate in self.rates]
        if len(set(names)) < len(names):
            raise MoneyError(f"A line is taxed twice under one name: {', '.join(names)}.")


@dataclass(frozen=True, slots=True)
class TaxLine:
    """One printed row of tax: a combination of rates, what it is taken of, and what it comes to.

    `percent` is the sum of `rates`; `name` joins their names.
    """

    name: str
    percent: Decimal
    base: Decimal
    tax: Decimal
    rates: tuple[TaxRate, ...]

    @property
    def label(self) -> str:
        """The row's words: ``Sales tax 7.25%``, or ``City 1% + State 6.25% = 7.25%``."""
        parts = " + ".join(rate.label for rate in self.rates)
        return parts if len(self.rates) == 1 else f"{parts} = {show_percent(self.percent)}"


@dataclass(frozen=True, slots=True)
class Totals:
    """An estimate's or invoice's sums, in whole cents.

    `net` = parts + labour + fees + sublet + discount; `total` = net + tax; `due` = total - paid
    (below zero when the owner gets money back).
    """

    parts: Decimal
    labour: Decimal
    fees: Decimal
    sublet: Decimal
    discount: Decimal
    net: Decimal
    taxes: tuple[TaxLine, ...]
    tax: Decimal
    total: Decimal
    paid: Decimal
    due: Decimal


def line_net(quantity: Decimal, unit_price: Decimal) -> Decimal:
    """Return quantity x unit price in whole cents, half a cent going up."""
    return round_money(exact(quantity) * exact(unit_price))


def tax_on(base: Decimal, percent: Decimal) -> Decimal:
    """Return the tax on `base`, rounded once: up a cent when the third decimal is over 4."""
    return round_money(exact(base) * exact(percent) / 100)


def total(lines: Iterable[PricedLine], basis: TaxBasis, paid: Decimal = ZERO) -> Totals:
    """Add up `lines`, tax them on `basis`, and take off what was `paid`.

    The order of the lines changes nothing. A line without rates makes no tax row.
    """
    kept = tuple(lines)
    by_kind = {kind: _sum(line.net for line in kept if line.kind is kind) for kind in LineKind}
    net = _sum(by_kind.values())
    taxes = _tax_lines(kept, basis)
    tax = _sum(row.tax for row in taxes)
    paid = round_money(paid)
    return Totals(
        parts=by_kind[LineKind.PART],
        labour=by_kind[LineKind.LABOUR],
        fees=by_kind[LineKind.FEE],
        sublet=by_kind[LineKind.SUBLET],
        discount=by_kind[LineKind.DISCOUNT],
        net=net,
        taxes=taxes,
        tax=tax,
        total=net + tax,
        paid=paid,
        due=net + tax - paid,
    )


def negated(totals: Totals) -> Totals:
    """Return the sums of a credit note that takes back the whole of `totals`.

    Payments belong to the invoice, so the note's `paid` is zero and its `due` is what it gives
    back: the owner's account is the sum of both papers' `due`.
    """
    return Totals(
        parts=-totals.parts,
        labour=-totals.labour,
        fees=-totals.fees,
        sublet=-totals.sublet,
        discount=-totals.discount,
        net=-totals.net,
        taxes=tuple(replace(row, base=-row.base, tax=-row.tax) for row in totals.taxes),
        tax=-totals.tax,
        total=-totals.total,
        paid=ZERO,
        due=-totals.total,
    )


def _tax_lines(lines: tuple[PricedLine, ...], basis: TaxBasis) -> tuple[TaxLine, ...]:
    """Return one row for each combination of rates, in the order of their names."""
    nets: defaultdict[tuple[TaxRate, ...], list[Decimal]] = defaultdict(list)
    for line in lines:
        if line.rates:
            nets[tuple(sorted(line.rates))].append(line.net)
    return tuple(_tax_line(rates, nets[rates], basis) for rates in sorted(nets))


def _tax_line(rates: tuple[TaxRate, ...], nets: list[Decimal], basis: TaxBasis) -> TaxLine:
    percent = sum((rate.percent for rate in rates), Decimal(0))
    base = _sum(nets)
    by_line = basis is TaxBasis.LINE
    return TaxLine(
        name=" + ".join(rate.name for rate in rates),
        percent=percent,
        base=base,
        tax=_sum(tax_on(net, percent) for net in nets) if by_line else tax_on(base, percent),
        rates=rates,
    )


def _sum(amounts: Iterable[Decimal]) -> Decimal:
    return sum(amounts, ZERO)
