from dataclasses import replace

import pypdfium2 as pdfium
import pytest

from shopdesk.job.paper_content import Letterhead
from shopdesk.papers.reminder import draw_reminder
from tests.papers.reading import text_of
from tests.papers.samples import OWNER, REMINDER, SHOP, SHOP_A4, WORDS

MM = 72 / 25.4


@pytest.mark.parametrize(
    "item",
    [
        "Zoë Łukaszewicz-Đặng",
        "7 Orchard Row",
        "Upkeep for your string trimmer, Tarnbeck TB-26 falls due about Mon 20 Mar 2028",
        "on the bench on Sat 13 Mar 2027",
        "You can do these yourself",
        "Thu 15 Jun 2028 Clean the air filter",
        "Why then: before storage, every year",
        "Better left to us",
        "Caution: Fuel only when the engine is off",
        "manual for your machine, local codes and licensed practice come first",
        "Call 555-0142",
    ],
)
def test_the_letter_says(item: str) -> None:
    assert item in text_of(draw_reminder(REMINDER, WORDS))


@pytest.mark.parametrize(
    ("title", "words"),
    [("UTV, Tarnbeck", "your UTV, Tarnbeck falls"), ("Saw", "your saw falls"), ("", "your falls")],
)
def test_a_machine_within_a_sentence_begins_small_unless_it_is_initials(
    title: str, words: str
) -> None:
    machine = replace(REMINDER.machine, title=title)
    assert words in text_of(draw_reminder(replace(REMINDER, machine=machine), WORDS))


def test_a_first_reminder_names_no_last_visit() -> None:
    text = text_of(draw_reminder(replace(REMINDER, last_visit=None), WORDS))
    assert "on the bench" not in text


@pytest.mark.parametrize(
    ("shop", "left", "right", "top", "bottom"),
    [
        # DIN 5008 form B: the address zone of the window.
        (SHOP_A4, 20 * MM, 105 * MM, 62.7 * MM, 90 * MM),
        # No. 10 envelope with a window (common practice, no published source), the sheet folded
        # at 3 7/8 in: what stays in sight however it slides.
        (SHOP, 0.875 * 72, 4.375 * 72, 2.5 * 72, 3.375 * 72),
    ],
    ids=["A4", "letter"],
)
def test_the_address_shows_in_the_window(
    shop: Letterhead, left: float, right: float, top: float, bottom: float
) -> None:
    owner = replace(OWNER, name="Q" * 30, address=tuple("Q" * 90 for _ in range(4)))
    printed = draw_reminder(replace(REMINDER, shop=shop, owner=owner), WORDS)
    page = pdfium.PdfDocument(printed.pdf)[0]
    height = page.get_size()[1]
    text = page.get_textpage()
    boxes = [
        text.get_charbox(index)
        for index in range(text.count_chars())
        if text.get_text_range(index, 1) == "Q"
    ]
    in_head = [box for box in boxes if box[1] > height - 98 * MM]
    assert len(in_head) == 30 + 4 * 90
    assert min(box[0] for box in in_head) >= left
    assert max(box[2] for box in in_head) <= right
    assert height - max(box[3] for box in in_head) >= top
    assert height - min(box[1] for box in in_head) <= bottom
