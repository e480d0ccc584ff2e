"""Tables that break well over pages: heads repeat, no row is higher than a page."""

from collections.abc import Sequence
from itertools import zip_longest
from typing import Any

from reportlab.platypus import Flowable, Table

from shopdesk.job.paper_content import Addressee, MachineOnPaper
from shopdesk.papers import styles
from shopdesk.papers.fonts import REGULAR
from shopdesk.papers.paper import Paper

Cell = Sequence[Flowable | str]
Command = tuple[Any, ...]

_SHORT = 240
BLANK: list[Any] = [[]]
"""One empty cell, of the kind that is drawn quickest."""

PLAIN: tuple[Command, ...] = (
    ("FONTNAME", (0, 0), (-1, -1), REGULAR),
    ("LEFTPADDING", (0, 0), (-1, -1), 0),
    ("RIGHTPADDING", (0, 0), (-1, -1), 8),
    ("RIGHTPADDING", (-1, 0), (-1, -1), 0),
    ("TOPPADDING", (0, 0), (-1, -1), 0),
    ("BOTTOMPADDING", (0, 0), (-1, -1), 1.5),
    ("VALIGN", (0, 0), (-1, -1), "TOP"),
)


def stacked(cells: Sequence[Cell]) -> list[list[Any]]:
    """Return a row of `cells`, each a pile of flowables, as several rows if it is long."""
    if all(_is_short(cell) for cell in cells):
        return [[list(cell) for cell in cells]]
    piles: list[Sequence[Any]] = list(cells)
    return [list(row) for row in zip_longest(*piles, fillvalue=[])]


def _is_short(cell: Cell) -> bool:
    return sum(len(getattr(part, "text", "")) for part in cell) <= _SHORT


def ruled_table(
    paper: Paper, heads: Sequence[str], rows: Sequence[Sequence[Cell]], widths: Sequence[float]
) -> Table:
    """Return a table with a head that repeats and a hairline under each row."""
    data: list[list[Any]] = [[paper.type.paragraph(head, styles.CELL_HEAD) for head in heads]]
    commands: list[Command] = [*PLAIN, ("LINEBELOW", (0, 0), (-1, 0), 0.8, styles.ACCENT)]
    for row in rows:
        first = len(data)
        data.extend(stacked(row))
        last = len(data) - 1
        commands += [
            ("TOPPADDING", (0, first), (-1, first), 4),
            ("BOTTOMPADDING", (0, last), (-1, last), 4.5),
            ("LINEBELOW", (0, last), (-1, last), styles.HAIR, styles.RULE),
        ]
        if last > first:
            commands.append(("NOSPLIT", (0, first), (0, first + 1)))
    return Table(data, widths, repeatRows=1, style=commands)


def parties(paper: Paper, owner: Addressee, machine: MachineOnPaper) -> None:
    """Put the owner at the left and the machine at the right, each under its label."""
    say, width = paper.say, paper.width / 2
    ways = "  ·  ".join(way for way in (*owner.phones, owner.email) if way)
    left = (owner.name, "\n".join((*owner.address, ways)))
    right = (
        machine.title,
        "\n".join(
            line
            for line in (
                say("serial", serial=machine.serial) if machine.serial else "",
                say("engine", engine=machine.engine) if machine.engine else "",
            )
            if line
        ),
    )
    cells = [
        [
            paper.type.paragraph(label, styles.CELL_HEAD),
            *paper.type.cell(strong, styles.CELL_STRONG, width - 8),
            *paper.type.cell(rest.strip("\n"), styles.CELL, width - 8),
        ]
        for label, (strong, rest) in ((say("for_owner"), left), (say("machine_label"), right))
    ]
    paper.story.append(Table(stacked(cells), [width, width], style=list(PLAIN)))
    paper.gap(7)
