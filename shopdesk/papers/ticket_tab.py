"""The ticket's number in the outline of a tie-on tag: the mark by which our papers are known."""

from typing import Any

from reportlab.lib.units import mm
from reportlab.platypus import Flowable

from shopdesk.papers import styles
from shopdesk.papers.fonts import BOLD, REGULAR, text_width

_WIDEST = 62 * mm


class TicketTab(Flowable):
    """The ticket's number in the outline of a tie-on tag: the same at the top of every paper."""

    def __init__(self, ticket: str, word: str, size: float = 17) -> None:
        """Draw `ticket` in `size` points, smaller if it is long, under the small `word`."""
        super().__init__()
        wide = text_width(ticket, BOLD, size)
        self._size = size * min(1, (_WIDEST - 2 * size) / wide)
        self._texts = (word, ticket)
        self.height = size * 2.2
        self.width = text_width(ticket, BOLD, self._size) + size * 2.3

    def wrap(self, _width: float, _height: float) -> tuple[float, float]:
        """Return the tab's own width and height."""
        return self.width, self.height

    def draw(self) -> None:
        """Draw the outline, its hole, the word and the number."""
        canvas, (word, ticket) = self.canv, self._texts
        draw_tag_outline(canvas, self.width, self.height)
        left = self.height * 0.66
        canvas.setFillColor(styles.SOFT)
        canvas.setFont(REGULAR, 8)
        canvas.drawString(left, self.height - 11.5, word)
        canvas.setFillColor(styles.INK)
        canvas.setFont(BOLD, self._size)
        canvas.drawString(left, self.height * 0.2, ticket)


def draw_tag_outline(canvas: Any, width: float, height: float) -> None:
    """Draw a tie-on tag's outline from the origin: two corners cut off, a hole for the string."""
    cut = min(height * 0.3, 11 * mm)
    path = canvas.beginPath()
    path.moveTo(cut, 0)
    for x, y in ((width, 0), (width, height), (cut, height), (0, height - cut), (0, cut)):
        path.lineTo(x, y)
    path.close()
    canvas.setLineJoin(1)
    canvas.setLineWidth(1.1)
    canvas.setStrokeColor(styles.ACCENT)
    canvas.drawPath(path)
    canvas.circle(cut * 1.1, height / 2, min(height * 0.11, 3.5 * mm))
