"""The commands at work on the demo shop's records."""

import json
import re
import shutil
import sqlite3
import sys
from contextlib import closing
from pathlib import Path

import pytest
from pypdf import PdfReader

from shopdesk.cli import main
from shopdesk.demo.folder import RECORDS
from tests.demo.conftest import Ran


@pytest.fixture
def records(ran: Ran, tmp_path: Path) -> Path:
    """A copy of the demo shop that a test may change."""
    copy = tmp_path / "shop"
    shutil.copytree(ran.folder, copy)
    return copy / RECORDS


def _run(capsys: pytest.CaptureFixture[str], *arguments: str) -> tuple[int, str, str]:
    code = main(arguments)
    said = capsys.readouterr()
    return code, said.out, said.err


def _harmed(records: Path, harm: str) -> int:
    """Change rows past the program, what was issued among them; return how many."""
    with closing(sqlite3.connect(records)) as database, database:
        for deed in ("update", "delete"):
            database.execute(f"DROP TRIGGER invoice_no_{deed}")
        return database.execute(harm).rowcount


def test_papers_writes_every_paper_of_a_ticket(
    ran: Ran, records: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    folder = tmp_path / "out"
    arguments = ("papers", f"T{ran.number}", "--folder", str(folder), "--records", str(records))
    code, out, err = _run(capsys, *arguments)
    assert (code, err) == (0, "")
    files = [Path(line) for line in out.splitlines()]
    assert {file.parent for file in files} == {folder}
    assert len(files) == 6
    assert all(PdfReader(file).pages for file in files)


def test_papers_go_beside_the_records_and_a_bare_number_will_do(
    ran: Ran, records: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    code, out, _ = _run(capsys, "--records", str(records), "papers", str(ran.number))
    assert code == 0
    assert str(records.with_name("shop-papers") / f"T{ran.number}") in out


@pytest.mark.parametrize(
    ("typed", "sentence"),
    [
        ("T99999", "There is no ticket 99999: check the number on the tag.\n"),
        ("mower", "“mower” is no ticket number: type it as on the tag, such as T1043.\n"),
    ],
)
def test_papers_of_no_ticket_is_said(
    records: Path, typed: str, sentence: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert _run(capsys, "papers", typed, "--records", str(records)) == (1, "", sentence)


def test_papers_into_a_file_is_said(
    ran: Ran, records: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    code, out, err = _run(
        capsys, "papers", str(ran.number), "--folder", str(records), "--records", str(records)
    )
    assert (code, out) == (1, "")
    assert "can't be written into" in err


def test_journal_tells_who_changed_what_when_and_from_what_to_what(
    ran: Ran, records: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    code, out, err = _run(capsys, "journal", f"T{ran.number}", "--records", str(records))
    assert (code, err) == (0, "")
    lines = out.splitlines()
    assert re.fullmatch(
        rf"\w{{3}} \d+ May 2027, \d\d:\d\d  Odalys  added ticket T{ran.number}", lines[0]
    )
    assert "    owner: Phoebe Castellan-Roe" in lines
    assert "    stage: Intake → Diagnosis" in lines
    assert "    supply: to order → on order" in lines
    assert "    expected: Wed 12 May 2027 → nothing" in lines
    assert any(line.endswith("Odalys  added payment of $20.00") for line in lines)
    assert any(": told ready: by phone" in line for line in lines)


def test_journal_as_json_is_for_programs(
    ran: Ran, records: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    arguments = ("journal", str(ran.number), "--json", "--records", str(records))
    code, out, _ = _run(capsys, *arguments)
    changes = json.loads(out)
    assert code == 0
    assert set(changes[0]) == {"at", "who", "action", "row", "columns", "why"}
    assert [change["at"] for change in changes] == sorted(change["at"] for change in changes)
    assert {"what": "stage", "before": "Intake", "after": "Diagnosis"} in changes[1]["columns"]


def test_journal_of_no_ticket_is_said(records: Path, capsys: pytest.CaptureFixture[str]) -> None:
    code, out, err = _run(capsys, "journal", "T99999", "--records", str(records))
    assert (code, out) == (1, "")
    assert err == "There is no ticket 99999: check the number on the tag.\n"


def test_due_lists_the_earliest_first(records: Path, capsys: pytest.CaptureFixture[str]) -> None:
    code, out, err = _run(capsys, "due", "--records", str(records))
    assert (code, err) == (0, "")
    heads = [line for line in out.splitlines() if not line.startswith(" ")]
    assert heads
    assert all(re.match(r"\w{3} \d+ \w{3} \d{4}  .+, .+ \(.+\)$", line) for line in heads)


def test_backup_copies_records_and_photos(
    records: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    copy = tmp_path / "safe" / "copy.db"
    code, out, _ = _run(capsys, "backup", str(copy), "--records", str(records))
    assert code == 0
    assert str(copy) in out
    photos = sorted(path.name for path in (copy.parent / "copy-photos").iterdir())
    assert photos == sorted(path.name for path in (records.parent / "shop-photos").iterdir())
    assert _run(capsys, "check", "--records", str(copy))[0] == 0


def test_backup_leaves_nothing_but_the_copy(
    records: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    before = sorted(path.name for path in records.parent.iterdir())
    copy = tmp_path / "safe" / "copy.db"
    assert _run(capsys, "backup", str(copy), "--records", str(records))[0] == 0
    assert sorted(path.name for path in copy.parent.iterdir()) == ["copy-photos", "copy.db"]
    assert sorted(path.name for path in records.parent.iterdir()) == before


@pytest.mark.skipif(sys.platform != "linux", reason="a folder that nobody can write into")
def test_backup_to_where_nothing_can_be_written_is_said(
    records: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    code, out, err = _run(capsys, "backup", "/proc/nowhere/copy.db", "--records", str(records))
    assert (code, out) == (1, "")
    assert err == (
        "The copy /proc/nowhere/copy.db can't be opened: "
        "see that the folder is there and that you may write in it.\n"
    )
    assert "Errno" not in err


def test_photos_that_cannot_be_copied_are_said(
    records: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "copy-photos").write_text("in the way")
    copy = tmp_path / "copy.db"
    code, out, err = _run(capsys, "backup", str(copy), "--records", str(records))
    assert (code, out) == (1, f"The records are copied to {copy}\n")
    assert "could not be copied to" in err
    assert "(File exists)" in err


def test_backup_without_a_place_goes_beside_the_records(
    records: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert _run(capsys, "backup", "--records", str(records))[0] == 0
    (copy,) = (records.parent / "backups").glob("*.db")
    assert copy.stat().st_size == records.stat().st_size


def test_backup_never_writes_over_a_file(
    records: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    taken = tmp_path / "taken.db"
    taken.write_text("mine")
    code, _, err = _run(capsys, "backup", str(taken), "--records", str(records))
    assert (code, err) == (
        1,
        f"{taken} is there already and is left as it is: name another file.\n",
    )
    assert taken.read_text() == "mine"


def test_check_says_what_it_proved(records: Path, capsys: pytest.CaptureFixture[str]) -> None:
    code, out, err = _run(capsys, "check", "--records", str(records))
    assert (code, err) == (0, "")
    assert "proved: the database of shop.db is whole" in out
    assert re.search(r"proved: \d+ invoices and 2 credit notes add up to what was printed", out)
    assert re.search(r"proved: every row is as the journal's [\d,]+ entries tell", out)
    assert "\nnot proved: that nobody changed a row and its journal entries alike" in out


@pytest.mark.parametrize(
    ("harm", "fault"),
    [
        ("UPDATE invoice SET total = total + 1 WHERE number = '5003'", "invoice 5003 is kept as"),
        (
            "UPDATE invoice SET number = '9003' WHERE number = '5003'",
            "invoice 9003 was printed as 5003",
        ),
        (
            "UPDATE phone SET customer_id = 99999 WHERE id = 1",
            "row 1 of phone points to a customer",
        ),
        (
            'UPDATE invoice SET content = replace(content, \'"net":"\', \'"net":"1\') '
            "WHERE number = '5003'",
            "invoice 5003 is kept as",
        ),
        ("UPDATE photo SET file = 'gone.jpg' WHERE id = 1", "gone.jpg is missing"),
        ("UPDATE payment SET amount = amount + 100 WHERE id = 1", "is not as the journal tells"),
        ("DELETE FROM journal_entry WHERE id = 7", "the journal lacks 1 of its entries"),
    ],
)
def test_check_finds_harm(
    records: Path, harm: str, fault: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert _harmed(records, harm) == 1
    code, out, err = _run(capsys, "check", "--records", str(records))
    assert (code, out) == (1, "")
    assert fault in err
    assert err.count("\n") == 1


def test_check_as_json_says_the_same(records: Path, capsys: pytest.CaptureFixture[str]) -> None:
    code, out, _ = _run(capsys, "check", "--json", "--records", str(records))
    assert (code, json.loads(out)["sound"]) == (0, True)
    assert json.loads(out)["not_proved"]
    assert _harmed(records, "DELETE FROM invoice WHERE number = '5003'") == 1
    code, out, err = _run(capsys, "check", "--json", "--records", str(records))
    assert (code, err) == (1, "")
    assert json.loads(out)["faults"] == [
        "invoice 5003 is missing",
        "the chain of invoices breaks before invoice 5004, which stands after invoice 5002: "
        "what was issued in between is missing, or the one before was changed",
        "invoice 5003 is gone, and the journal does not tell who took it away",
        "the guard that keeps issued invoices from being changed was taken away",
        "the guard that keeps issued invoices from being deleted was taken away",
    ]


def test_a_second_demo_in_a_real_shops_folder_is_refused(
    records: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    folder = records.parent
    (folder / "shopdesk-demo.txt").unlink()
    before = records.read_bytes()
    code, out, err = _run(capsys, "demo", "--folder", str(folder), "--no-window")
    assert (code, out) == (1, "")
    assert "is no demo, and is left alone" in err
    assert records.read_bytes() == before
