from io import BytesIO

import pypdfium2 as pdfium
import pytest
from pypdf import PdfReader
from reportlab.platypus import Paragraph, SimpleDocTemplate

from shopdesk.papers import marks, styles
from shopdesk.papers.fonts import load_fonts

ALL = (
    marks.box,
    marks.ticked_box,
    marks.good,
    marks.bad,
    marks.borderline,
    marks.noted,
    marks.caution,
)


def drawn(mark: marks.Mark, words: str) -> bytes:
    load_fonts()
    out = BytesIO()
    SimpleDocTemplate(out, invariant=1).build(
        [marks.Marked(mark, Paragraph(words, styles.BODY))],
    )
    return out.getvalue()


@pytest.mark.parametrize("mark", ALL, ids=lambda mark: mark.__name__)
def test_a_mark_is_a_shape_beside_its_words(mark: marks.Mark) -> None:
    pdf = drawn(mark, "the words")
    paths = list(
        pdfium.PdfDocument(pdf)[0].get_objects(filter=[pdfium.raw.FPDF_PAGEOBJ_PATH]),
    )
    assert paths
    assert PdfReader(BytesIO(pdf)).pages[0].extract_text().strip() == "the words"


def test_no_two_marks_look_alike_in_grey() -> None:
    pictures = {
        pdfium.PdfDocument(drawn(mark, "x"))[0].render().to_pil().convert("L").tobytes()
        for mark in ALL
    }
    assert len(pictures) == len(ALL)


def test_a_marked_paragraph_runs_over_pages_with_one_mark() -> None:
    document = pdfium.PdfDocument(drawn(marks.noted, "word " * 3000))
    counts = [
        len(list(page.get_objects(filter=[pdfium.raw.FPDF_PAGEOBJ_PATH]))) for page in document
    ]
    assert len(counts) > 1
    assert counts == [1] + [0] * (len(counts) - 1)
