"""The lines on an estimate or invoice: what is worth something and free, what comes off, rates."""

from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import pytest

from shopdesk.job.paper_content import ChargeRow, InvoiceContent
from shopdesk.papers.invoice import draw_invoice
from shopdesk.pricing.totals import (
    LineKind,
    PricedLine,
    TaxBasis,
    TaxRate,
    TaxRule,
    negated,
    total,
)
from tests.papers.reading import text_of
from tests.papers.samples import INVOICE, WORDS, charge

VAT = TaxRate("VAT", Decimal(21))
KIT = charge("part", "Carburettor kit", "1", "18.40", condition="new", why="failed")
FREE = replace(
    charge("part", "Fuel line", "2", "0.00", condition="new", why="our comeback, no charge"),
    value=Decimal("3.25"),
)
RATED = replace(
    charge("labour", "Charging coil traced", "1", "85.00", why="failed"),
    rate="Electrical",
    off=Decimal("8.50"),
    percent=Decimal(10),
    net=Decimal("76.50"),
)
LESS = replace(
    charge("labour", "Cleaned", "1", "60.00", why="worn"), off=Decimal(5), net=Decimal("55.00")
)
CLUB = replace(charge("discount", "Club", "1", "-14.99"), percent=Decimal(10))
ROWS = (KIT, FREE, RATED, LESS, CLUB)


def invoice(rows: tuple[ChargeRow, ...], rule: TaxRule) -> InvoiceContent:
    lines = [
        PricedLine(LineKind(row.kind), row.net, shared=True)
        if row.kind == "discount"
        else PricedLine(LineKind(row.kind), row.net, (VAT,))
        for row in rows
    ]
    return replace(INVOICE, rows=rows, totals=total(lines, rule), payments=())


@pytest.mark.parametrize(
    "words",
    [
        "Why: our comeback, no charge. Worth $6.50, no charge.",
        "Charging coil traced · Electrical rate",
        "Why: failed. 10% taken off, $8.50.",
        "Why: worn. $5.00 taken off.",
        "10% of the bill.",
    ],
)
def test_a_line_says_what_its_amount_does_not(words: str) -> None:
    assert words in text_of(draw_invoice(invoice(ROWS, TaxRule(TaxBasis.INVOICE)), WORDS))


def test_the_sums_with_tax_added() -> None:
    text = text_of(draw_invoice(invoice(ROWS, TaxRule(TaxBasis.INVOICE)), WORDS))
    for words in (
        "Parts $18.40",
        "Labour $131.50",
        "Discount -$14.99",
        "Before tax $134.91",
        "VAT 21% on $134.91 $28.33",
        "Total $163.24",
    ):
        assert words in text


def test_the_sums_with_tax_within_the_prices() -> None:
    """Parts and labour stand as they are written; net and tax are told within the total."""
    text = text_of(draw_invoice(invoice(ROWS, TaxRule(TaxBasis.INVOICE, included=True)), WORDS))
    for words in (
        "Parts $18.40",
        "Labour $131.50",
        "Discount -$14.99",
        "Of that before tax $111.50",
        "and VAT 21% on $111.50 $23.41",
        "Total $134.91",
    ):
        assert words in text


def test_a_credit_note_with_tax_within_takes_back_as_it_was_written() -> None:
    billed = invoice(ROWS, TaxRule(TaxBasis.INVOICE, included=True))
    rows = tuple(replace(row, quantity=-row.quantity, net=-row.net) for row in billed.rows)
    note = replace(billed, credits="5001", rows=rows, totals=negated(billed.totals))
    text = text_of(draw_invoice(note, WORDS))
    assert "Parts -$18.40" in text
    assert "Total -$134.91" in text


def test_pictures_are_left_to_be_looked_at() -> None:
    folder = Path("test-output/papers")
    folder.mkdir(parents=True, exist_ok=True)
    for name, included in (("added", False), ("within", True)):
        drawn = draw_invoice(invoice(ROWS, TaxRule(TaxBasis.INVOICE, included)), WORDS)
        (folder / f"charges-tax-{name}.pdf").write_bytes(drawn.pdf)
        assert drawn.pages == 1
