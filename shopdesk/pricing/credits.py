"""What a credit note takes back: some lines of an invoice, or an amount, never more than is left.

All amounts here are above zero, as on the invoice; the note itself is the negative of them. A line
takes its share of the bill's discounts with it. Tax is worked out anew on what is taken back of
each combination of rates, as EN 16931-1 BR-CO-17 asks of every document, but what completes an
invoice takes exactly the rest of its tax, so that invoice and notes come to nothing.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from decimal import ROUND_HALF_UP, Decimal

from shopdesk.pricing.money import CENT, MoneyError, round_money
from shopdesk.pricing.sharing import share_out
from shopdesk.pricing.tax import ZERO, LineKind, TaxRate, tax_on
from shopdesk.pricing.totals import TaxLine, Totals

Rates = tuple[TaxRate, ...]
_KINDS = {
    LineKind.PART: "parts",
    LineKind.LABOUR: "labour",
    LineKind.FEE: "fees",
    LineKind.SUBLET: "sublet",
}


@dataclass(frozen=True, slots=True)
class Returned:
    """A line, or part of one, that is taken back: its net before tax, and the tax within it.

    ``tax`` is what its price held where prices are written with their tax, else ``None``.
    """

    kind: LineKind
    net: Decimal
    rates: Rates
    tax: Decimal | None = None


@dataclass(frozen=True, slots=True)
class Share:
    """What is taken back at one combination of rates: ``base`` before its tax."""

    rates: Rates
    base: Decimal
    tax: Decimal


def left_of(invoice: Totals, notes: Iterable[Totals]) -> Totals:
    """Return what is left of an invoice after its credit notes, whose sums are below zero."""
    left = invoice
    for note in notes:
        taken = {row.rates: row for row in note.taxes}
        left = replace(
            left,
            **{
                name: getattr(left, name) + getattr(note, name)
                for name in (*_KINDS.values(), "discount", "net", "tax", "total")
            },
            untaxed_allowance=left.untaxed_allowance + note.untaxed_allowance,
            taxes=tuple(_less(row, taken.get(row.rates)) for row in left.taxes),
        )
    return replace(left, paid=ZERO, due=left.total)


def lines_returned(lines: Sequence[Returned], left: Totals) -> Totals:
    """Return the sums of a credit note over ``lines``, of what is ``left`` of the invoice.

    Raises:
        MoneyError: at some combination of rates less is left than the lines come to.
    """
    groups = [_group(rates, lines, left) for rates in _all_rates(left)]
    discount = sum((row.allowance for row in groups), ZERO)
    sums = {
        name: sum((line.net for line in lines if line.kind is kind), ZERO)
        for kind, name in _KINDS.items()
    }
    return _totals(left, groups, sums, -discount)


def amount_returned(amount: Decimal, left: Totals) -> tuple[Totals, tuple[Share, ...]]:
    """Return the sums of a credit note over ``amount`` with tax, and how it falls on the rates.

    Raises:
        MoneyError: more than is left; or no net with its tax comes to the amount.
    """
    if amount > left.total:
        raise MoneyError(f"Only {left.total:,.2f} is left of this invoice: credit that or less.")
    rows = [row for row in _rows(left) if row.base + row.tax > 0]
    parts = share_out(amount, [row.base + row.tax for row in rows])
    shares, over = [], ZERO
    for row, part in zip(rows, parts, strict=True):
        share = _share(row, part + over, left.included)
        over += part - share.base - share.tax
        shares.append(share)
    if over:
        lower, higher = amount - over, amount + CENT
        raise MoneyError(
            f"With its tax that can't come to exactly {amount:,.2f}: "
            f"type {lower:,.2f} or {higher:,.2f}."
        )
    kept = tuple(share for share in shares if share.base or share.tax)
    groups = [TaxLine(*_named(share.rates), share.base, share.tax, share.rates) for share in kept]
    discount = sum((share.base for share in kept), ZERO)
    return _totals(left, groups, {}, discount), kept


def rest_returned(lines: Iterable[Returned], left: Totals) -> Totals:
    """Return the sums of the note that takes back all that is ``left``, ``lines`` among it.

    What the lines come to over it stands as allowance: discounts, and what was allowed before.
    """
    nets = dict.fromkeys(_all_rates(left), ZERO)
    for line in lines:
        nets[tuple(sorted(line.rates))] += line.net
    rows = (replace(row, allowance=nets[row.rates] - row.base) for row in left.taxes)
    taxes = tuple(row for row in rows if row.base or row.tax or row.allowance)
    return replace(left, taxes=taxes, untaxed_allowance=nets[()] - left.untaxed)


def _group(rates: Rates, lines: Sequence[Returned], left: Totals) -> TaxLine:
    row = next(row for row in _rows(left) if row.rates == rates)
    chosen = [line for line in lines if tuple(sorted(line.rates)) == rates]
    net = sum((line.net for line in chosen), ZERO)
    reach = row.base + row.allowance
    if net > reach:
        raise MoneyError(
            f"These lines come to {net:,.2f}, but only {reach:,.2f} of what is taxed alike is "
            "left: credit less, or the rest of the invoice."
        )
    share = round_money(row.allowance * net / reach) if reach else ZERO
    base = net - share
    tax = tax_on(base, row.percent)
    if not share and all(line.tax is not None for line in chosen):
        tax = sum((line.tax or ZERO for line in chosen), ZERO)
    tax = row.tax if base == row.base else min(tax, row.tax)
    return replace(row, base=base, tax=tax, allowance=share)


def _share(row: TaxLine, amount: Decimal, included: bool) -> Share:
    """Return the part of ``amount`` that a net at these rates can come to with its tax."""
    if amount >= row.base + row.tax:
        return Share(row.rates, row.base, row.tax)
    exact = amount * 100 / (100 + row.percent)
    base = exact.quantize(CENT, ROUND_HALF_UP)
    if included:
        return Share(row.rates, base, amount - base)
    while base + tax_on(base, row.percent) > amount:
        base -= CENT
    return Share(row.rates, base, tax_on(base, row.percent))


def _rows(left: Totals) -> tuple[TaxLine, ...]:
    """Return what is left by combination of rates; what is not taxed comes last.

    It can come to any amount, and so takes the cent that no net elsewhere comes to.
    """
    untaxed = TaxLine("", Decimal(0), left.untaxed, ZERO, (), left.untaxed_allowance)
    return (*left.taxes, untaxed)


def _all_rates(left: Totals) -> tuple[Rates, ...]:
    return tuple(row.rates for row in _rows(left))


def _totals(
    left: Totals, groups: Iterable[TaxLine], sums: dict[str, Decimal], discount: Decimal
) -> Totals:
    rows = [row for row in groups if row.base or row.tax or row.allowance]
    net = sum((row.base for row in rows), ZERO)
    tax = sum((row.tax for row in rows), ZERO)
    return Totals(
        **(dict.fromkeys(_KINDS.values(), ZERO) | sums),
        discount=discount + ZERO,
        net=net,
        taxes=tuple(row for row in rows if row.rates),
        tax=tax,
        total=net + tax,
        paid=ZERO,
        due=net + tax,
        included=left.included,
        untaxed_allowance=sum((row.allowance for row in rows if not row.rates), ZERO),
    )


def _less(row: TaxLine, note: TaxLine | None) -> TaxLine:
    if note is None:
        return row
    return replace(
        row,
        base=row.base + note.base,
        tax=row.tax + note.tax,
        allowance=row.allowance + note.allowance,
    )


def _named(rates: Rates) -> tuple[str, Decimal]:
    percent = sum((rate.percent for rate in rates), Decimal(0))
    return " + ".join(rate.name for rate in rates), percent
