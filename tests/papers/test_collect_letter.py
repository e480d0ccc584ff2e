"""The letters about a machine that is not fetched."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest

from shopdesk.job.paper_content import CollectContent, Letterhead
from shopdesk.papers.collect_letter import draw_collect_letter
from tests.papers.reading import letters_outside, text_of
from tests.papers.samples import MACHINE, OWNER, SHOP, SHOP_A4, WORDS

FIRST = CollectContent(
    shop=SHOP,
    owner=OWNER,
    machine=MACHINE,
    ticket="T1043",
    on=date(2027, 5, 3),
    step=1,
    ready_since=date(2027, 4, 12),
    owed=Decimal("84.67"),
    storage=Decimal("0.00"),
    storage_words="nothing yet: the first 30 days are free",
    storage_per_day=Decimal("2.00"),
    storage_from=date(2027, 5, 13),
    fetch_by=date(2027, 5, 17),
)
LAST = replace(
    FIRST, step=3, storage=Decimal("24.00"), storage_words="12 days × $2.00, after the first 30"
)


@pytest.mark.parametrize(
    ("content", "items"),
    [
        (
            FIRST,
            [
                "Your machine is ready",
                "Your string trimmer, Tarnbeck TB-26 (ticket T1043) has been ready since",
                "Mon 12 Apr 2027",
                "Still to pay for the work: $84.67.",
                "from Thu 13 May 2027 on we charge $2.00 a day",
                "Please fetch it when it suits you",
                "The law may give you more rights",
            ],
        ),
        (
            LAST,
            [
                "Last notice: please fetch your machine",
                "This is our last letter about it",
                "$24.00 (12 days × $2.00, after the first 30; no tax is added)",
                "Please fetch it by Mon 17 May 2027",
                "as the law of our place allows",
            ],
        ),
    ],
    ids=["first", "last"],
)
def test_the_letter_says(content: CollectContent, items: list[str]) -> None:
    text = text_of(draw_collect_letter(content, WORDS))
    for item in items:
        assert item in text


def test_a_shop_without_storage_says_nothing_of_it() -> None:
    free = replace(LAST, storage=Decimal("0.00"), storage_per_day=Decimal("0.00"))
    assert "storage" not in text_of(draw_collect_letter(free, WORDS)).casefold()


@pytest.mark.parametrize(
    ("tax", "settled", "words"),
    [
        ("0.00", "0.00", "$24.00 (12 days × $2.00, after the first 30; no tax is added)"),
        ("1.92", "0.00", "$25.92 with tax (12 days × $2.00, after the first 30, and $1.92 tax)"),
        ("1.92", "21.60", "grows by $2.00 a day before tax. Of the storage so far, $21.60"),
    ],
)
def test_storage_says_whether_it_is_with_tax(tax: str, settled: str, words: str) -> None:
    content = replace(LAST, storage_tax=Decimal(tax), storage_settled=Decimal(settled))
    assert words in text_of(draw_collect_letter(content, WORDS))


def test_what_is_paid_is_said() -> None:
    paid = replace(FIRST, owed=Decimal("0.00"))
    assert "There is nothing left to pay" in text_of(draw_collect_letter(paid, WORDS))


@pytest.mark.parametrize("shop", [SHOP, SHOP_A4], ids=["letter", "A4"])
def test_it_is_one_sheet_for_the_window(shop: Letterhead) -> None:
    content = replace(LAST, shop=shop)
    printed = draw_collect_letter(content, WORDS)
    assert printed.pages == 1
    assert letters_outside(printed, 28) == []
    assert "Zoë Łukaszewicz-Đặng" in text_of(printed)
