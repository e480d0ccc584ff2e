"""Invoice sums against EN 16931-1, business rules BR-CO-10 to BR-CO-17 and BR-DEC.

The figures are those of CEN's published example invoices, eInvoicing-EN16931 v1.3.16,
ubl/examples/ubl-tc434-example2, 5 and 8. Line net amounts are taken as given there, and document
level allowances and charges are entered as a discount line and a fee line. A discount on the whole
bill is an allowance in each of its categories (BR-CO-11 sums them); what falls on which is worked
out here in exact fractions.
"""

from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

import pytest

from shopdesk.pricing.before_tax import before_tax
from shopdesk.pricing.totals import LineKind, PricedLine, TaxBasis, TaxRate, TaxRule, total


@dataclass(frozen=True)
class Published:
    """One example: its lines and document allowances as (net, VAT percent), and its sums."""

    lines: list[tuple[str, str]]
    allowances: list[tuple[str, str]]
    charges: list[tuple[str, str]]
    by_category: dict[str, tuple[str, str]]
    sums: tuple[str, str, str, str, str]


EXAMPLE_2 = Published(
    lines=[("1273.00", "25"), ("-3.96", "15"), ("4.96", "15"), ("-25.00", "0"), ("187.50", "25")],
    allowances=[("-100.00", "25")],
    charges=[("100.00", "25")],
    by_category={"0": ("-25.00", "0.00"), "15": ("1.00", "0.15"), "25": ("1460.50", "365.13")},
    sums=("1436.50", "365.28", "1801.78", "1000.00", "801.78"),
)
EXAMPLE_5 = Published(
    lines=[("1000.00", "25"), ("500.00", "25"), ("2500.00", "12")],
    allowances=[("-150.00", "25")],
    charges=[("150.00", "25")],
    by_category={"12": ("2500.00", "300.00"), "25": ("1500.00", "375.00")},
    sums=("4000.00", "675.00", "4675.00", "2337.50", "2337.50"),
)
EXAMPLE_8 = Published(
    lines=[
        (net, "21")
        for net in (
            *("140.80", "16.16", "167.64", "88.74", "36.75"),
            *("56.50", "83.34", "190.31", "64.21", "64.46"),
        )
    ],
    allowances=[],
    charges=[],
    by_category={"21": ("908.91", "190.87")},
    sums=("908.91", "190.87", "1099.78", "0.00", "1099.78"),
)


def priced(kind: LineKind, rows: list[tuple[str, str]]) -> list[PricedLine]:
    return [PricedLine(kind, Decimal(net), (TaxRate("VAT", Decimal(vat)),)) for net, vat in rows]


EXAMPLES = pytest.mark.parametrize(
    "example", [EXAMPLE_2, EXAMPLE_5, EXAMPLE_8], ids=["example 2", "example 5", "example 8"]
)


@EXAMPLES
def test_a_published_invoice_comes_out_to_the_cent(example: Published) -> None:
    totals = total(
        priced(LineKind.PART, example.lines)
        + priced(LineKind.DISCOUNT, example.allowances)
        + priced(LineKind.FEE, example.charges),
        TaxBasis.INVOICE,
        paid=Decimal(example.sums[3]),
    )
    assert (
        *(str(amount) for amount in (totals.net, totals.tax, totals.total)),
        *(str(amount) for amount in (totals.paid, totals.due)),
    ) == example.sums
    rows = {str(row.percent): (str(row.base), str(row.tax)) for row in totals.taxes}
    assert rows == example.by_category
    assert totals.parts == sum(Decimal(net) for net, _ in example.lines)
    allowances = {row.percent: row.allowance for row in totals.taxes if row.allowance}
    assert allowances == {Decimal(vat): -Decimal(net) for net, vat in example.allowances}


@pytest.mark.parametrize("discount", ["100.00", "0.01", "33.33", "333.33"])
@EXAMPLES
def test_a_discount_on_the_whole_of_it_is_an_allowance_in_each_category(
    example: Published, discount: str
) -> None:
    """BR-CO-11, 13, 15, 17 and BR-S-8: to the cent, and within a cent of the exact share."""
    lines = [
        line
        for line in priced(LineKind.PART, example.lines) + priced(LineKind.FEE, example.charges)
        if line.net > 0
    ]
    off = PricedLine(LineKind.DISCOUNT, -Decimal(discount), shared=True)
    totals = total([*lines, off], TaxBasis.INVOICE)
    whole = sum(line.net for line in lines)
    assert sum(row.allowance for row in totals.taxes) == Decimal(discount)
    assert totals.net == whole - Decimal(discount)
    for row in totals.taxes:
        own = sum(line.net for line in lines if line.rates == row.rates)
        assert row.base == own - row.allowance
        assert row.tax == hundredths(Fraction(row.base) * Fraction(row.percent) / 100)
        exact = Fraction(discount) * Fraction(own) / Fraction(whole)
        assert abs(Fraction(row.allowance) - exact) < Fraction(1, 100)
    assert totals.total == totals.net + sum(row.tax for row in totals.taxes)


@EXAMPLES
def test_the_same_invoice_with_its_tax_in_the_prices_comes_to_the_same(example: Published) -> None:
    """The published sums, from prices with VAT: base and tax by category to the cent."""
    nets = priced(LineKind.PART, example.lines + example.charges)
    nets += priced(LineKind.DISCOUNT, example.allowances)
    sums: dict[str, Decimal] = {}
    for line in nets:
        percent = f"{line.rates[0].percent}"
        sums[percent] = sums.get(percent, Decimal(0)) + line.net
    written = [
        PricedLine(LineKind.PART, hundredths(Fraction(net) * (100 + int(percent)) / 100), rate)
        for percent, net in sums.items()
        for rate in [(TaxRate("VAT", Decimal(percent)),)]
    ]
    totals = total(written, TaxRule(TaxBasis.INVOICE, included=True))
    assert (f"{totals.net}", f"{totals.tax}", f"{totals.total}") == example.sums[:3]
    rows = {str(row.percent): (str(row.base), str(row.tax)) for row in totals.taxes}
    assert rows == example.by_category
    assert sum(before_tax(written, TaxRule(TaxBasis.INVOICE, included=True))) == totals.net


def hundredths(exact: Fraction) -> Decimal:
    """Return an exact amount in cents, half a cent going up."""
    cents = int(abs(exact) * 100 + Fraction(1, 2))
    return Decimal(cents if exact >= 0 else -cents).scaleb(-2)
