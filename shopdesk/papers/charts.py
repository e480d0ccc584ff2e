"""A report's pictures on paper, in one ink: they hold in grey print and in a copy of a copy."""

from reportlab.graphics.shapes import Drawing, Line, Rect, String

from shopdesk.job.reports.report import Bar, Bars, Picture, Strip, Strips
from shopdesk.papers import styles
from shopdesk.papers.chart_layout import Box, Mark, Measure, Rule, Words, laid_out
from shopdesk.papers.fonts import MEDIUM, REGULAR, text_width
from shopdesk.papers.typesetter import Typesetter

_SIZE = 9
_BASELINE = 0.35
"""How far under the middle of a line its letters stand, in parts of their size."""


def drawn(picture: Picture, width: float, typesetter: Typesetter) -> Drawing:
    """Return a picture as something that can stand in a paper's story, ``width`` points wide."""
    chart = laid_out(_printable(picture, typesetter), width, Measure(_SIZE * 1.25, _width))
    drawing = Drawing(width, chart.height)
    for mark in chart.marks:
        drawing.add(_shape(mark, chart.height))
    return drawing


def _width(words: str, strong: bool) -> float:
    return text_width(words, MEDIUM if strong else REGULAR, _SIZE)


def _shape(mark: Mark, height: float) -> Rect | String | Line:
    if isinstance(mark, Box):
        bar = Rect(mark.x, height - mark.y - mark.height, mark.width, mark.height)
        bar.fillColor = None if mark.hollow else styles.ACCENT
        bar.strokeColor = styles.ACCENT
        bar.strokeWidth = 0.8
        return bar
    if isinstance(mark, Rule):
        return Line(
            mark.x,
            height - mark.y,
            mark.to_x,
            height - mark.to_y,
            strokeColor=styles.SOFT,
            strokeWidth=styles.HAIR,
        )
    return _string(mark, height)


def _string(words: Words, height: float) -> String:
    return String(
        words.x,
        height - words.y - _SIZE * _BASELINE,
        words.text,
        fontName=MEDIUM if words.strong else REGULAR,
        fontSize=_SIZE,
        fillColor=styles.INK,
        textAnchor=words.anchor,
    )


def _printable(picture: Picture, typesetter: Typesetter) -> Picture:
    """Return the picture with all its words as our letters print them."""
    line = typesetter.line
    if isinstance(picture, Bars):
        bars = (Bar(line(bar.label), bar.amount, line(bar.words)) for bar in picture.bars)
        return Bars(line(picture.title), tuple(bars))
    return Strips(
        line(picture.title),
        tuple(map(line, picture.labels)),
        tuple(Strip(line(strip.name), strip.amounts) for strip in picture.strips),
        picture.kind,
    )
