"""The postcard about upkeep: short, whole, its lowest strip free."""

import re
from dataclasses import replace
from io import BytesIO

import pypdfium2 as pdfium
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pypdf import PdfReader

from shopdesk.job.due_content import UpkeepMessage
from shopdesk.job.paper_content import Letterhead
from shopdesk.papers.postcard import CODE_ROOM, EDGE, draw_postcard
from shopdesk.papers.printed import Printed
from tests.papers.reading import text_of
from tests.papers.samples import OWNER, SHOP, SHOP_A4, WORDS
from tests.papers.upkeep_samples import AGAIN, ONE, SAW_DUE, THREE

each_shop = pytest.mark.parametrize("shop", [SHOP, SHOP_A4], ids=["letter", "A4"])


def boxes(printed: Printed) -> list[tuple[float, float, float, float]]:
    text = pdfium.PdfDocument(printed.pdf)[0].get_textpage()
    found = (text.get_charbox(index) for index in range(text.count_chars()))
    return [box for box in found if box[2] > box[0]]


@pytest.mark.parametrize(
    ("content", "items"),
    [
        (
            THREE,
            [
                "Upkeep is due",
                "Due about Wed 1 Mar 2028:",
                "String trimmer, Tarnbeck TB-26 Clean the air filter; Run it dry",
                "Sharpen the chain and set the depth gauges",
                "Room on the bench: week of Mon 6 Mar 2028.",
                "Call 555-0142",
                "Zoë Łukaszewicz-Đặng 7 Orchard Row Fernhollow",
            ],
        ),
        (AGAIN, ["Upkeep: a second word", "We wrote some weeks ago"]),
    ],
    ids=["three", "again"],
)
def test_the_card_says(content: UpkeepMessage, items: list[str]) -> None:
    text = text_of(draw_postcard(content, WORDS))
    for item in items:
        assert item in text


@pytest.mark.parametrize(
    ("shop", "size"),
    [(SHOP, (432, 306)), (SHOP_A4, (round(148 / 25.4 * 72), round(105 / 25.4 * 72)))],
    ids=["6 x 4 1/4 in", "A6"],
)
def test_it_has_the_size_of_a_card(shop: Letterhead, size: tuple[int, int]) -> None:
    page = PdfReader(BytesIO(draw_postcard(replace(ONE, shop=shop), WORDS).pdf)).pages[0]
    assert (round(page.mediabox.width), round(page.mediabox.height)) == size


@each_shop
def test_what_there_is_no_room_for_is_counted(shop: Letterhead) -> None:
    rows = tuple(replace(SAW_DUE.rows[0], title=f"Task number {at}") for at in range(30))
    many = replace(THREE, shop=shop, machines=(replace(SAW_DUE, rows=rows),) * 4)
    text = text_of(draw_postcard(many, WORDS))
    assert text.count("Chain saw, Osmarrow OS 40") == 4
    assert len(re.findall(r"Task number \d; and 2\d more", text)) == 4
    crowd = replace(many, machines=many.machines * 5)
    said = text_of(draw_postcard(crowd, WORDS))
    assert "Call 555-0142" in said
    assert "more" in said


@each_shop
@settings(max_examples=25, deadline=None)
@given(
    name=st.text(max_size=300),
    lines=st.lists(st.text(min_size=1, max_size=120), max_size=9),
    machines=st.integers(1, 12),
    tasks=st.integers(1, 20),
)
def test_everything_stays_on_the_card_and_the_strip_for_the_code_stays_free(
    shop: Letterhead, name: str, lines: list[str], machines: int, tasks: int
) -> None:
    owner = replace(OWNER, name=name, address=tuple(lines))
    one = replace(SAW_DUE, rows=SAW_DUE.rows[:1] * tasks)
    content = replace(ONE, shop=shop, owner=owner, machines=(one,) * machines)
    printed = draw_postcard(content, WORDS)
    width, height = pdfium.PdfDocument(printed.pdf)[0].get_size()
    for left, low, right, high in boxes(printed):
        assert left >= EDGE - 1
        assert right <= width - EDGE + 1
        assert low >= CODE_ROOM - 1
        assert high <= height - EDGE + 1


def test_another_paper_size_is_refused() -> None:
    with pytest.raises(ValueError, match="choose letter or A4"):
        draw_postcard(replace(ONE, shop=replace(SHOP, paper="legal")), WORDS)
