"""Reports as CSV and JSON, and in words."""

import csv
import json
from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest

from shopdesk.errors import JobError
from shopdesk.job.csv_out import Cell
from shopdesk.job.reports.book import REPORTS, report_named
from shopdesk.job.reports.files import file_name, save_tables
from shopdesk.job.reports.period import Period
from shopdesk.job.reports.report import Kind, Report, Row, Table, columns, percent_of, summed
from shopdesk.job.reports.shown import as_json, shown

APRIL = Period(date(2031, 4, 1), date(2031, 4, 30))
ROWS = (
    Row(("=cmd", date(2031, 4, 7), Decimal("-5.00"), Decimal("1.5"), Decimal("40.0"))),
    Row(("Mara", None, Decimal("1184.20"), Decimal(2), None)),
)
TABLE = Table(
    "Whom to call",
    columns(
        *("Owner", ("Day", Kind.DAY), ("Owed", Kind.MONEY)),
        *(("Bench", Kind.HOURS), ("Share", Kind.PERCENT)),
    ),
    (*ROWS, summed(ROWS, "All", (2, 3))),
)
OTHER = Table("Owners' money", columns("Owner"), (Row(("Odd Øye",)),))
REPORT = Report("owed", "Owed", APRIL, "By day.", (TABLE, OTHER, Table("None", columns("x"), ())))


def _read(file: Path) -> list[list[str]]:
    with file.open(encoding="utf-8-sig", newline="") as opened:
        return list(csv.reader(opened, strict=True))


def test_each_table_is_a_file_of_its_own(tmp_path: Path) -> None:
    files = save_tables(REPORT, tmp_path / "owed.csv")
    assert [file.name for file in files] == ["owed.csv", "owed-owners-money.csv"]
    assert _read(files[0]) == [
        ["Owner", "Day", "Owed", "Bench (h)", "Share (%)"],
        ["'=cmd", "2031-04-07", "-5.00", "1.5", "40.0"],
        ["Mara", "", "1184.20", "2", ""],
    ]
    assert _read(files[1]) == [["Owner"], ["Odd Øye"]]


def test_a_name_without_an_ending_gets_one(tmp_path: Path) -> None:
    assert save_tables(REPORT, tmp_path / "owed")[0].name == "owed.csv"


def test_file_names() -> None:
    assert file_name(REPORT) == "owed 2031-04-01 to 2031-04-30"


def test_json_is_exact() -> None:
    told = json.loads(json.dumps(as_json(REPORT)))
    assert (told["from"], told["to"]) == ("2031-04-01", "2031-04-30")
    assert told["tables"][0]["rows"][1] == {
        "Owner": "Mara",
        "Day": None,
        "Owed": "1184.20",
        "Bench (h)": "2",
        "Share (%)": None,
    }


@pytest.mark.parametrize(
    ("cell", "kind", "words"),
    [
        (None, Kind.MONEY, ""),
        (Decimal("1184.2"), Kind.MONEY, "1,184.20"),
        (Decimal("-5"), Kind.MONEY, "-5.00"),
        (Decimal("1.5"), Kind.HOURS, "1.50"),
        (Decimal("40.0"), Kind.PERCENT, "40.0%"),
        (Decimal("3.000"), Kind.COUNT, "3"),
        (date(2031, 4, 7), Kind.DAY, "Mon 7 Apr 2031"),
        (12, Kind.COUNT, "12"),
        ("All", Kind.DAY, "All"),
    ],
)
def test_cells_in_words(cell: Cell, kind: Kind, words: str) -> None:
    assert shown(cell, kind) == words


@pytest.mark.parametrize(
    ("part", "whole", "percent"),
    [("1", "3", "33.3"), ("-10", "200", "-5.0"), ("1", "0", None), ("2", "3", "66.7")],
)
def test_percent(part: str, whole: str, percent: str | None) -> None:
    found = percent_of(Decimal(part), Decimal(whole))
    assert found == (None if percent is None else Decimal(percent))


def test_sums_leave_out_what_is_not_known() -> None:
    rows = [Row(("a", 1, None, Decimal("0.10"))), Row(("b", None, None, Decimal("0.20")))]
    assert summed(rows, "All", (1, 2, 3)).cells == ("All", 1, None, Decimal("0.30"))


def test_a_report_is_found_by_its_name_or_its_title() -> None:
    assert report_named("Day close") is report_named("day-close") is REPORTS[0]
    with pytest.raises(JobError, match="no report “profit”: ask for one of day-close, tax,"):
        report_named("profit")
