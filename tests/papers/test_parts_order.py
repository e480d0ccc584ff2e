"""An order to a supplier on paper: to whom, what, and what it comes to."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest

from shopdesk.job.paper_content import Letterhead, PartsOrderContent, PartsOrderRow
from shopdesk.papers.parts_order import draw_parts_order
from tests.papers.reading import letters_outside, page_texts, text_of
from tests.papers.samples import SHOP, SHOP_A4, WORDS

FILTER = PartsOrderRow(
    number="FF-10",
    supplier_number="N-771",
    name="Fuel filter",
    condition="new",
    packs=Decimal(2),
    pack=Decimal(10),
    cost=Decimal("15.00"),
    total=Decimal("30.00"),
    tickets=("T1003", "T1009"),
)
USED = replace(FILTER, name="Carburettor", condition="rebuilt", tickets=())
CONTENT = PartsOrderContent(
    shop=SHOP,
    number="P12",
    on=date(2031, 4, 7),
    placed=True,
    supplier="Northbank Parts",
    phone="555-0177",
    email="orders@northbank.example.com",
    account="F-88",
    rows=(FILTER, USED),
    goods=Decimal("60.00"),
    postage=Decimal("8.50"),
    note="Ask for Ida",
)


@pytest.mark.parametrize(
    "words",
    [
        "Order P12 Mon 7 Apr 2031",
        "Northbank Parts 555-0177 · orders@northbank.example.com",
        "Our number with you F-88",
        "Note Ask for Ida",
        "Fuel filter ours FF-10 · for T1003, T1009 N-771 2 10 $15.00 $30.00",
        "Carburettor ours FF-10 · rebuilt",
        "Goods $60.00 Postage $8.50 Together $68.50",
    ],
)
def test_the_order_says(words: str) -> None:
    assert words in text_of(draw_parts_order(CONTENT, WORDS))


def test_an_order_that_has_not_gone_out_says_so() -> None:
    assert "has not gone out" not in text_of(draw_parts_order(CONTENT, WORDS))
    text = text_of(draw_parts_order(replace(CONTENT, placed=False), WORDS))
    assert "Being written: this order has not gone out yet." in text


@pytest.mark.parametrize("shop", [SHOP, SHOP_A4], ids=["letter", "A4"])
def test_a_long_order_keeps_its_heads_and_its_sums_together(shop: Letterhead) -> None:
    for many in (40, 41, 42, 43):
        rows = tuple(replace(FILTER, name=f"Part {place}. {'<i> ' * 30}") for place in range(many))
        printed = draw_parts_order(replace(CONTENT, shop=shop, rows=rows), WORDS)
        pages = page_texts(printed)
        assert all("Your number" in page for page in pages)
        assert f"Part {many - 1}." in pages[-1]
        assert "Together" in pages[-1]
        assert letters_outside(printed, 28) == []
