"""An invoice is drawn in at most twice the time of a canvas page with the same text by hand."""

from io import BytesIO
from time import process_time
from typing import Any

from pypdf import PdfReader
from reportlab.pdfgen.canvas import Canvas

from shopdesk.papers.invoice import draw_invoice
from tests.papers.samples import INVOICE, WORDS

ROUNDS = 15
MOST = 2.0

Strings = list[tuple[str, float, float, float, str]]


def strings_of(pdf: bytes) -> Strings:
    """Font, size, place and text of each string on the page."""
    strings: Strings = []

    def keep(text: str, cm: list[float], tm: list[float], font: Any, size: float) -> None:
        for number, line in enumerate(text.split("\n")):
            if line.strip() and font:
                name = font["/BaseFont"].partition("+")[2]
                y = tm[5] + cm[5] - number * size * 1.3
                strings.append((name, size, tm[4] + cm[4], y, line))

    PdfReader(BytesIO(pdf)).pages[0].extract_text(visitor_text=keep)
    return strings


def draw_by_hand(strings: Strings) -> bytes:
    """The same strings put straight on a canvas: nothing is wrapped, measured or worked out."""
    out = BytesIO()
    canvas = Canvas(out, pagesize=(612, 792), invariant=1, pageCompression=1)
    for font, size, x, y, text in strings:
        canvas.setFont(font, size)
        canvas.drawString(x, y, text)
    canvas.save()
    return out.getvalue()


def seconds(call: Any, *arguments: Any) -> float:
    """Processor time: what else runs on the machine does not count."""
    start = process_time()
    call(*arguments)
    return process_time() - start


def words_of(pdf: bytes) -> list[str]:
    return sorted(PdfReader(BytesIO(pdf)).pages[0].extract_text().split())


def test_an_invoice_against_the_same_page_by_hand() -> None:
    invoice = draw_invoice(INVOICE, WORDS)
    assert invoice.pages == 1
    strings = strings_of(invoice.pdf)
    assert words_of(draw_by_hand(strings)) == words_of(invoice.pdf)
    pairs = [
        (seconds(draw_invoice, INVOICE, WORDS), seconds(draw_by_hand, strings))
        for _ in range(ROUNDS)
    ]
    ours, by_hand = (min(times) for times in zip(*pairs, strict=True))
    ratio = ours / by_hand
    print(f"\ninvoice {ours * 1e3:.1f} ms, by hand {by_hand * 1e3:.1f} ms, ratio {ratio:.2f}")
    assert ratio <= MOST
