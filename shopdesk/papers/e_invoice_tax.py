"""What EN 16931 calls a row's VAT category, and the breakdown of an invoice by category.

The standard knows one tax, VAT, with a category and a rate: standard (S), zero rated (Z), exempt
with its reason (E), outside its scope (O, which allows no other beside it and no VAT number of the
seller). A sales tax goes in as a rate of its own, the sum of the authorities' rates; the standard
has no place to say which authority gets what.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from shopdesk.job.invoices.e_invoicing import is_vat_number
from shopdesk.job.paper_content import ChargeRow, InvoiceContent
from shopdesk.pricing.totals import ZERO, TaxRate

STANDARD, ZERO_RATED, EXEMPT, OUTSIDE = "S", "Z", "E", "O"


@dataclass(frozen=True, slots=True)
class Category:
    """A VAT category with its rate in percent; ``reason`` says why nothing is taxed."""

    code: str
    percent: Decimal
    reason: str = ""


@dataclass(frozen=True, slots=True)
class Breakdown:
    """The sums of one category: what its lines come to after ``allowance``, and its tax."""

    category: Category
    base: Decimal
    tax: Decimal
    allowance: Decimal


def breakdowns(content: InvoiceContent, sign: int) -> tuple[Breakdown, ...]:
    """Return one breakdown for each category, in the order in which the paper names them.

    ``sign`` is -1 for a credit note, whose amounts stand above zero in the XML. Two combinations
    that come to the same rate are one category.
    """
    totals = content.totals
    found: dict[Category, Breakdown] = {}
    for row in totals.taxes:
        category = category_of(row.rates, content)
        before = found.get(category, Breakdown(category, ZERO, ZERO, ZERO))
        found[category] = Breakdown(
            category,
            before.base + sign * row.base,
            before.tax + sign * row.tax,
            before.allowance + sign * row.allowance,
        )
    if not found or any(not rates_of(row, content) for row in lines_of(content)):
        category = category_of((), content)
        base, allowance = sign * totals.untaxed, sign * totals.untaxed_allowance
        found[category] = Breakdown(category, base, ZERO, allowance)
    return tuple(found.values())


def category_of(rates: Sequence[TaxRate], content: InvoiceContent) -> Category:
    """Return the category of what is taxed at these rates together."""
    percent = sum((rate.percent for rate in rates), Decimal(0))
    if rates:
        return Category(STANDARD if percent else ZERO_RATED, percent)
    if content.tax_exempt_number:
        reason = f"Exempt from tax: certificate number {content.tax_exempt_number}"
        return Category(EXEMPT, Decimal(0), reason)
    if content.totals.taxes or is_vat_number(content.shop.tax_number, content.country):
        return Category(EXEMPT, Decimal(0), "No tax is charged on this")
    return Category(OUTSIDE, Decimal(0), "Not subject to tax")


def rates_of(row: ChargeRow, content: InvoiceContent) -> tuple[TaxRate, ...]:
    """Return what taxes a row."""
    return tuple(sorted(row.rates))


def lines_of(content: InvoiceContent) -> tuple[ChargeRow, ...]:
    """Return the rows that are lines in the XML.

    A discount on the whole bill is none: it is an allowance of each category that it falls on.
    What is allowed afterwards, on a credit note, is a line of that note.
    """
    return tuple(
        row for row in content.rows if row.kind != "discount" or (content.credits and row.net < 0)
    )
