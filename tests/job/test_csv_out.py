"""Lists as CSV: read back by the csv module, and nothing in them that a spreadsheet would run."""

import csv
from collections.abc import Sequence
from datetime import date
from decimal import Decimal
from io import StringIO
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopdesk.errors import JobError
from shopdesk.job.csv_out import Cell, csv_bytes, csv_text, save_csv

HEADS = ("Day", "Owner", "Amount", "Note")
CELLS = st.one_of(
    st.none(),
    st.text(st.characters(exclude_categories=["Cs"])),
    st.integers(),
    st.decimals(allow_nan=False, allow_infinity=False, places=2),
    st.dates(),
)


def _read(content: bytes) -> list[list[str]]:
    return list(csv.reader(StringIO(content.decode("utf-8-sig"), newline=""), strict=True))


def test_a_file_as_it_stands() -> None:
    rows: list[Sequence[Cell]] = [
        (date(2031, 4, 7), 'Mara "Mo" Quill', Decimal("-5.00"), None),
        (None, "Brightwater, Łukasz", Decimal("1184.20"), "two\nlines"),
    ]
    assert csv_text(HEADS, rows) == (
        "Day,Owner,Amount,Note\r\n"
        '2031-04-07,"Mara ""Mo"" Quill",-5.00,\r\n'
        ',"Brightwater, Łukasz",1184.20,"two\nlines"\r\n'
    )
    assert csv_bytes(HEADS, rows).startswith(b"\xef\xbb\xbfDay,")


@pytest.mark.parametrize(
    "text", ["=1+1", "+1", "-1", "@SUM(A1)", "\t=1", "\r=1", "\n=1", "  =1+1", "＝1", "-5.00"]
)
def test_a_text_like_a_formula_gets_an_apostrophe(text: str) -> None:
    (_, (cell,)) = csv.reader(StringIO(csv_text(["Note"], [[text]]), newline=""))
    assert cell == f"'{text}"


@pytest.mark.parametrize("text", ["a=1", "'tis", "3-5", "mara@example.com", ""])
def test_any_other_text_stays(text: str) -> None:
    (_, cells) = csv.reader(StringIO(csv_text(["Note", "x"], [[text, 1]]), newline=""))
    assert cells == [text, "1"]


@given(st.lists(st.tuples(CELLS, CELLS, CELLS)))
def test_what_is_written_is_read_back(rows: list[tuple[Cell, Cell, Cell]]) -> None:
    heads, *found = _read(csv_bytes("abc", rows))
    assert heads == ["a", "b", "c"]
    assert len(found) == len(rows)
    for row, cells in zip(rows, found, strict=True):
        for cell, text in zip(row, cells, strict=True):
            _check(cell, text)


def _check(cell: Cell, text: str) -> None:
    if isinstance(cell, str):
        assert text in (cell, f"'{cell}")
        assert not text.lstrip().startswith(("=", "+", "-", "@"))
        assert not text.startswith(("\t", "\r", "\n"))
    elif isinstance(cell, Decimal):
        assert Decimal(text) == cell
        assert "E" not in text
    else:
        assert text == ("" if cell is None else str(cell))


def test_a_float_is_refused() -> None:
    with pytest.raises(TypeError, match=r"0\.1 is no cell"):
        csv_text(["Amount"], [[0.1]])  # type: ignore[list-item]


def test_a_row_of_another_length_is_refused() -> None:
    with pytest.raises(ValueError, match="1 cells under 2 heads"):
        csv_text(["a", "b"], [["x"]])


def test_a_file_takes_the_place_of_an_older_one(tmp_path: Path) -> None:
    file = tmp_path / "lists" / "due.csv"
    save_csv(file, ["a"], [["older"]])
    assert save_csv(file, ["a"], [["newer"]]) == file
    assert _read(file.read_bytes()) == [["a"], ["newer"]]
    assert list(file.parent.iterdir()) == [file]


def test_a_file_that_cannot_be_written_is_said(tmp_path: Path) -> None:
    (tmp_path / "lists").write_text("a file, no folder")
    with pytest.raises(JobError, match="can't be written"):
        save_csv(tmp_path / "lists" / "due.csv", ["a"], [])
