from dataclasses import replace
from decimal import Decimal

import pytest

from shopdesk.job.paper_content import Letterhead
from shopdesk.papers.claim_tag import draw_tag
from tests.papers.reading import bars_on, page_texts, text_of
from tests.papers.samples import COMPLAINT, SHOP_A4, TAG, WORDS


@pytest.mark.parametrize(
    "item",
    [
        "Fernhollow Small Engines",
        "14 Millrace Lane",
        "555-0142",
        "Zoë Łukaszewicz-Đặng",
        "String trimmer, Tarnbeck TB-26",
        "TB26-004417",
        COMPLAINT,
        "Crept in over a week",
        "guard, shoulder strap",
        "guard cracked at one ear",
        "Taken in Mon 8 Mar 2027",
        "Sat 13 Mar 2027",
        "up to $120.00 with tax without asking",
        "$30.00 with tax for finding the trouble",
        "You asked for the replaced parts",
        "Please bring this tag",
        "Check your local law",
        "Owner's signature",
    ],
)
def test_the_tag_says(item: str) -> None:
    assert item in text_of(draw_tag(TAG, WORDS))


@pytest.mark.parametrize("shop", [TAG.shop, SHOP_A4], ids=["letter", "A4"])
@pytest.mark.parametrize("ticket", ["T1043", "T999999", "T-2027/12 b"])
def test_both_parts_scan(shop: Letterhead, ticket: str) -> None:
    printed = draw_tag(replace(TAG, shop=shop, ticket=ticket), WORDS)
    assert bars_on(printed) == [ticket, ticket]


def test_what_is_not_agreed_is_said_plainly() -> None:
    open_tag = replace(
        TAG,
        promised=None,
        limit=None,
        diagnosis_fee=Decimal("0.00"),
        accessories="",
        old_parts_back=False,
    )
    text = text_of(draw_tag(open_tag, WORDS))
    assert "No date promised" in text
    assert "We ask you before any work" in text
    assert "You owe nothing if you decline" in text
    assert "nothing besides the machine" in text
    assert "You did not ask for the replaced parts" in text


def test_a_long_complaint_runs_on_and_the_stub_shows_its_beginning() -> None:
    words = " ".join(f"w{number}" for number in range(1700))
    printed = draw_tag(replace(TAG, complaint=words), WORDS)
    pages = page_texts(printed)
    assert len(pages) == printed.pages > 1
    assert pages[0].count("w0 w1 w2") == 2
    assert "…" in pages[0]
    text = " ".join(pages)
    assert all(f"w{number} " in text for number in range(1699))


@pytest.mark.parametrize("ticket", ["", "Tπ", "T\n1"])
def test_a_number_that_makes_no_bars_is_refused(ticket: str) -> None:
    with pytest.raises(ValueError, match="can't be printed as bars"):
        draw_tag(replace(TAG, ticket=ticket), WORDS)
