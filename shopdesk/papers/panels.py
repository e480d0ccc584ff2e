"""Places on a paper that a person fills in by hand: a signature, a date."""

from typing import Any

from reportlab.platypus import Table

from shopdesk.papers import styles
from shopdesk.papers.paper import Paper
from shopdesk.papers.tables import PLAIN


def signature_lines(paper: Paper, *labels: str, first: float = 0.62, above: float = 30) -> Table:
    """Return a row of lines to write on, each with its label under it; the first is the longest.

    `above` is the room in points to write in.
    """
    gap = 14.0
    rest = len(labels) - 1
    wide = paper.width * first if rest else paper.width
    narrow = (paper.width - wide) / rest - gap if rest else 0
    widths: list[float] = [wide]
    cells: list[Any] = [paper.type.paragraph(labels[0], styles.SMALL)]
    lines = [("LINEABOVE", (0, 0), (0, 0), 0.7, styles.INK)]
    for label in labels[1:]:
        widths += [gap, narrow]
        cells += ["", paper.type.paragraph(label, styles.SMALL)]
        lines.append(("LINEABOVE", (len(cells) - 1, 0), (len(cells) - 1, 0), 0.7, styles.INK))
    look = [*PLAIN, ("TOPPADDING", (0, 0), (-1, -1), 2), *lines]
    return Table([cells], widths, style=look, spaceBefore=above)
