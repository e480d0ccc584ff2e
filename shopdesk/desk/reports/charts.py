"""A report's pictures in the window, in the theme's ink; they follow the width they are given."""

import tkinter as tk
from collections.abc import Sequence
from typing import Literal

import ttkbootstrap as ttk

from shopdesk.desk import look
from shopdesk.job.reports.report import Bars, Picture
from shopdesk.papers.chart_layout import Anchor, Box, Mark, Measure, Rule, Words, laid_out

_BODY = "TkDefaultFont"
_LONGEST = 760
"""How wide lying bars grow, in unscaled pixels: their ends stay in sight of their names."""
_ANCHORS: dict[Anchor, Literal["w", "center", "e"]] = {
    "start": "w",
    "middle": "center",
    "end": "e",
}


class Pictures(tk.Canvas):
    """Pictures under each other; each stands in words and numbers in the report's tables too."""

    def __init__(self, parent: tk.Misc) -> None:
        super().__init__(parent, width=1, height=1, borderwidth=0, highlightthickness=0)
        self._pictures: Sequence[Picture] = ()
        self.bind("<Configure>", self._draw)
        ttk.on_theme_change(self._draw)
        self.bind("<Destroy>", lambda _event: ttk.remove_theme_change_callback(self._draw))

    def show(self, pictures: Sequence[Picture]) -> None:
        """Draw these pictures in place of those before."""
        self._pictures = tuple(pictures)
        self._draw()

    @property
    def words(self) -> list[str]:
        """All words that stand in the pictures."""
        texts = (one for one in self.find_all() if str(self.type(one)) == "text")
        return [str(self.itemcget(one, "text")) for one in texts]

    def _draw(self, _event: object = None) -> None:
        self.delete("all")
        self.configure(background=look.colour("bg"))
        measure = self._measure()
        top = 0.0
        for picture in self._pictures:
            chart = laid_out(picture, self._room(picture, measure), measure)
            for mark in chart.marks:
                self._add(mark, top)
            top += chart.height + measure.line / 2
        height = max(int(top), 1)
        if height != int(self.cget("height")):
            self.configure(height=height)

    def _room(self, picture: Picture, measure: Measure) -> float:
        room = self.winfo_width() - measure.line / 2
        return min(room, look.pixels(self, _LONGEST)) if isinstance(picture, Bars) else room

    def _measure(self) -> Measure:
        body = ttk.nametofont(_BODY, root=self)
        strong = ttk.nametofont(look.STRONG, root=self)
        return Measure(
            float(body.metrics("linespace")),
            lambda words, heavy: float((strong if heavy else body).measure(words)),
        )

    def _add(self, mark: Mark, top: float) -> None:
        ink = look.colour("fg")
        if isinstance(mark, Box):
            self._bar(mark, top)
        elif isinstance(mark, Rule):
            self.create_line(mark.x, top + mark.y, mark.to_x, top + mark.to_y, fill=ink)
        else:
            self._words(mark, top, ink)

    def _bar(self, box: Box, top: float) -> None:
        colour = look.colour("primary")
        self.create_rectangle(
            box.x,
            top + box.y,
            box.x + box.width,
            top + box.y + box.height,
            outline=colour,
            fill="" if box.hollow else colour,
        )

    def _words(self, words: Words, top: float, ink: str) -> None:
        self.create_text(
            words.x,
            top + words.y,
            text=words.text,
            anchor=_ANCHORS[words.anchor],
            font=look.STRONG if words.strong else _BODY,
            fill=ink,
        )
