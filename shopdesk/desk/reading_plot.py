"""A reading over the years as a picture in the window: points, limits, and where it is heading."""

import tkinter as tk
from itertools import pairwise
from typing import Literal

import ttkbootstrap as ttk

from shopdesk.bench.checks import Verdict
from shopdesk.desk import look
from shopdesk.desk.causes_bars import shortened
from shopdesk.job.reading_plot import Plot, Spot, plot_of
from shopdesk.job.readings_over_time import ReadingCourse

_HEIGHT = 190
_LEFT, _RIGHT, _TOP, _FOOT = 56, 14, 30, 26
_DOT = 4


class ReadingPlot(tk.Canvas):
    """One reading's picture. A cross is out of limits, a ring borderline, a dot good."""

    def __init__(self, parent: tk.Misc, course: ReadingCourse) -> None:
        super().__init__(parent, borderwidth=0, width=1)
        self._course = course
        self._plot: Plot = plot_of(course)
        self.bind("<Configure>", self._draw)
        look.when_worn(self, self._wear)

    def _wear(self) -> None:
        self.configure(height=self._px(_HEIGHT))
        self._draw()

    def _draw(self, _event: object = None) -> None:
        self.delete("all")
        self.configure(background=look.colour("bg"), highlightthickness=0)
        self._draw_title()
        self._draw_frame()
        self._draw_limits()
        self._draw_course()

    def _draw_title(self) -> None:
        font = ttk.nametofont(look.STRONG, root=self)
        title = shortened(self._course.title, self.winfo_width() - self._px(_RIGHT), font)
        self._write(0, 0, "nw", title, look.STRONG, "fg")

    def _draw_frame(self) -> None:
        soft = look.colour("secondary")
        for mark in self._plot.heights:
            y = self._y(mark.at)
            self.create_line(self._x(0), y, self._x(1), y, fill=look.colour("border"))
            self._write(self._x(0) - 6, y, "e", mark.words)
        foot = self.winfo_height() - self._px(_FOOT) // 2
        for mark in self._plot.days:
            x = self._x(mark.at)
            self.create_line(x, self._y(0) - 3, x, self._y(0) + 3, fill=soft)
            self._write(x, foot, "center", mark.words)
        self._write(0, foot, "w", self._course.unit)

    def _draw_limits(self) -> None:
        for limit in self._plot.limits:
            y = self._y(limit.at)
            self.create_line(
                self._x(0), y, self._x(1), y, dash=(6, 4), width=2, fill=look.colour("danger")
            )
            self._write(self._x(1), y - 2, "se", f"limit {limit.words}", ink="danger")

    def _write(
        self,
        x: float,
        y: float,
        anchor: Literal["nw", "e", "w", "se", "center"],
        words: str,
        font: str = look.SMALL,
        ink: str = "secondary",
    ) -> None:
        self.create_text(
            x, y, anchor=anchor, text=words, font=font, fill=look.colour(ink), tags="words"
        )

    def _draw_course(self) -> None:
        spots, accent = self._plot.spots, look.colour("primary")
        for earlier, later in pairwise(spots):
            self.create_line(*self._place(earlier), *self._place(later), width=2, fill=accent)
        if self._plot.ahead:
            x, y = self._plot.ahead
            self.create_line(
                *self._place(spots[-1]), self._x(x), self._y(y), dash=(2, 4), fill=accent
            )
        for spot in spots:
            self._draw_spot(spot)

    def _draw_spot(self, spot: Spot) -> None:
        (x, y), reach = self._place(spot), self._px(_DOT)
        corners = (x - reach, y - reach, x + reach, y + reach)
        if spot.point.verdict is Verdict.FAIL:
            ink = look.colour("danger")
            self.create_line(*corners, width=3, fill=ink)
            self.create_line(x - reach, y + reach, x + reach, y - reach, width=3, fill=ink)
        elif spot.point.verdict is Verdict.MARGINAL:
            ground, ink = look.colour("bg"), look.colour("warning")
            self.create_oval(*corners, width=3, outline=ink, fill=ground)
        else:
            self.create_oval(*corners, width=0, fill=look.colour("primary"))

    def _place(self, spot: Spot) -> tuple[float, float]:
        return self._x(spot.x), self._y(spot.y)

    def _x(self, share: float) -> float:
        room = self.winfo_width() - self._px(_LEFT) - self._px(_RIGHT)
        return self._px(_LEFT) + share * room

    def _y(self, share: float) -> float:
        room = self.winfo_height() - self._px(_TOP) - self._px(_FOOT)
        return self.winfo_height() - self._px(_FOOT) - share * room

    def _px(self, unscaled: int) -> int:
        return look.pixels(self, unscaled)
