"""The letters on the papers: one family, carried inside each file, and what it can print."""

from functools import cache
from importlib.resources import files
from pathlib import Path

from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont

REGULAR = "Roboto-Regular"
MEDIUM = "Roboto-Medium"
ITALIC = "Roboto-Italic"
BOLD = "Roboto-Bold"


@cache
def load_fonts() -> frozenset[int]:
    """Make the four faces known to ReportLab, once, and return the code points that all can print.

    Latin with its extensions, Greek, Cyrillic and Vietnamese are covered. Scripts written from
    right to left, and those that join or stack letters, are not.
    """
    folder = Path(str(files("font_roboto"))) / "files"
    covered: set[int] | None = None
    for name in (REGULAR, MEDIUM, ITALIC, BOLD):
        font = TTFont(name, folder / f"{name}.ttf")
        pdfmetrics.registerFont(font)
        points = set(font.face.charToGlyph)
        covered = points if covered is None else covered & points
    return frozenset(covered or ())


def text_width(text: str, font: str, size: float) -> float:
    """Return the width of `text` in points."""
    return pdfmetrics.stringWidth(text, font, size)


def shortened(text: str, font: str, size: float, width: float) -> str:
    """Return `text` if it fits into `width` points, else its beginning and an ellipsis."""
    if text_width(text, font, size) <= width:
        return text
    low, high = 0, len(text)
    while low < high:
        middle = (low + high + 1) // 2
        fits = text_width(text[:middle].rstrip() + "…", font, size) <= width
        low, high = (middle, high) if fits else (low, middle - 1)
    return text[:low].rstrip() + "…"
