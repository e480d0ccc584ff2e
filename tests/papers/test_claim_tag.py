from dataclasses import replace
from decimal import Decimal

import pytest

from shopdesk.job.paper_content import Letterhead
from shopdesk.papers.claim_tag import draw_tag
from tests.papers.reading import bars_on, letters_outside, page_texts, text_of
from tests.papers.samples import COMPLAINT, OWNER, SHOP_A4, TAG, WORDS


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


WORDY = " ".join(f"w{number}" for number in range(2000))[:10_000]
CUT = "… (the whole is on the ticket)"
each_size = pytest.mark.parametrize("shop", [TAG.shop, SHOP_A4], ids=["letter", "A4"])


@each_size
def test_a_long_complaint_is_cut_and_the_ticket_has_the_whole(shop: Letterhead) -> None:
    printed = draw_tag(replace(TAG, shop=shop, complaint=WORDY), WORDS)
    (page,) = page_texts(printed)
    assert page.count("w0 w1 w2") == 2
    beginning = page[: page.index(CUT)].rpartition("w0 w1")[2]
    assert 420 <= len(beginning) <= 600
    assert "Owner's signature" in page
    assert bars_on(printed) == ["T1043", "T1043"]


@each_size
@pytest.mark.parametrize(
    "typed",
    [WORDY, "line\n" * 2000, "W" * 10_000, "Щ" * 10_000, "🙂" * 10_000, "<b>&amp; " * 1100],
    ids=["words", "lines", "one word", "wide letters", "no letters", "markup"],
)
def test_the_tag_is_one_page_however_much_was_typed(shop: Letterhead, typed: str) -> None:
    line = " ".join(typed[:200].split())
    owner = replace(OWNER, name=line, address=tuple(typed.splitlines()), email=line)
    machine = replace(TAG.machine, title=line * 3, serial=line)
    content = replace(TAG, shop=shop, complaint=typed, accessories=typed, condition=typed)
    printed = draw_tag(replace(content, onset=typed, owner=owner, machine=machine), WORDS)
    (page,) = page_texts(printed)
    assert CUT in page
    assert "Owner's signature" in page
    assert letters_outside(printed, 28) == []


def test_a_complaint_of_some_length_stands_whole() -> None:
    told = (COMPLAINT + " ") * 7
    text = text_of(draw_tag(replace(TAG, complaint=told[:590]), WORDS))
    assert CUT not in text
    assert told[:590] in text


@pytest.mark.parametrize("ticket", ["", "Tπ", "T\n1"])
def test_a_number_that_makes_no_bars_is_refused(ticket: str) -> None:
    with pytest.raises(ValueError, match="can't be printed as bars"):
        draw_tag(replace(TAG, ticket=ticket), WORDS)
