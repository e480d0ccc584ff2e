"""CSV files of every kind as a list: what parts the cells, headings, hostile ones refused."""

import csv
from io import StringIO

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopdesk.errors import JobError
from shopdesk.job.csv_out import csv_text
from shopdesk.job.importing.listing import MOST_COLUMNS, MOST_ROWS, Listing, listing_of
from shopdesk.job.importing.matching import guess
from shopdesk.job.importing.text_in import ReadText


def listing(text: str) -> Listing:
    return listing_of("list.csv", ReadText(text, "UTF-8"))


def cells(text: str) -> list[tuple[str, ...]]:
    return [row.cells for row in listing(text).rows]


@pytest.mark.parametrize(
    ("delimiter", "words"), [(",", "commas"), (";", "semicolons"), ("\t", "tabs"), ("|", "bars")]
)
def test_what_parts_the_cells_is_guessed(delimiter: str, words: str) -> None:
    out = StringIO()
    writer = csv.writer(out, delimiter=delimiter)
    writer.writerows([["Name", "Note"], ["Quill, Mara", "a; b, c | d"], ["Łukasz", "x,y"]])
    found = listing(out.getvalue())
    assert found.read_as == f"CSV, cells parted by {words}, UTF-8"
    assert found.heads == ("Name", "Note")
    assert found.rows[0].cells == ("Quill, Mara", "a; b, c | d")


def test_a_spreadsheet_says_what_parts_them() -> None:
    assert cells("sep=;\nName;Note\nMara;a,b,c\n") == [("Mara", "a,b,c")]


@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
def test_any_line_end_and_lines_within_a_cell(end: str) -> None:
    text = end.join(["Name,Address", 'Mara,"7 Orchard Row\nFernhollow"', "", "Lu,x", ""])
    found = listing(text)
    assert [row.cells for row in found.rows] == [
        ("Mara", "7 Orchard Row\nFernhollow"),
        ("Lu", "x"),
    ]
    assert [row.line for row in found.rows] == [2, 5]


def test_short_rows_are_filled_and_headings_told_apart() -> None:
    found = listing("Phone,Phone,\n1,2,3\n4\n")
    assert found.heads == ("Phone", "Phone (2)", "Column 3")
    assert found.rows[1].cells == ("4", "", "")


def test_a_list_without_headings() -> None:
    found, matches = guess(listing("Mara Quill,mara@example.com\nLu Ash,lu@example.com\n"))
    assert not found.has_heads
    assert [row.cells[0] for row in found.rows] == ["Mara Quill", "Lu Ash"]
    assert matches[1].place == "email"
    assert found.with_heads(True).heads == ("Mara Quill", "mara@example.com")


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("", "holds no rows"),
        (",,,\n , \n", "holds no rows"),
        ('Name,Note\nMara,"open\nand\non\n', "can't be read at line 2: a quotation mark"),
        ('Name,Note\nMara,"a"b\n', "can't be read at line 2"),
        ("Name\n" + "a" * 200_000, "can't be read at line 2"),
        (",".join("a" * (MOST_COLUMNS + 1)), f"columns: keep {MOST_COLUMNS} at most"),
        ("a,b\n" + "1,2\n" * (MOST_ROWS + 1), "rows: bring in 100,000 at a time"),
    ],
)
def test_what_is_no_list_is_refused(text: str, sentence: str) -> None:
    with pytest.raises(JobError) as error:
        listing(text)
    assert sentence in error.value.sentence


TEXT = st.text(st.characters(exclude_categories=["Cs"], exclude_characters="\0"), max_size=12)


@given(st.lists(st.tuples(TEXT, TEXT, st.just("end")), min_size=1, max_size=5))
def test_what_we_write_is_read_back(rows: list[tuple[str, str, str]]) -> None:
    """Formulas too: the apostrophe that csv_out puts before them is taken off again."""
    found = listing(csv_text(["one", "two", "three"], rows))
    assert [row.cells for row in found.rows] == rows


@given(st.text(max_size=200))
def test_any_text_is_a_list_or_refused(text: str) -> None:
    try:
        found = listing(text)
    except JobError:
        return
    assert all(len(row.cells) == len(found.heads) for row in found.rows)
    guess(found)
