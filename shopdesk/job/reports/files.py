"""A report's tables as CSV files: the first one under the name asked for, the others beside it."""

import re
from pathlib import Path

from shopdesk.job.csv_out import save_csv
from shopdesk.job.reports.report import Report
from shopdesk.job.reports.shown import csv_rows, heads


def save_tables(report: Report, file: Path) -> list[Path]:
    """Write each table that has rows, and the first one in any case; return the files.

    A further table's name is added to the file's: ``tax.csv``, ``tax-exempt-sales.csv``. Raises
    ``JobError`` when one can't be written.
    """
    file = file if file.suffix else file.with_suffix(".csv")
    saved = []
    for place, table in enumerate(report.tables):
        if place == 0 or table.rows:
            further = f"{file.stem}-{_slug(table.title)}{file.suffix}"
            to = file.with_name(further) if place else file
            saved.append(save_csv(to, heads(table), csv_rows(table)))
    return saved


def file_name(report: Report) -> str:
    """Return what a file of the report is usually called, without its ending."""
    first, last = report.period.first.isoformat(), report.period.last.isoformat()
    return f"{report.name} {first}" if first == last else f"{report.name} {first} to {last}"


def _slug(title: str) -> str:
    return "-".join(re.findall(r"[a-z0-9]+", title.lower()))
