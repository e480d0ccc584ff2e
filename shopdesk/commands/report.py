"""``shopdesk report``: what the shop asks of its books, to read, print or open in a spreadsheet."""

from argparse import Namespace
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

from shopdesk.commands.opening import opened
from shopdesk.commands.options import Commands, json_option, records_option
from shopdesk.commands.saying import say, say_json
from shopdesk.errors import JobError

if TYPE_CHECKING:
    from shopdesk.job.reports.report import Column, Report, Table
    from shopdesk.job.shift import Shift


def add(commands: Commands) -> None:
    """Add the command."""
    parser = commands.add_parser("report", help="add up money, tax, income, hours and what is owed")
    parser.add_argument(
        "name", nargs="?", default="", metavar="NAME", help="which report; without it, a list"
    )
    parser.add_argument(
        "--period",
        default="",
        metavar="WORDS",
        help="today, this week, last month, this quarter, last year …",
    )
    parser.add_argument("--from", dest="first", default="", metavar="DATE", help="the first day")
    parser.add_argument(
        "--to", dest="last", default="", metavar="DATE", help="the last day (usually today)"
    )
    ways = parser.add_mutually_exclusive_group()
    ways.add_argument("--csv", type=Path, metavar="FILE", help="write its tables for a spreadsheet")
    ways.add_argument("--pdf", type=Path, metavar="FILE", help="write it as a paper")
    json_option(ways)
    records_option(parser)
    parser.set_defaults(command=_run)


def _run(asked: Namespace) -> int:
    from shopdesk.job.reports.shown import as_json

    if not asked.name:
        return _list(asked)
    with opened(asked) as shift:
        report = _asked(shift, asked)
        if asked.pdf:
            _write_pdf(shift, report, asked.pdf.expanduser().absolute())
    if asked.csv:
        _write_csv(report, asked.csv.expanduser().absolute())
    elif asked.json:
        say_json(as_json(report))
    elif not asked.pdf:
        say(*_told(report))
    return 0


def _list(asked: Namespace) -> int:
    """Name the reports there are. Raises ``JobError`` if one was wanted, and not which."""
    from shopdesk.job.reports.book import REPORTS

    if any((asked.csv, asked.pdf, asked.period, asked.first, asked.last)):
        names = ", ".join(kept.name for kept in REPORTS)
        raise JobError(f"Which report? Name one of {names}.")
    if asked.json:
        say_json(
            [
                {"report": kept.name, "title": kept.title, "tells": kept.tells, "usual": kept.usual}
                for kept in REPORTS
            ]
        )
    else:
        say(*_offered())
    return 0


def _offered() -> Iterator[str]:
    from shopdesk.job.reports.book import REPORTS

    width = max(len(kept.name) for kept in REPORTS)
    for kept in REPORTS:
        yield f"{kept.name:{width}}  {kept.tells} (usually {kept.usual})"


def _asked(shift: "Shift", asked: Namespace) -> "Report":
    from shopdesk.job.reports.book import report_named
    from shopdesk.job.reports.period import chosen

    kept, shop = report_named(asked.name), shift.shop
    if asked.period and (asked.first or asked.last):
        raise JobError("Give either --period, or --from and --to.")
    name, today = asked.period or kept.usual, shift.today_in(shop)
    return kept.make(shift, chosen(name, asked.first, asked.last, today, shop))


def _write_pdf(shift: "Shift", report: "Report", file: Path) -> None:
    from shopdesk.job.paperwork import letterhead
    from shopdesk.papers.of_ticket import words_of
    from shopdesk.papers.printed import save_paper
    from shopdesk.papers.report import draw_report

    printed = draw_report(report, letterhead(shift.shop), words_of(shift))
    try:
        say(str(save_paper(file.parent, file.name, printed)))
    except OSError as error:
        raise JobError(f"{file} can't be written ({error.strerror}): name another.") from error


def _write_csv(report: "Report", file: Path) -> None:
    from shopdesk.job.reports.files import save_tables

    say(*map(str, save_tables(report, file)))


def _told(report: "Report") -> Iterator[str]:
    yield f"{report.title}, {report.period.words}"
    yield report.basis
    yield from report.notes
    for table in report.tables:
        yield ""
        yield table.title
        yield from _table_lines(table)


def _table_lines(table: "Table") -> Iterator[str]:
    from shopdesk.job.reports.shown import shown

    if not table.rows:
        yield f"  {table.empty}"
        return
    rows = [
        [shown(cell, column.kind) for cell, column in zip(row.cells, table.columns, strict=True)]
        for row in table.rows
    ]
    heads = [column.title for column in table.columns]
    widths = [max(len(row[at]) for row in (heads, *rows)) for at in range(len(heads))]
    yield _line(heads, table.columns, widths)
    for row, kept in zip(rows, table.rows, strict=True):
        if kept.is_sum:
            yield _line(["-" * width for width in widths], table.columns, widths)
        yield _line(row, table.columns, widths)


def _line(cells: list[str], columns: "tuple[Column, ...]", widths: list[int]) -> str:
    padded = (
        cell.rjust(width) if column.kind.is_number else cell.ljust(width)
        for cell, column, width in zip(cells, columns, widths, strict=True)
    )
    return f"  {'  '.join(padded)}".rstrip()
