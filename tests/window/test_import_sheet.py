"""In and out, by keyboard: choose a list, send a column elsewhere, bring it in, take it back."""

import itertools
import threading
import zipfile
from pathlib import Path

import pytest

from shopdesk.desk.import_sheet import ImportSheet
from shopdesk.job.customers import suggest_owners
from shopdesk.job.importing.entries import Wrong
from shopdesk.job.importing.keeping import imports
from shopdesk.job.importing.progress import Tell
from shopdesk.job.units import units_of
from tests.window.conftest import Driver

LIST = """Client,Handy,E-mail,Street,Town,Machine,Brand,Type No,Serial
"Brightwater, Ansel",555-0142,,9 Mill Row,Wrenmoor Bend,chain saw,Osmarrow,OS 40,OS-1
Perrin Oakhollow,555-0177,perrin@example.com,1 Ferry Lane,Wrenmoor Bend,mower,Hartwell,HW 5,
Elsie Oakhollow,555-0177,not an address,1 Ferry Lane,Wrenmoor Bend,,,,
"""


@pytest.fixture
def listed(tmp_path: Path) -> Path:
    file = tmp_path / "clients.csv"
    file.write_text(LIST, "utf-8")
    return file


@pytest.fixture
def sheet(desk: Driver, listed: Path) -> ImportSheet:
    """In and out, with the list chosen and tried."""
    desk.press("<F10>", "<Alt-i>")
    found = desk.window.in_sight
    assert isinstance(found, ImportSheet)
    desk.dialogs.answers.append([listed])
    desk.press("<Alt-c>")
    desk.settle()
    return found


def _row(sheet: ImportSheet, place: int) -> tuple[str, ...]:
    return tuple(sheet.rows.cells(place))


def test_the_list_is_tried_at_once_and_nothing_is_kept(desk: Driver, sheet: ImportSheet) -> None:
    assert "clients.csv: 3 rows, CSV, cells parted by commas, UTF-8" in sheet.told
    assert "1 new owner, 2 new machines; 1 owner added to; 1 of 3 rows left out" in sheet.told
    assert "adds to Ansel Brightwater: same name and phone 5550142" in _row(sheet, 0)
    assert _row(sheet, 2)[2].startswith("to be mended: “not an address” is no e-mail address")
    assert suggest_owners(desk.shift, "Oakhollow") == ()
    desk.shots("in-and-out")


def test_a_wrong_row_stops_all_until_it_is_noted(desk: Driver, sheet: ImportSheet) -> None:
    desk.press("<Alt-k>")
    assert "Something is wrong in clients.csv line 4" in desk.notice
    assert imports(desk.shift) == ()
    sheet.choices["wrong"].set(Wrong.NOTE.value)
    sheet._chosen()
    desk.settle()
    desk.dialogs.answers.append(True)
    desk.press("<Alt-k>")
    assert desk.notice.startswith("Brought in: 2 new owners, 2 new machines, 1 owner added to")
    (elsie,) = suggest_owners(desk.shift, "Elsie")
    assert elsie.notes == "E-mail: not an address"
    assert next(unit.title for unit in units_of(desk.shift, 1)) == "Chain saw, Osmarrow"


def test_a_column_goes_elsewhere(desk: Driver, sheet: ImportSheet) -> None:
    words = [tuple(sheet.columns.list.cells(place))[2] for place in range(9)]
    assert words[:3] == ["Owner: name", "Owner: phone (handy)", "Owner: e-mail"]
    assert words[7] == "left out"
    sheet.columns.list.select(7)
    desk.settle()
    desk.press("<Return>")
    desk.type("Machine: mo")
    desk.press("<Return>")
    assert desk.focus is sheet.columns.list.tree
    assert tuple(sheet.columns.list.cells(7))[2] == "Machine: model"
    assert _row(sheet, 0)[3] == "Chain saw, Osmarrow OS 40, new"


def test_who_may_be_the_same_is_asked(desk: Driver, sheet: ImportSheet) -> None:
    sheet.rows.focus_list()
    sheet.rows.select(0)
    desk.dialogs.answers.append("Somebody else")
    desk.press("<Return>")
    assert "There is already Ansel Brightwater" in desk.dialogs.asked[-1]
    assert _row(sheet, 0)[2].startswith("new")


def test_only_what_needs_a_look(desk: Driver, sheet: ImportSheet) -> None:
    sheet.choices["wrong"].set(Wrong.LEAVE_OUT.value)
    sheet._chosen()
    desk.settle()
    assert len(sheet.rows.tree.get_children()) == 3
    desk.press("<Alt-w>")
    assert [sheet.rows.cells(int(key))[0] for key in sheet.rows.tree.get_children()] == [
        *("2", "3", "4")
    ]


def test_what_was_brought_in_is_taken_back(desk: Driver, sheet: ImportSheet) -> None:
    sheet.choices["wrong"].set(Wrong.LEAVE_OUT.value)
    sheet._chosen()
    desk.settle()
    desk.dialogs.answers.append(True)
    desk.press("<Alt-k>")
    assert len(suggest_owners(desk.shift, "Oakhollow")) == 1
    desk.dialogs.answers.append(0)
    desk.press("<Alt-z>")
    assert desk.notice.startswith("Taken back: clients.csv")
    assert suggest_owners(desk.shift, "Oakhollow") == ()
    desk.press("<Alt-z>")
    assert desk.notice == "No list was brought in that could be taken back."


def test_a_file_that_is_no_list(desk: Driver, sheet: ImportSheet, tmp_path: Path) -> None:
    other = tmp_path / "book.xlsx"
    other.write_bytes(b"PK\x03\x04" + bytes(40))
    desk.dialogs.answers.append([other])
    desk.press("<Alt-c>")
    assert desk.notice == (
        "book.xlsx is a spreadsheet or a zip, no text: save the list as CSV there first."
    )
    assert not sheet.long.running


def test_long_work_is_stopped_by_a_key(desk: Driver, sheet: ImportSheet) -> None:
    begun = threading.Event()

    def work(tell: Tell) -> None:
        for done in itertools.count():
            tell(done, 1000)
            begun.set()

    sheet.long.run("Counting", work, lambda _done: None)
    desk.until(begun.is_set)
    assert sheet.long.running
    desk.press("<Alt-q>")
    assert desk.notice == "Stopped: nothing was kept."
    assert not sheet.long.running


def test_everything_is_written_out(desk: Driver, sheet: ImportSheet) -> None:
    desk.press("<Alt-e>")
    (file,) = (desk.window.front.papers.folder / "shop").glob("everything*.zip")
    assert str(file) in desk.notice
    with zipfile.ZipFile(file) as archive:
        assert "everything.json" in archive.namelist()


def test_without_a_list_it_says_what_to_do(desk: Driver) -> None:
    desk.press("<F10>", "<Alt-i>", "<Alt-k>")
    assert desk.notice == "Choose a list first (Alt+C), and wait until it is tried."
