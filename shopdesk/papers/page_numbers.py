"""Page x of y: each page's foot is drawn once it is known how many pages there are."""

from collections.abc import Callable
from typing import Any

from reportlab.pdfgen.canvas import Canvas


class NumberedCanvas(Canvas):
    """A canvas that holds its pages back and calls ``draw_foot(canvas, page, of)`` on each."""

    def __init__(
        self, *args: Any, draw_foot: Callable[[Canvas, int, int], None], **kw: Any
    ) -> None:
        super().__init__(*args, **kw)
        self._draw_foot = draw_foot
        self._waiting: list[dict[str, Any]] = []

    def showPage(self) -> None:  # noqa: N802
        """Hold the page back and begin another."""
        self._waiting.append(dict(self.__dict__))
        self._startPage()  # type: ignore[attr-defined]

    def save(self) -> None:
        """Draw the feet and finish the file."""
        waiting = self._waiting
        for number, page in enumerate(waiting, 1):
            self.__dict__.update(page)
            self._draw_foot(self, number, len(waiting))
            super().showPage()
        super().save()
