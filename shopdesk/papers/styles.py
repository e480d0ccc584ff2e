"""How the papers look: colours that hold in grey print, sizes, and distances in points."""

from reportlab.lib.colors import HexColor
from reportlab.lib.enums import TA_RIGHT
from reportlab.lib.pagesizes import A4, LETTER
from reportlab.lib.styles import ParagraphStyle
from reportlab.lib.units import mm

from shopdesk.papers.fonts import BOLD, ITALIC, MEDIUM, REGULAR

INK = HexColor(0x1C2022)
SOFT = HexColor(0x3F4648)
ACCENT = HexColor(0x1F5145)
RULE = HexColor(0xB4BDB8)
TINT = HexColor(0xEDF1EE)

SIDE = 18 * mm
TOP = 14 * mm
FOOT = 17 * mm
LABEL = 35 * mm
WHEN = 30 * mm
HAIR = 0.5

BODY = ParagraphStyle(
    "body", fontName=REGULAR, fontSize=10, leading=13.3, textColor=INK, spaceAfter=4
)
SMALL = ParagraphStyle("small", BODY, fontSize=9, leading=11.5, textColor=SOFT, spaceAfter=0)
CELL = ParagraphStyle("cell", BODY, fontSize=9.5, leading=12.3, spaceAfter=0)
CELL_STRONG = ParagraphStyle("cell strong", CELL, fontName=MEDIUM)
CELL_RIGHT = ParagraphStyle("cell right", CELL, alignment=TA_RIGHT)
CELL_HEAD = ParagraphStyle("cell head", SMALL, fontName=MEDIUM, textColor=ACCENT)
LABELLED = ParagraphStyle(
    "labelled",
    BODY,
    spaceAfter=3.5,
    leftIndent=LABEL,
    bulletFontName=MEDIUM,
    bulletFontSize=9,
    bulletColor=ACCENT,
)
PROMISE = ParagraphStyle("promise", LABELLED, fontSize=9.5, leading=12.3, spaceAfter=3)
QUOTED = ParagraphStyle("quoted", LABELLED, fontName=ITALIC)
STRONG = ParagraphStyle("strong", BODY, fontName=MEDIUM)
FIRST = ParagraphStyle("first", STRONG, spaceBefore=3)
TITLE = ParagraphStyle(
    "title", BODY, fontName=MEDIUM, fontSize=19, leading=23, textColor=INK, spaceAfter=0
)
TITLE_SIDE = ParagraphStyle("title side", SMALL, alignment=TA_RIGHT, leading=12)
SECTION = ParagraphStyle(
    "section",
    BODY,
    fontName=MEDIUM,
    fontSize=11.5,
    leading=15,
    textColor=ACCENT,
    spaceBefore=11,
    spaceAfter=4,
)
SUBSECTION = ParagraphStyle("subsection", STRONG, textColor=SOFT, spaceBefore=6, spaceAfter=3)
LEAD = ParagraphStyle("lead", BODY, textColor=SOFT, spaceAfter=5)
LISTED_HEAD = ParagraphStyle("listed head", STRONG, spaceAfter=1)
LISTED = ParagraphStyle("listed", BODY, leftIndent=13.5, spaceAfter=3)
WHEN_HEAD = ParagraphStyle("when head", LABELLED, leftIndent=WHEN, fontName=MEDIUM, spaceAfter=1)
WHEN_TEXT = ParagraphStyle("when text", BODY, leftIndent=WHEN, spaceAfter=1)
WHEN_SMALL = ParagraphStyle("when small", SMALL, leftIndent=WHEN, spaceAfter=6)
TERM = ParagraphStyle("term", SMALL, leftIndent=10, firstLineIndent=-10, spaceAfter=1.5)
ITALIC_STUB = ParagraphStyle("stub complaint", BODY, fontName=ITALIC, fontSize=10.5, leading=13.5)
SHOP_NAME = ParagraphStyle(
    "shop name", BODY, fontName=BOLD, fontSize=14, leading=17, textColor=ACCENT, spaceAfter=1
)

BENCH = ParagraphStyle("bench", BODY, fontSize=12, leading=15.5, spaceAfter=0)
BENCH_SMALL = ParagraphStyle("bench small", BENCH, fontSize=10.5, leading=13.5, textColor=SOFT)
BENCH_QUOTED = ParagraphStyle("bench quoted", BENCH, fontName=ITALIC, spaceBefore=6, spaceAfter=6)
BENCH_HEAD = ParagraphStyle("bench head", BENCH, fontName=MEDIUM, fontSize=14, leading=18)
BENCH_TITLE = ParagraphStyle("bench title", BENCH, fontName=BOLD, fontSize=19, leading=24)
BENCH_SECTION = ParagraphStyle(
    "bench section", SECTION, fontSize=16, leading=20, spaceBefore=14, spaceAfter=5
)

CARD = ParagraphStyle("card", BODY, fontSize=9, leading=10.8, spaceAfter=0)
CARD_STRONG = ParagraphStyle("card strong", CARD, fontName=MEDIUM)
CARD_TITLE = ParagraphStyle("card title", CARD, fontName=BOLD, fontSize=12, leading=15)

_SIZES = {"letter": LETTER, "a4": A4}


def page_size(paper: str) -> tuple[float, float]:
    """Return width and height in points of ``letter`` or ``A4``.

    Raises:
        ValueError: any other size.
    """
    size = _SIZES.get(paper.casefold())
    if size is None:
        raise ValueError(f"“{paper}” is no paper size we print on: choose letter or A4.")
    return size
