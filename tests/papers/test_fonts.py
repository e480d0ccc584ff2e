from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from reportlab.pdfbase import pdfmetrics

from shopdesk.papers.fonts import (
    BOLD,
    ITALIC,
    MEDIUM,
    REGULAR,
    load_fonts,
    shortened,
    text_width,
)

FACES = (REGULAR, MEDIUM, ITALIC, BOLD)


def test_what_counts_as_covered_is_covered_by_each_face() -> None:
    covered = load_fonts()
    for name in FACES:
        font: Any = pdfmetrics.getFont(name)
        assert covered <= set(font.face.charToGlyph)
    assert {ord(letter) for letter in "AzŁđΩЖợ€…"} <= covered
    assert not {ord("✓"), ord("☐"), ord("א"), ord("山")} & covered


@pytest.mark.parametrize("face", FACES)
def test_figures_are_all_equally_wide(face: str) -> None:
    load_fonts()
    assert len({text_width(digit, face, 10) for digit in "0123456789"}) == 1


@settings(max_examples=80, deadline=None)
@given(st.text(alphabet="abc W", min_size=1, max_size=80), st.floats(20, 200))
def test_a_shortened_line_fits_and_keeps_its_beginning(text: str, width: float) -> None:
    load_fonts()
    short = shortened(text, REGULAR, 10, width)
    assert text_width(short, REGULAR, 10) <= width
    assert short == text or (short.endswith("…") and text.startswith(short[:-1]))
