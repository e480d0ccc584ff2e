"""``shopdesk due``: the list, and the letters, cards and drafts made from it."""

import csv
import json
from datetime import UTC, datetime
from email import message_from_bytes
from email.policy import default
from pathlib import Path

import pytest
from pypdf import PdfReader

from shopdesk.cli import main
from shopdesk.job.due_messages import upkeep_messages
from shopdesk.job.shift import Shift
from shopdesk.records.store import open_records
from tests.job.due_shop import household, neighbour
from tests.job.workshop import Clock, open_shop


@pytest.fixture
def file(tmp_path: Path) -> Path:
    """The records of a shop in the past of whenever the tests run."""
    clock = Clock(datetime(2024, 4, 7, 15, tzinfo=UTC))
    shift = open_shop(tmp_path, clock)
    household(shift)
    neighbour(shift, 1, preferred_way="letter")
    neighbour(shift, 2, preferred_way="letter")
    neighbour(shift, 3, preferred_way="postcard")
    neighbour(shift, 4, may_remind=False)
    shift.records.close()
    return tmp_path / "shop.db"


def made(file: Path) -> list[tuple[str, str, str]]:
    """Owner, way and state of each message that is kept."""
    records = open_records(file, datetime(2026, 1, 1, tzinfo=UTC))
    found = upkeep_messages(Shift(records))
    records.close()
    return sorted((one.owner, one.message.way, one.message.state) for one in found)


def run(capsys: pytest.CaptureFixture[str], file: Path, *more: str) -> tuple[int, list[str], str]:
    capsys.readouterr()
    code = main(["due", "--records", str(file), *more])
    out, err = capsys.readouterr()
    return code, out.splitlines(), err


def test_it_lists_owners_with_their_machines(
    file: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    code, out, err = run(capsys, file)
    assert (code, err) == (0, "")
    heads = [line for line in out if not line.startswith(" ")]
    assert len(heads) == 5
    (mara,) = (line for line in heads if "Mara Quill" in line)
    assert mara.endswith("Mara Quill, home 555-0142 (by e-mail)")
    assert any(line.endswith("Owner 4, 555-01049 (wants no reminders)") for line in heads)
    at = out.index(mara)
    assert [line.strip().partition(",")[0] for line in out[at + 1 : at + 4]] == [
        *("Chain saw", "Push mower", "String trimmer")
    ]


def test_nothing_is_due(file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    code, out, _ = run(capsys, file, "--by", "2020-01-01")
    assert code == 0
    assert out == [
        "No upkeep falls due up to Wed 1 Jan 2020 that its owner did not hear of.",
    ]


def test_as_json_for_programs(file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    code, out, _ = run(capsys, file, "--json")
    rows = json.loads("\n".join(out))
    assert code == 0
    assert {row["owner"] for row in rows} == {"Mara Quill", *(f"Owner {at}" for at in range(1, 5))}
    assert {"customer_id", "way", "ways", "why_not", "machines"} <= set(rows[0])
    assert {"unit_id", "title", "due_on", "rows", "rounds"} <= set(rows[0]["machines"][0])


def test_for_a_spreadsheet(file: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    table = tmp_path / "due.csv"
    code, out, _ = run(capsys, file, "--csv", str(table))
    assert (code, out) == (0, [str(table)])
    rows = list(csv.DictReader(table.read_text(encoding="utf-8-sig").splitlines()))
    assert len(rows) == 7
    assert sum(row["Owner"] == "Mara Quill" for row in rows) == 3
    assert {row["Not to be reached"] for row in rows} == {"", "wants no reminders"}


def test_letters_and_drafts_are_made_once(
    file: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    letters, cards, mails = tmp_path / "l.pdf", tmp_path / "c.pdf", tmp_path / "mails"
    given = ("--letters", str(letters), "--postcards", str(cards), "--mail", str(mails))
    code, out, err = run(capsys, file, *given)
    assert (code, err) == (0, "")
    assert out == [
        f"2 letters that did not go out yet: {letters}",
        f"1 postcard that did not go out yet: {cards}",
        f"1 e-mail draft that did not go out yet: {mails}",
    ]
    text = "".join(page.extract_text() for page in PdfReader(letters).pages)
    assert "Dear Owner 1," in text
    assert "Dear Owner 2," in text
    assert len(PdfReader(cards).pages) == 1
    (draft,) = mails.glob("*.eml")
    assert message_from_bytes(draft.read_bytes(), policy=default)["To"].startswith("Mara Quill")
    assert run(capsys, file, *given)[1] == out
    assert made(file) == [
        ("Mara Quill", "e-mail", "made"),
        ("Owner 1", "letter", "made"),
        ("Owner 2", "letter", "made"),
        ("Owner 3", "postcard", "made"),
    ]
    _, left, _ = run(capsys, file)
    assert [line for line in left if "wants no reminders" not in line and line[0] != " "] == []


def test_what_is_not_asked_for_is_not_made(
    file: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    run(capsys, file, "--postcards", str(tmp_path / "c.pdf"))
    assert made(file) == [("Owner 3", "postcard", "made")]
    code, out, _ = run(capsys, file, "--by", "2020-01-01", "--letters", str(tmp_path / "l.pdf"))
    assert (code, out) == (0, ["0 letters that did not go out yet"])
    assert not (tmp_path / "l.pdf").exists()


def test_a_file_that_cant_be_written_loses_nothing(
    file: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "in the way").write_text("a file")
    code, _, err = run(capsys, file, "--letters", str(tmp_path / "in the way" / "l.pdf"))
    assert code == 1
    assert "can't be written" in err
    assert "What was made waits" in err
    _, out, _ = run(capsys, file, "--letters", str(tmp_path / "l.pdf"))
    assert out == [f"2 letters that did not go out yet: {tmp_path / 'l.pdf'}"]


def test_no_date_is_said(file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    code, out, err = run(capsys, file, "--by", "31 feb")
    assert (code, out) == (1, [])
    assert "There is no 31 Feb" in err
