"""A report's cells in words, the same on screen and on paper; its tables as plain CSV."""

from collections.abc import Sequence
from datetime import date
from decimal import Decimal
from typing import Any

from shopdesk.dates import show_date
from shopdesk.job.csv_out import Cell, plain
from shopdesk.job.reports.report import Column, Kind, Report, Table
from shopdesk.pricing.money import round_money, show_quantity


def shown(cell: Cell, kind: Kind) -> str:
    """Return a cell of a column of that kind as people read it; nothing of ``None``."""
    if cell is None:
        return ""
    if isinstance(cell, date):
        return show_date(cell)
    if isinstance(cell, Decimal):
        return _number(cell, kind)
    return str(cell)


def _number(number: Decimal, kind: Kind) -> str:
    if kind is Kind.MONEY:
        return f"{round_money(number):,}"
    if kind is Kind.PERCENT:
        return f"{number:.1f}%"
    return f"{number:.2f}" if kind is Kind.HOURS else show_quantity(number)


def heads(table: Table) -> list[str]:
    """Return the heads of a table's columns, each with its unit where the cells have none."""
    return [_head(column) for column in table.columns]


def _head(column: Column) -> str:
    unit = {Kind.HOURS: " (h)", Kind.PERCENT: " (%)"}.get(column.kind, "")
    return f"{column.title}{unit}"


def csv_rows(table: Table) -> list[Sequence[Cell]]:
    """Return the rows of a table for ``csv_out``; its sums are left to the spreadsheet."""
    return [row.cells for row in table.rows if not row.is_sum]


def as_json(report: Report) -> dict[str, Any]:
    """Return a report for another program: numbers as exact decimals in text, days in ISO 8601."""
    return {
        "report": report.name,
        "title": report.title,
        "from": report.period.first.isoformat(),
        "to": report.period.last.isoformat(),
        "basis": report.basis,
        "notes": list(report.notes),
        "tables": [
            {
                "title": table.title,
                "rows": [
                    {head: _json(cell) for head, cell in zip(heads(table), row.cells, strict=True)}
                    for row in table.rows
                    if not row.is_sum
                ],
            }
            for table in report.tables
        ],
    }


def _json(cell: Cell) -> str | int | None:
    return cell if cell is None or isinstance(cell, str | int) else plain(cell)
