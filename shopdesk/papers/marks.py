"""Small marks drawn as shapes, so that they never depend on a font: box, tick, caution."""

from collections.abc import Callable
from typing import Any

from reportlab.lib.colors import Color
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import Flowable, Paragraph

from shopdesk.papers.styles import ACCENT, INK, SOFT

GAP = 5.0


def box(canvas: Canvas, size: float) -> None:
    """Draw an empty box to be ticked by hand."""
    canvas.setLineWidth(0.9)
    canvas.rect(0, 0, size, size)


def ticked_box(canvas: Canvas, size: float) -> None:
    """Draw a box with its tick."""
    box(canvas, size)
    _tick(canvas, size * 0.18, size * 0.16, size * 0.7)


def good(canvas: Canvas, size: float) -> None:
    """Draw a tick."""
    _tick(canvas, 0, size * 0.08, size)


def bad(canvas: Canvas, size: float) -> None:
    """Draw a cross."""
    canvas.setLineWidth(size * 0.17)
    canvas.line(size * 0.1, size * 0.1, size * 0.9, size * 0.9)
    canvas.line(size * 0.1, size * 0.9, size * 0.9, size * 0.1)


def borderline(canvas: Canvas, size: float) -> None:
    """Draw a wave: neither good nor bad."""
    canvas.setLineWidth(size * 0.16)
    mid = size * 0.48
    canvas.bezier(0, mid, size * 0.35, size * 1.15, size * 0.65, -size * 0.2, size, mid)


def noted(canvas: Canvas, size: float) -> None:
    """Draw a dot."""
    canvas.circle(size / 2, size / 2, size * 0.17, stroke=0, fill=1)


def caution(canvas: Canvas, size: float) -> None:
    """Draw a triangle that holds an exclamation mark."""
    canvas.setLineWidth(size * 0.09)
    triangle = canvas.beginPath()
    triangle.moveTo(0, 0)
    triangle.lineTo(size, 0)
    triangle.lineTo(size / 2, size * 0.9)
    triangle.close()
    canvas.drawPath(triangle)
    canvas.setLineWidth(size * 0.12)
    canvas.line(size / 2, size * 0.6, size / 2, size * 0.32)
    canvas.circle(size / 2, size * 0.17, size * 0.07, stroke=0, fill=1)


Mark = Callable[[Canvas, float], None]

_COLOURS: dict[Mark, Color] = {box: INK, ticked_box: INK, caution: INK, noted: SOFT}


class Marked(Flowable):
    """A paragraph with a mark before its first line."""

    def __init__(self, mark: Mark | None, paragraph: Paragraph, size: float = 8.5) -> None:
        """Put `mark` (none for the rest of a split paragraph) before `paragraph`."""
        super().__init__()
        self._mark = mark
        self._paragraph = paragraph
        self._size = size
        self.text = paragraph.text
        self.spaceAfter = paragraph.style.spaceAfter
        self.spaceBefore = paragraph.style.spaceBefore

    def wrap(self, availWidth: float, availHeight: float) -> tuple[float, float]:  # noqa: N803
        """Return the width given and the height needed."""
        self._height = self._paragraph.wrap(availWidth - self._inset, availHeight)[1]
        return availWidth, self._height

    def split(self, availWidth: float, availHeight: float) -> list[Flowable]:  # noqa: N803
        """Return the part that fits, with the mark, and the rest without it."""
        parts: Any = self._paragraph.split(availWidth - self._inset, availHeight)
        return [
            Marked(self._mark if not index else None, part, self._size)
            for index, part in enumerate(parts)
        ]

    def draw(self) -> None:
        """Draw the mark on the first line's baseline, and the paragraph beside it."""
        style = self._paragraph.style
        if self._mark:
            baseline = self._height - style.fontSize * 1.02
            stamp(
                self.canv,
                self._mark,
                0,
                baseline - (self._size - style.fontSize * 0.72) / 2,
                self._size,
            )
        self._paragraph.drawOn(self.canv, self._inset, 0)

    @property
    def _inset(self) -> float:
        return self._size + GAP


def stamp(canvas: Any, mark: Mark, x: float, y: float, size: float) -> None:
    """Draw `mark` with its lower left corner at (`x`, `y`)."""
    colour = _COLOURS.get(mark, ACCENT)
    canvas.saveState()
    canvas.translate(x, y)
    canvas.setLineCap(1)
    canvas.setStrokeColor(colour)
    canvas.setFillColor(colour)
    mark(canvas, size)
    canvas.restoreState()


def _tick(canvas: Canvas, x: float, y: float, size: float) -> None:
    canvas.setLineWidth(size * 0.17)
    path = canvas.beginPath()
    path.moveTo(x + size * 0.05, y + size * 0.42)
    path.lineTo(x + size * 0.36, y + size * 0.1)
    path.lineTo(x + size * 0.95, y + size * 0.82)
    canvas.drawPath(path)
