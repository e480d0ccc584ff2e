"""Reads drawn papers back: their text, their letters' places, their bars."""

import re
from io import BytesIO

import pypdfium2 as pdfium
import zxingcpp
from pypdf import PdfReader

from shopdesk.papers.printed import Printed


def page_texts(printed: Printed) -> list[str]:
    """The text of each page, white space folded."""
    reader = PdfReader(BytesIO(printed.pdf))
    return [re.sub(r"\s+", " ", page.extract_text()) for page in reader.pages]


def text_of(printed: Printed) -> str:
    """The text of all pages, white space folded."""
    return " ".join(page_texts(printed))


def bars_on(printed: Printed, page: int = 0) -> list[str]:
    """What a scanner reads from the page as printed at 200 dots per inch."""
    picture = pdfium.PdfDocument(printed.pdf)[page].render(scale=200 / 72).to_pil().convert("L")
    found = zxingcpp.read_barcodes(picture)
    return [code.text for code in found if code.format == zxingcpp.BarcodeFormat.Code128]


def picture_shapes(printed: Printed) -> list[tuple[float, float]]:
    """Width and height, as printed, of each picture from the top left on."""
    bounds = [
        thing.get_bounds()
        for page in pdfium.PdfDocument(printed.pdf)
        for thing in page.get_objects(filter=[pdfium.raw.FPDF_PAGEOBJ_IMAGE])
    ]
    return [(right - left, top - low) for left, low, right, top in bounds]


def letters_outside(printed: Printed, margin: float) -> list[tuple[int, str]]:
    """Page and letter of each that comes nearer than `margin` points to an edge."""
    outside = []
    for number, page in enumerate(pdfium.PdfDocument(printed.pdf), 1):
        width, height = page.get_size()
        text = page.get_textpage()
        for index in range(text.count_chars()):
            left, low, right, high = text.get_charbox(index)
            inside = (
                left >= margin
                and low >= margin
                and right <= width - margin
                and high <= height - margin
            )
            if right > left and not inside:
                outside.append((number, text.get_text_range(index, 1)))
    return outside
