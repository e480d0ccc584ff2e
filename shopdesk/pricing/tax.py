"""Tax on priced lines: added to the price or within it, rounded on each line or on the invoice.

Tax follows section 324 of the Streamlined Sales and Use Tax Agreement: rates that apply to a line
are added first, the tax is rounded once, a cent going up when the third decimal is over 4, and the
shop chooses whether that happens on each line or on the invoice. On the invoice it happens once
for each combination of rates, as EN 16931-1 BR-CO-17 asks for each tax category.

A discount on the whole bill is shared out over the combinations in proportion to what their lines
come to (an allowance at document level in EN 16931-1), and where tax is rounded on each line, over
the lines.

Where prices have their tax in them it is worked out of what is paid: price x rate / (100 + rate).
Net and tax then add up to the price as it was written; the tax may differ by a cent from the
rounded net's, for not every price in cents is a net in cents with its tax.
"""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

from shopdesk.pricing.money import MoneyError, exact, round_money, show_percent
from shopdesk.pricing.sharing import share_out, to_cents

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
    """One line's amount as written, in whole cents (below zero for a discount), and its taxes.

    `shared`: a discount on the whole bill, which is taxed as what it is taken off.
    """

    kind: LineKind
    net: Decimal
    rates: tuple[TaxRate, ...] = ()
    shared: bool = False

    def __post_init__(self) -> None:
        """Refuse a part of a cent, a discount that adds, and a rate that is named twice."""
        if round_money(self.net) != self.net:
            raise MoneyError(f"A line of {self.net} is not whole cents: round it first.")
        if self.kind is LineKind.DISCOUNT and self.net > 0:
            raise MoneyError(f"A discount of {self.net} would add to the bill: put it below zero.")
        if self.shared and (self.kind is not LineKind.DISCOUNT or self.rates):
            raise MoneyError("Only a discount without rates of its own is shared over the bill.")
        names = [rate.name for rate in self.rates]
        if len(set(names)) < len(names):
            raise MoneyError(f"A line is taxed twice under one name: {', '.join(names)}.")


def tax_on(base: Decimal, percent: Decimal) -> Decimal:
    """Return the tax on `base`, rounded once: up a cent when the third decimal is over 4."""
    return round_money(exact(base) * exact(percent) / 100)


def tax_within(price: Decimal, percent: Decimal) -> Decimal:
    """Return the tax that is within `price`, rounded once, half a cent going up."""
    return round_money(exact(price) * exact(percent) / (100 + percent))


@dataclass(frozen=True, slots=True)
class TaxRule:
    """How the shop taxes: where it rounds, and whether prices are written with their tax."""

    basis: TaxBasis
    included: bool = False

    def tax(self, amount: Decimal, percent: Decimal) -> Decimal:
        """Return the tax on (or within) one amount as written."""
        return (tax_within if self.included else tax_on)(amount, percent)


@dataclass(frozen=True, slots=True)
class Taxed:
    """The lines of one combination of rates (or of none), taxed. `nets` and `given` are before tax.

    `given` is their share of the bill's discounts, zero or more.
    """

    rates: tuple[TaxRate, ...]
    percent: Decimal
    lines: tuple[PricedLine, ...]
    nets: tuple[Decimal, ...]
    given: Decimal
    tax: Decimal

    @property
    def base(self) -> Decimal:
        """What the tax is taken on."""
        return _sum(self.nets) - self.given

    @property
    def allowance(self) -> Decimal:
        """All discounts in it: those shared over the bill and those with these rates alone."""
        own = [
            net
            for line, net in zip(self.lines, self.nets, strict=True)
            if line.kind is LineKind.DISCOUNT
        ]
        return self.given - _sum(own)


def taxed(lines: Sequence[PricedLine], rule: TaxRule) -> tuple[Taxed, ...]:
    """Return the lines by combination of rates, those without any first, taxed by `rule`."""
    groups: defaultdict[tuple[TaxRate, ...], list[PricedLine]] = defaultdict(list)
    for line in lines:
        if not line.shared:
            groups[tuple(sorted(line.rates))].append(line)
    discount = -_sum([line.net for line in lines if line.shared])
    if discount and not groups:
        groups[()] = []
    for group in groups.values():
        group.sort(key=lambda line: (line.kind, -line.net))
    keys = sorted(groups)
    sums = [max(_sum([line.net for line in groups[key]]), ZERO) for key in keys]
    shares = share_out(discount, sums)
    return tuple(
        _taxed(key, groups[key], share, rule) for key, share in zip(keys, shares, strict=True)
    )


def _taxed(
    rates: tuple[TaxRate, ...], lines: list[PricedLine], share: Decimal, rule: TaxRule
) -> Taxed:
    percent = sum((rate.percent for rate in rates), Decimal(0))
    written = [line.net for line in lines]
    amounts = [_sum(written) - share]
    if rule.basis is TaxBasis.LINE and lines:
        amounts = _less(written, share)
    tax = _sum([rule.tax(amount, percent) for amount in amounts])
    before = [*written, -share]
    if rule.included and percent:
        exacts = [amount * 100 / (100 + percent) for amount in before]
        before = list(to_cents(exacts, _sum(before) - tax))
    return Taxed(rates, percent, tuple(lines), tuple(before[:-1]), -before[-1] + ZERO, tax)


def _less(written: list[Decimal], share: Decimal) -> list[Decimal]:
    """Return each amount less its part of `share`."""
    parts = share_out(share, [max(amount, ZERO) for amount in written])
    return [amount - part for amount, part in zip(written, parts, strict=True)]


def _sum(amounts: Sequence[Decimal]) -> Decimal:
    return sum(amounts, ZERO)
