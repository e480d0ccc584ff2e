"""A report on paper: what it goes by, its pictures, its tables."""

from collections.abc import Sequence
from datetime import date

from reportlab.lib.enums import TA_RIGHT
from reportlab.lib.styles import ParagraphStyle
from reportlab.platypus import Table as DrawnTable

from shopdesk.dates import show_date
from shopdesk.job.paper_content import Letterhead
from shopdesk.job.reports.report import Column, Kind, Report, Row, Table
from shopdesk.job.reports.shown import shown
from shopdesk.papers import styles
from shopdesk.papers.charts import drawn
from shopdesk.papers.fonts import MEDIUM, REGULAR, text_width
from shopdesk.papers.paper import Paper
from shopdesk.papers.printed import Printed
from shopdesk.papers.tables import PLAIN, Command
from shopdesk.papers.words import Words

_CELL = ParagraphStyle("report cell", styles.CELL, fontSize=8.5, leading=10.5)
_STRONG = ParagraphStyle("report sum", _CELL, fontName=MEDIUM)
_HEAD = ParagraphStyle("report head", styles.CELL_HEAD, fontSize=8, leading=9.5)
_GAP = 9.0
_LEAST = 34.0
_MOST_TOGETHER = 24
"""Rows of a table that is not torn over two pages."""


def draw_report(
    report: Report, shop: Letterhead, words: Words, made: date | None = None
) -> Printed:
    """Draw a report on the shop's paper; ``made`` is the day that stands at its head.

    Raises:
        ValueError: the paper size is unknown.
    """
    say = words.on(
        "report",
        shop=shop.name,
        phone=shop.phone,
        report=report.title,
        period=report.period.words,
    )
    paper = Paper(shop, say, "", say("title"))
    paper.letterhead()
    paper.headline(report.period.words, say("made", date=show_date(made)) if made else "")
    paper.text(f"{report.basis} {say('amounts', currency=shop.currency)}", styles.LEAD)
    for note in report.notes:
        paper.text(note, styles.STRONG)
    for picture in report.pictures:
        paper.gap(5)
        paper.story.append(drawn(picture, paper.width, paper.type))
    for table in report.tables:
        if len(table.rows) <= _MOST_TOGETHER:
            with paper.together():
                _add(paper, table)
        else:
            _add(paper, table)
    return paper.printed()


def _add(paper: Paper, table: Table) -> None:
    paper.section(table.title)
    if table.rows:
        paper.story.append(_table(paper, table))
    else:
        paper.text(table.empty)


def _table(paper: Paper, table: Table) -> DrawnTable:
    widths = _widths(paper, table)
    data = [[_head(paper, column) for column in table.columns]]
    commands: list[Command] = [
        *PLAIN,
        ("RIGHTPADDING", (0, 0), (-2, -1), _GAP),
        ("VALIGN", (0, 0), (-1, 0), "BOTTOM"),
        ("LINEBELOW", (0, 0), (-1, 0), 0.8, styles.ACCENT),
        ("TOPPADDING", (0, 1), (-1, -1), 2.5),
        ("BOTTOMPADDING", (0, 1), (-1, -1), 2.5),
        ("LINEBELOW", (0, 1), (-1, -1), styles.HAIR, styles.RULE),
    ]
    for place, row in enumerate(table.rows, 1):
        data.append(_cells(paper, table.columns, row, widths))
        if row.is_sum:
            commands.append(("LINEABOVE", (0, place), (-1, place), 0.8, styles.ACCENT))
    return DrawnTable(data, widths, repeatRows=1, style=commands, hAlign="LEFT")


def _head(paper: Paper, column: Column) -> object:
    return paper.type.paragraph(column.title, _aligned(_HEAD, column.kind))


def _cells(
    paper: Paper, columns: Sequence[Column], row: Row, widths: Sequence[float]
) -> list[object]:
    style = _STRONG if row.is_sum else _CELL
    return [
        paper.type.cell(shown(cell, column.kind), _aligned(style, column.kind), width - _GAP)
        for cell, column, width in zip(row.cells, columns, widths, strict=True)
    ]


_RIGHT = {
    style.name: ParagraphStyle(f"{style.name} right", style, alignment=TA_RIGHT)
    for style in (_CELL, _STRONG, _HEAD)
}


def _aligned(style: ParagraphStyle, kind: Kind) -> ParagraphStyle:
    return _RIGHT[style.name] if kind.is_number else style


def _widths(paper: Paper, table: Table) -> list[float]:
    """Return the columns' widths: what the cells want, less of the wordy ones where it is tight."""
    wanted = [_wanted(table, place, whole_head=True) for place in range(len(table.columns))]
    if sum(wanted) > paper.width:
        wanted = [_wanted(table, place, whole_head=False) for place in range(len(table.columns))]
    over = sum(wanted) - paper.width
    if over <= 0:
        return wanted
    wordy = [place for place, width in enumerate(wanted) if _may_wrap(table.columns[place], width)]
    room = sum(wanted[place] - _LEAST for place in wordy)
    for place in wordy:
        wanted[place] -= min(over, room) * (wanted[place] - _LEAST) / room if room else 0
    scale = min(1, paper.width / sum(wanted))
    return [width * scale for width in wanted]


def _may_wrap(column: Column, width: float) -> bool:
    return column.kind is Kind.WORDS and width > _LEAST


def _wanted(table: Table, place: int, *, whole_head: bool) -> float:
    """Return the width of a column's widest cell and its head, or the head's widest word."""
    column = table.columns[place]
    words = [column.title] if whole_head else column.title.split()
    heads = [text_width(word, MEDIUM, _HEAD.fontSize) for word in words]
    cells = [
        text_width(
            shown(row.cells[place], column.kind), MEDIUM if row.is_sum else REGULAR, _CELL.fontSize
        )
        for row in table.rows
    ]
    return max([*heads, *cells, 0.0]) + 1 + _GAP
