"""Reports on paper: all of it said, on letter and A4, and legible in grey."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

import pypdfium2 as pdfium
import pytest

from shopdesk.job.csv_out import Cell
from shopdesk.job.paper_content import Letterhead
from shopdesk.job.reports.period import Period
from shopdesk.job.reports.report import (
    Bar,
    Bars,
    Kind,
    Report,
    Row,
    Strip,
    Strips,
    Table,
    columns,
    summed,
)
from shopdesk.papers.report import draw_report
from tests.papers.reading import letters_outside, page_texts, text_of
from tests.papers.samples import SHOP, SHOP_A4, WORDS

MADE = date(2031, 5, 2)
ROWS = tuple(
    Row((f"Owner {at} Łukaszewicz", date(2031, 4, 7), Decimal(at), Decimal("-12.50")))
    for at in range(3)
)
HEADS = columns("Owner", ("Invoiced", Kind.DAY), ("Days", Kind.COUNT), ("Owed", Kind.MONEY))
OWED = Table("Whom to call", HEADS, (*ROWS, summed(ROWS, "All", (3,))))
EMPTY = Table("Exempt sales", columns("Owner"), (), "No exempt sales in these days.")
PICTURES = (
    Bars(
        "By age", (Bar("0 to 30 days", Decimal(30), "$30.00"), Bar("Back", Decimal(-5), "-$5.00"))
    ),
    Strips("By month", ("Apr 2031", "May 2031"), (Strip("Parts", (Decimal(40), Decimal(-3))),)),
)
REPORT = Report(
    name="open-balances",
    title="Open balances",
    period=Period(date(2031, 4, 1), date(2031, 4, 30)),
    basis="By the day of issue.",
    tables=(OWED, EMPTY),
    pictures=PICTURES,
    notes=("One cost is not known.",),
)


@pytest.mark.parametrize("shop", [SHOP, SHOP_A4], ids=["letter", "A4"])
@pytest.mark.parametrize(
    "item",
    [
        "Open balances",
        "Tue 1 Apr 2031 to Wed 30 Apr 2031",
        "Made on Fri 2 May 2031",
        "By the day of issue. Amounts in",
        "One cost is not known.",
        "Whom to call",
        "Owner 2 Łukaszewicz Mon 7 Apr 2031 2 -12.50",
        "All -37.50",
        "No exempt sales in these days.",
        "By age",
        "0 to 30 days",
        "Apr 2031",
    ],
)
def test_the_paper_says(shop: Letterhead, item: str) -> None:
    assert item in text_of(draw_report(REPORT, shop, WORDS, MADE))


@pytest.mark.parametrize("shop", [SHOP, SHOP_A4], ids=["letter", "A4"])
def test_long_tables_go_over_pages_with_their_heads_and_stay_on_them(shop: Letterhead) -> None:
    wide: tuple[Cell, ...] = ("Wrenmoor Agricultural Society " * 4, "T1043", "x" * 300)
    rows = tuple(Row((*wide, date(2031, 4, 7), *[Decimal("9999999.99")] * 6)) for _ in range(90))
    heads = columns(
        *("Owner", "Ticket", "Note", ("Day", Kind.DAY)),
        *((f"Work done by others {at}", Kind.MONEY) for at in range(6)),
    )
    printed = draw_report(replace(REPORT, tables=(Table("Long", heads, rows),)), shop, WORDS)
    assert printed.pages > 3
    assert all("Ticket" in text for text in page_texts(printed)[1:])
    assert letters_outside(printed, 15) == []


def test_a_short_table_is_not_torn() -> None:
    tables = tuple(replace(OWED, title=f"Table {at}") for at in range(12))
    printed = draw_report(replace(REPORT, tables=tables), SHOP, WORDS)
    for text in page_texts(printed):
        assert text.count("Table") == text.count("All -37.50")


def test_the_same_report_gives_the_same_bytes() -> None:
    assert draw_report(REPORT, SHOP, WORDS, MADE) == draw_report(REPORT, SHOP, WORDS, MADE)


def test_hostile_words_print_as_they_stand() -> None:
    bad = Bar("<b>&amp;\x07", Decimal(1), "<img src='x'/> \N{SLIGHTLY SMILING FACE}")
    table = Table("<i>", columns("<u>"), (Row(("<a href='file:///'>x</a>",)),))
    printed = draw_report(
        replace(REPORT, pictures=(Bars("<p>", (bad,)),), tables=(table,)), SHOP, WORDS
    )
    text = text_of(printed)
    for words in ("<b>&amp;", "<img src='x'/> [U+1F642]", "<a href='file:///'>x</a>", "<u>"):
        assert words in text
    assert printed.missing == ("\N{SLIGHTLY SMILING FACE}",)


def test_bars_are_dark_on_a_grey_copy() -> None:
    printed = draw_report(replace(REPORT, tables=()), SHOP, WORDS)
    picture = pdfium.PdfDocument(printed.pdf)[0].render(scale=1).to_pil().convert("L")
    shades = picture.histogram()
    bar = sum(shades[40:90])
    assert bar > 2_000, "the bars' ink, in grey"
