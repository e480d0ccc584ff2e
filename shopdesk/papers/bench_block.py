"""One thing to do on the bench sheet: a box to tick, what it takes, and places to write on."""

from typing import Any

from reportlab.lib.styles import ParagraphStyle
from reportlab.platypus import Flowable, Paragraph, Table

from shopdesk.papers import styles
from shopdesk.papers.marks import GAP, Mark, Marked, caution
from shopdesk.papers.paper import Paper
from shopdesk.papers.tables import PLAIN, Command

_BOX = 14.0
_INDENT = _BOX + GAP
_LABEL = 40.0
_BLANK = 88.0


class BenchBlock:
    """Gathers the lines of one thing, from the top down.

    Each line may have a place at its right to write on, with a word that says what goes there.
    """

    def __init__(self, paper: Paper) -> None:
        """Begin with nothing."""
        self._paper = paper
        self._widths = (paper.width - _LABEL - _BLANK, _LABEL, _BLANK)
        self._rows: list[list[Any]] = []
        self._after_writing = False
        self._commands: list[Command] = [*PLAIN, ("VALIGN", (1, 0), (-1, -1), "BOTTOM")]

    def head(self, text: str, mark: Mark | None = None, write: str = "") -> None:
        """Add the heading, with a drawn `mark` before it."""
        self._add(text, styles.BENCH_HEAD, write, mark, _BOX)

    def line(self, text: str, write: str = "") -> None:
        """Add a line to be read at arm's length, unless it is empty."""
        if text:
            self._add(text, styles.BENCH, write)

    def small(self, text: str) -> None:
        """Add a line to be read close by, unless it is empty."""
        if text:
            self._add(text, styles.BENCH_SMALL, "")

    def caution(self, text: str) -> None:
        """Add a caution with its mark."""
        self._add(self._paper.say("caution", text=text), styles.BENCH_SMALL, "", caution, 10)

    def put(self) -> None:
        """Put it on the paper; it may break between its lines."""
        look = [
            *self._commands,
            ("TOPPADDING", (0, 0), (-1, 0), 5),
            ("LINEABOVE", (0, 0), (-1, 0), styles.HAIR, styles.RULE),
        ]
        self._paper.story.append(Table(self._rows, self._widths, style=look, spaceAfter=6))

    def _add(
        self,
        text: str,
        style: ParagraphStyle,
        write: str,
        mark: Mark | None = None,
        size: float = 0,
    ) -> None:
        """Add `text` as rows that fit any page; the first has the mark and the place to write."""
        indent = 0.0 if style is styles.BENCH_HEAD else _INDENT
        room = (self._widths[0] if write else self._paper.width) - _INDENT - size
        first, *rest = self._paper.type.cell(text, style, room) or [Paragraph("", style)]
        self._row(Marked(mark, first, size) if mark else first, indent, write)
        for part in rest:
            self._row(part, indent, "")

    def _row(self, part: Flowable, indent: float, write: str) -> None:
        row = len(self._rows)
        label = self._paper.type.paragraph(write, _WRITE) if write else ""
        self._rows.append([[part], label, ""])
        self._commands += [
            ("LEFTPADDING", (0, row), (0, row), indent),
            ("TOPPADDING", (0, row), (-1, row), 5 if write else 3 if self._after_writing else 0),
        ]
        self._after_writing = bool(write)
        if write:
            self._commands.append(("BOTTOMPADDING", (1, row), (-1, row), 0))
            self._commands.append(("LINEBELOW", (2, row), (2, row), 0.9, styles.INK))
        else:
            self._commands.append(("SPAN", (0, row), (-1, row)))


_WRITE = ParagraphStyle("write", styles.BENCH_SMALL, alignment=2)
