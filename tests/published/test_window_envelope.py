"""The letters about upkeep, many in one file: each address where a window envelope shows it.

A4: DIN 5008, form B (as told at din-5008-richtlinien.de, "Anschriftenfeld", and gruendung.de): the
field is 85 mm wide and 45 mm high, 20 mm from the left edge and 45 mm from the top; its upper
17.7 mm hold the sender, the 27.3 mm below, from 62.7 mm on, the address in at least 8 pt; sheets
are folded at 105 and 210 mm (form B).
Letter: the US No. 10 envelope, 4 1/8 x 9 1/2 in, window 1 1/8 x 4 1/2 in, 7/8 in from the left and
1/2 in from the bottom (common practice, no published source). What is inserted may slide to its
full limits and the address must still be seen whole (USPS Domestic Mail Manual, the insert in a
window envelope; from memory).
"""

from dataclasses import replace
from pathlib import Path

import pypdfium2 as pdfium
import pytest

from shopdesk.job.paper_content import Letterhead
from shopdesk.papers.upkeep_post import UpkeepPost
from tests.papers.samples import OWNER, SHOP, SHOP_A4, WORDS
from tests.papers.test_upkeep_post import MADE
from tests.papers.upkeep_samples import ONE, THREE

MM = 72 / 25.4
INCH = 72.0
ADDRESSES = (
    ("Zoë Łukaszewicz-Đặng", ("7 Orchard Row", "Fernhollow")),
    ("Q" * 60, tuple("Q" * 120 for _ in range(6))),
    ("Mara Quill", ("c/o Brightwater", "Flat 3", "14 Millrace Lane", "Fernhollow", "FH 04417")),
)

Rectangle = tuple[float, float, float, float]
"""Left, right, top and bottom, in points from the sheet's upper left corner."""


def letters_in(pdf: bytes) -> list[list[tuple[str, Rectangle]]]:
    """Each letter with its box, by page."""
    pages = []
    for page in pdfium.PdfDocument(pdf):
        height = page.get_size()[1]
        text = page.get_textpage()
        boxes = (
            (text.get_text_range(index, 1), text.get_charbox(index))
            for index in range(text.count_chars())
        )
        pages.append(
            [
                (char, (left, right, height - high, height - low))
                for char, (left, low, right, high) in boxes
                if char.strip()
            ]
        )
    return pages


def head_of(page: list[tuple[str, Rectangle]], zone: Rectangle) -> str:
    """The letters whose middle lies in a zone."""
    left, right, top, bottom = zone
    return "".join(
        char
        for char, (x, to_x, y, to_y) in page
        if left <= (x + to_x) / 2 <= right and top <= (y + to_y) / 2 <= bottom
    )


def batch(paper: str, folder: Path) -> list[list[tuple[str, Rectangle]]]:
    shop = SHOP_A4 if paper == "A4" else SHOP
    post = UpkeepPost(WORDS, folder)
    for number, (name, address) in enumerate(ADDRESSES):
        owner = replace(OWNER, name=name, address=address)
        content = replace(THREE if number else ONE, shop=shop, owner=owner)
        post.add(content, "letter", number, MADE)
    pages = letters_in(post.letters.printed("Letters").pdf)
    return [page for page in pages if "Page1of" in "".join(char for char, _ in page)]


ENVELOPE = (9.5 * INCH, 4.125 * INCH)
WINDOW = (7 / 8 * INCH, (7 / 8 + 4.5) * INCH, (4.125 - 0.5 - 1.125) * INCH, (4.125 - 0.5) * INCH)
SHEET_WIDTH, FOLD = 8.5 * INCH, 3.875 * INCH


def seen_wherever_it_slides() -> Rectangle:
    """What of a folded letter sheet the window shows in each of its places in the envelope."""
    left, right, top, bottom = WINDOW
    aside, down = ENVELOPE[0] - SHEET_WIDTH, ENVELOPE[1] - FOLD
    return left, right - aside, top, bottom - down


ZONES = {"A4": (20 * MM, 105 * MM, 62.7 * MM, 90 * MM), "letter": seen_wherever_it_slides()}


@pytest.mark.parametrize("paper", ["A4", "letter"])
def test_each_address_of_the_batch_stands_whole_in_its_window(paper: str, tmp_path: Path) -> None:
    firsts = batch(paper, tmp_path)
    assert len(firsts) == len(ADDRESSES)
    for page, (name, address) in zip(firsts, ADDRESSES, strict=True):
        shown = head_of(page, ZONES[paper])
        wanted = "".join((name, *address)).replace(" ", "")
        assert shown.endswith(wanted)


def test_the_senders_line_stands_in_the_upper_zone_of_the_field(tmp_path: Path) -> None:
    for page in batch("A4", tmp_path):
        upper = head_of(page, (20 * MM, 105 * MM, 45 * MM, 62.7 * MM))
        assert upper == "FernhollowSmallEngines·14MillraceLane·Fernhollow"


@pytest.mark.parametrize(
    ("shop", "folds"),
    [(SHOP_A4, [105 * MM, 210 * MM]), (SHOP, [FOLD, 2 * FOLD])],
    ids=["A4", "letter"],
)
def test_the_sheet_is_marked_where_it_is_folded(
    shop: Letterhead, folds: list[float], tmp_path: Path
) -> None:
    post = UpkeepPost(WORDS, tmp_path)
    post.add(replace(ONE, shop=shop), "letter", 1, MADE)
    page = pdfium.PdfDocument(post.letters.printed("").pdf)[0]
    height = page.get_size()[1]
    paths = page.get_objects(filter=[pdfium.raw.FPDF_PAGEOBJ_PATH])
    bounds = [thing.get_bounds() for thing in paths]
    marks = [height - (low + high) / 2 for left, low, right, high in bounds if right < 20]
    assert sorted(marks) == pytest.approx(folds, abs=0.5)
