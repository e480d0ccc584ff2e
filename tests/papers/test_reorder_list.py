"""The reorder list on paper: by supplier, with sums, over pages, whatever is typed."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest

from shopdesk.job.paper_content import Letterhead, ReorderContent, ReorderPaperRow
from shopdesk.papers.reorder_list import draw_reorder_list
from tests.papers.reading import letters_outside, page_texts, text_of
from tests.papers.samples import SHOP, SHOP_A4, WORDS

FILTER = ReorderPaperRow(
    number="FF-10",
    name="Fuel filter",
    bin="C4",
    free=Decimal(2),
    on_order=Decimal(3),
    packs=Decimal(6),
    pack=Decimal(1),
    supplier="Northbank Parts",
    supplier_number="N-771",
    cost=Decimal("14.40"),
)
PLUG = replace(
    FILTER, number="SP-6Y", name="Spark plug", packs=Decimal(2), pack=Decimal(4),
    cost=Decimal("24.80"),
)  # fmt: skip
LINE = replace(
    FILTER, name="Fuel line", packs=Decimal(1), pack=Decimal(25), supplier="Dellow & Sons",
    cost=Decimal("9.00"),
)  # fmt: skip
BRACKET = replace(FILTER, name="Odd bracket", supplier="", supplier_number="", cost=None)
CONTENT = ReorderContent(SHOP, date(2031, 4, 7), (BRACKET, LINE, FILTER, PLUG))


@pytest.mark.parametrize(
    "words",
    [
        "Reorder list Mon 7 Apr 2031",
        "Nobody offers these",
        "Odd bracket FF-10",
        "Dellow & Sons",
        "1 pack of 25 $9.00",
        "Fuel filter FF-10 · theirs N-771 C4 2 3 6 $14.40",
        "2 packs of 4 $24.80",
        "Without postage $39.20",
        "Together $48.20, without postage",
    ],
)
def test_the_list_says(words: str) -> None:
    assert words in text_of(draw_reorder_list(CONTENT, WORDS))


def test_an_empty_list_says_so() -> None:
    text = text_of(draw_reorder_list(replace(CONTENT, rows=()), WORDS))
    assert "Nothing runs low." in text
    assert "Together" not in text


@pytest.mark.parametrize("shop", [SHOP, SHOP_A4], ids=["letter", "A4"])
def test_a_long_list_keeps_its_heads_and_stays_on_the_page(shop: Letterhead) -> None:
    rows = tuple(
        replace(FILTER, name=f"Part {place}. " + "long <b>name " * 9, supplier_number="W" * 90)
        for place in range(60)
    )
    printed = draw_reorder_list(replace(CONTENT, shop=shop, rows=rows), WORDS)
    pages = page_texts(printed)
    assert len(pages) > 1
    assert all("To order" in page for page in pages)
    assert all(f"Part {place}." in " ".join(pages) for place in range(60))
    assert letters_outside(printed, 28) == []
