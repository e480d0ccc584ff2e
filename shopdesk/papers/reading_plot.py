"""A reading over the years as a picture on paper: points, limits, and where it is heading."""

from itertools import pairwise
from typing import Any

from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import Flowable

from shopdesk.bench.checks import Verdict
from shopdesk.job.reading_plot import Plot, Spot
from shopdesk.papers import marks, styles
from shopdesk.papers.fonts import MEDIUM, REGULAR, shortened

_LEFT, _RIGHT, _TOP, _FOOT = 34.0, 8.0, 16.0, 15.0
_MARK = 6.5
_SIZE = 7.5
_SIGNS = {
    Verdict.PASS: marks.noted,
    Verdict.NOTED: marks.noted,
    Verdict.MARGINAL: marks.borderline,
    Verdict.FAIL: marks.bad,
}


class ReadingPlot(Flowable):
    """One reading's picture. A cross is out of limits, a wave borderline, a dot good."""

    def __init__(self, title: str, unit: str, plot: Plot, width: float, height: float) -> None:
        """Take a title that is cleaned already."""
        super().__init__()
        self.width, self.height = width, height
        self._title, self._unit, self._plot = title, unit, plot

    def wrap(self, _width: float, _height: float) -> tuple[float, float]:
        """Return the room that it takes."""
        return self.width, self.height

    def draw(self) -> None:
        """Draw it."""
        canvas: Any = self.canv
        canvas.setFont(MEDIUM, 8.5)
        canvas.setFillColor(styles.INK)
        room = self.width - _RIGHT
        canvas.drawString(0, self.height - 9, shortened(self._title, MEDIUM, 8.5, room))
        self._frame(canvas)
        self._limits(canvas)
        self._course(canvas)

    def _x(self, share: float) -> float:
        return _LEFT + share * (self.width - _LEFT - _RIGHT)

    def _y(self, share: float) -> float:
        return _FOOT + share * (self.height - _FOOT - _TOP)

    def _frame(self, canvas: Canvas) -> None:
        canvas.setStrokeColor(styles.RULE)
        canvas.setLineWidth(styles.HAIR)
        canvas.setFont(REGULAR, _SIZE)
        canvas.setFillColor(styles.SOFT)
        for mark in self._plot.heights:
            y = self._y(mark.at)
            canvas.line(self._x(0), y, self._x(1), y)
            canvas.drawRightString(_LEFT - 4, y - 2.5, mark.words)
        for mark in self._plot.days:
            x = self._x(mark.at)
            canvas.line(x, _FOOT - 2, x, _FOOT + 2)
            canvas.drawCentredString(x, 3, mark.words)
        canvas.drawString(0, 3, shortened(self._unit, REGULAR, _SIZE, _LEFT))

    def _limits(self, canvas: Canvas) -> None:
        canvas.setStrokeColor(styles.INK)
        canvas.setLineWidth(1.1)
        canvas.setDash(5, 3)
        for limit in self._plot.limits:
            y = self._y(limit.at)
            canvas.line(self._x(0), y, self._x(1), y)
        canvas.setDash()

    def _course(self, canvas: Canvas) -> None:
        spots = self._plot.spots
        canvas.setStrokeColor(styles.ACCENT)
        canvas.setLineWidth(1.2)
        for earlier, later in pairwise(spots):
            canvas.line(*self._place(earlier), *self._place(later))
        if self._plot.ahead:
            x, y = self._plot.ahead
            canvas.setDash(1, 2.5)
            canvas.line(*self._place(spots[-1]), self._x(x), self._y(y))
            canvas.setDash()
        for spot in spots:
            self._sign(canvas, spot)

    def _place(self, spot: Spot) -> tuple[float, float]:
        return self._x(spot.x), self._y(spot.y)

    def _sign(self, canvas: Canvas, spot: Spot) -> None:
        x, y = self._place(spot)
        size = _MARK if spot.point.verdict.is_off else _MARK * 2
        canvas.saveState()
        canvas.translate(x - size / 2, y - size / 2)
        canvas.setStrokeColor(styles.INK)
        canvas.setFillColor(styles.INK)
        _SIGNS[spot.point.verdict](canvas, size)
        canvas.restoreState()
