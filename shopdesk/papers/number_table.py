"""A table of things with figures beside them, and the sums under it."""

from collections.abc import Sequence
from typing import Any

from reportlab.platypus import Table

from shopdesk.papers import styles
from shopdesk.papers.fonts import MEDIUM, REGULAR
from shopdesk.papers.paper import Paper
from shopdesk.papers.tables import PLAIN, Command

_SIZE = 9.5


class NumberTable:
    """The table in the making. The first column is wide and wraps; the others hold short text.

    ``widths`` are those of the others, in points; ``right`` are the columns that hold figures.
    """

    def __init__(
        self, paper: Paper, heads: Sequence[str], widths: Sequence[float], right: Sequence[int]
    ) -> None:
        """Begin with the heads, already in words."""
        self._paper = paper
        self._widths = (paper.width - sum(widths), *widths)
        self._data: list[list[Any]] = [[paper.type.line(head) for head in heads]]
        self._commands: list[Command] = [
            *PLAIN,
            ("FONTNAME", (0, 0), (-1, 0), MEDIUM),
            ("FONTSIZE", (0, 0), (-1, 0), 9),
            ("FONTNAME", (0, 1), (-1, -1), REGULAR),
            ("FONTSIZE", (0, 1), (-1, -1), _SIZE),
            ("TEXTCOLOR", (0, 0), (-1, 0), styles.ACCENT),
            ("TEXTCOLOR", (0, 1), (-1, -1), styles.INK),
            ("LINEBELOW", (0, 0), (-1, 0), 0.8, styles.ACCENT),
            ("BOTTOMPADDING", (0, 0), (-1, 0), 4),
            *(("ALIGN", (column, 0), (column, -1), "RIGHT") for column in right),
        ]

    def row(self, strong: str, small: str, cells: Sequence[str]) -> None:
        """Add a row: its name with what stands small under it, and the other cells."""
        width = self._widths[0] - 8
        kind = self._paper.type
        piled = [*kind.cell(strong, styles.CELL, width), *kind.cell(small, styles.SMALL, width)]
        place = len(self._data)
        rest = [
            kind.cell(text, styles.CELL, wide - 8) if len(text) > 14 else kind.line(text)
            for text, wide in zip(cells, self._widths[1:], strict=True)
        ]
        self._data.append([piled, *rest])
        self._commands += [
            ("TOPPADDING", (0, place), (-1, place), 4),
            ("BOTTOMPADDING", (0, place), (-1, place), 4),
            ("LINEBELOW", (0, place), (-1, place), styles.HAIR, styles.RULE),
        ]

    def sum(self, label: str, amount: str, strong: bool = False) -> None:
        """Add a sum under the last column."""
        place = len(self._data)
        blank = [""] * (len(self._widths) - 3)
        self._data.append(["", *blank, self._paper.type.line(label), self._paper.type.line(amount)])
        self._commands += [
            ("SPAN", (0, place), (-2, place)),
            ("ALIGN", (0, place), (-2, place), "RIGHT"),
            ("TOPPADDING", (0, place), (-1, place), 4),
            ("FONTNAME", (0, place), (-1, place), MEDIUM if strong else REGULAR),
            ("NOSPLIT", (0, place - 1), (0, place)),
        ]
        self._data[place][0] = self._data[place][-2]
        self._data[place][-2] = ""

    def put(self) -> None:
        """Put the table on the paper; its head repeats on each page."""
        table = Table(self._data, self._widths, repeatRows=1, style=self._commands)
        self._paper.story.append(table)
