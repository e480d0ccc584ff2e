"""Invoice sums against EN 16931-1, business rules BR-CO-10 to BR-CO-17 and BR-DEC.

The figures are those of CEN's published example invoices, eInvoicing-EN16931 v1.3.16,
ubl/examples/ubl-tc434-example2, 5 and 8. Line net amounts are taken as given there, and document
level allowances and charges are entered as a discount line and a fee line.
"""

from dataclasses import dataclass
from decimal import Decimal

import pytest

from shopdesk.pricing.totals import LineKind, PricedLine, TaxBasis, TaxRate, total


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


@pytest.mark.parametrize(
    "example", [EXAMPLE_2, EXAMPLE_5, EXAMPLE_8], ids=["example 2", "example 5", "example 8"]
)
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
