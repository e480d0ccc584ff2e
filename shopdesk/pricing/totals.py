"""What the owner pays: lines added up, their tax, payments taken off.

How tax is worked out is told in `shopdesk.pricing.tax`.
"""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from decimal import Decimal

from shopdesk.pricing.money import exact, round_money, show_percent
from shopdesk.pricing.tax import (
    ZERO,
    LineKind,
    PricedLine,
    TaxBasis,
    Taxed,
    TaxRate,
    TaxRule,
    tax_on,
    taxed,
)

__all__ = [
    "ZERO",
    "LineKind",
    "PricedLine",
    "TaxBasis",
    "TaxLine",
    "TaxRate",
    "TaxRule",
    "Totals",
    "line_net",
    "negated",
    "tax_on",
    "total",
]


@dataclass(frozen=True, slots=True)
class TaxLine:
    """One printed row of tax: a combination of rates, what it is taken of, and what it comes to.

    `percent` is the sum of `rates`; `name` joins their names. `allowance` is what the bill's
    discounts took off this combination, zero or more: its lines come to `base` + `allowance`.
    """

    name: str
    percent: Decimal
    base: Decimal
    tax: Decimal
    rates: tuple[TaxRate, ...]
    allowance: Decimal = ZERO

    @property
    def label(self) -> str:
        """The row's words: ``Sales tax 7.25%``, or ``City 1% + State 6.25% = 7.25%``."""
        parts = " + ".join(rate.label for rate in self.rates)
        return parts if len(self.rates) == 1 else f"{parts} = {show_percent(self.percent)}"


@dataclass(frozen=True, slots=True)
class Totals:
    """An estimate's or invoice's sums, in whole cents; all of them before tax but those named so.

    `net` = parts + labour + fees + sublet + discount; `total` = net + tax; `due` = total - paid
    (below zero when the owner gets money back). `included`: prices were written with their tax.
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
    included: bool = False
    untaxed_allowance: Decimal = ZERO
    """What the bill's discounts took off what is not taxed, zero or more."""

    @property
    def untaxed(self) -> Decimal:
        """What no tax is taken on."""
        return self.net - _sum(row.base for row in self.taxes)


def line_net(quantity: Decimal, unit_price: Decimal) -> Decimal:
    """Return quantity x unit price in whole cents, half a cent going up."""
    return round_money(exact(quantity) * exact(unit_price))


def total(lines: Iterable[PricedLine], rule: TaxRule | TaxBasis, paid: Decimal = ZERO) -> Totals:
    """Add up `lines`, tax them by `rule`, and take off what was `paid`.

    A basis alone is the rule that adds tax to prices, rounded there. The order of the lines changes
    nothing. A line without rates makes no tax row.
    """
    rule = TaxRule(rule) if isinstance(rule, TaxBasis) else rule
    groups = taxed(tuple(lines), rule)
    by_kind = _by_kind(groups)
    net = _sum(by_kind.values())
    tax = _sum(group.tax for group in groups)
    paid = round_money(paid)
    return Totals(
        parts=by_kind[LineKind.PART],
        labour=by_kind[LineKind.LABOUR],
        fees=by_kind[LineKind.FEE],
        sublet=by_kind[LineKind.SUBLET],
        discount=by_kind[LineKind.DISCOUNT],
        net=net,
        taxes=tuple(_tax_line(group) for group in groups if group.rates),
        tax=tax,
        total=net + tax,
        paid=paid,
        due=net + tax - paid,
        included=rule.included,
        untaxed_allowance=_sum(group.allowance for group in groups if not group.rates),
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
        taxes=tuple(
            replace(row, base=-row.base, tax=-row.tax, allowance=-row.allowance)
            for row in totals.taxes
        ),
        tax=-totals.tax,
        total=-totals.total,
        paid=ZERO,
        due=-totals.total,
        included=totals.included,
        untaxed_allowance=-totals.untaxed_allowance,
    )


def _by_kind(groups: Iterable[Taxed]) -> dict[LineKind, Decimal]:
    """Return what the lines of each kind come to before tax; discounts are below zero."""
    sums = dict.fromkeys(LineKind, ZERO)
    for group in groups:
        for line, net in zip(group.lines, group.nets, strict=True):
            sums[line.kind] += net
        sums[LineKind.DISCOUNT] -= group.given
    return sums


def _tax_line(group: Taxed) -> TaxLine:
    return TaxLine(
        name=" + ".join(rate.name for rate in group.rates),
        percent=group.percent,
        base=group.base,
        tax=group.tax,
        rates=group.rates,
        allowance=group.allowance,
    )


def _sum(amounts: Iterable[Decimal]) -> Decimal:
    return sum(amounts, ZERO)
