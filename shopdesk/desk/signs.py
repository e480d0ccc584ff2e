"""Small drawn signs that stand beside words: caution, trouble, good, bad, unsure."""

import tkinter as tk
from enum import Enum

from shopdesk.desk.look import colour, pixels, when_worn

_SIDE = 16


class Sign(Enum):
    """What a sign means; the words beside it say it too."""

    CAUTION = "warning"
    TROUBLE = "danger"
    GOOD = "success"
    BAD = "bad"
    UNSURE = "unsure"
    PLAIN = "plain"


_COLOURS = {Sign.BAD: "danger", Sign.UNSURE: "warning", Sign.PLAIN: "primary"}


class SignMark(tk.Canvas):
    """A sign, drawn as large as a line of text (or ``scale`` times that)."""

    def __init__(self, parent: tk.Misc, sign: Sign, scale: float = 1.0) -> None:
        super().__init__(parent, highlightthickness=0, borderwidth=0)
        self._scale = scale
        self._sign = sign
        when_worn(self, self._draw)

    def show(self, sign: Sign) -> None:
        """Draw another sign."""
        self._sign = sign
        self._draw()

    def _draw(self) -> None:
        self.delete("all")
        self._side = int(pixels(self, _SIDE) * self._scale)
        self.configure(background=colour("bg"), width=self._side, height=self._side)
        ink = colour(_COLOURS.get(self._sign, self._sign.value))
        for shape, points in _SHAPES[self._sign]:
            at = [place * self._side for place in points]
            width = max(2, self._side // 8)
            if shape == "line":
                self.create_line(*at, fill=ink, width=width, capstyle="round", joinstyle="round")
            elif shape == "outline":
                self.create_polygon(*at, outline=ink, fill="", width=width, joinstyle="round")
            elif shape == "ring":
                self.create_oval(*at, outline=ink, width=width)
            else:
                self.create_oval(*at, outline=ink, fill=ink)


_EXCLAMATION = (("line", (0.5, 0.38, 0.5, 0.62)), ("dot", (0.45, 0.73, 0.55, 0.83)))
_TRIANGLE = ("outline", (0.5, 0.1, 0.92, 0.9, 0.08, 0.9))
_RING = ("ring", (0.1, 0.1, 0.9, 0.9))

_SHAPES: dict[Sign, tuple[tuple[str, tuple[float, ...]], ...]] = {
    Sign.CAUTION: (_TRIANGLE, *_EXCLAMATION),
    Sign.TROUBLE: (_RING, ("line", (0.5, 0.28, 0.5, 0.54)), ("dot", (0.45, 0.66, 0.55, 0.76))),
    Sign.GOOD: (("line", (0.15, 0.55, 0.4, 0.8, 0.85, 0.22)),),
    Sign.BAD: (("line", (0.2, 0.2, 0.8, 0.8)), ("line", (0.8, 0.2, 0.2, 0.8))),
    Sign.UNSURE: (("line", (0.12, 0.58, 0.3, 0.42, 0.5, 0.55, 0.7, 0.68, 0.88, 0.46)),),
    Sign.PLAIN: (("dot", (0.38, 0.38, 0.62, 0.62)),),
}
