"""Copies of the records: whole, checked, and never half."""

import sqlite3
import stat
import sys
from contextlib import closing
from datetime import datetime
from pathlib import Path

import pytest

from shopdesk.errors import RecordsError
from shopdesk.records.backup import copy_records
from shopdesk.records.store import Records, open_records
from shopdesk.records.tables import Customer
from tests.records.conftest import NOW
from tests.records.test_store import filled
from tests.records.test_upgrade import dump


def test_a_copy_is_whole_while_the_records_are_in_use(
    records: Records, file: Path, tmp_path: Path
) -> None:
    with records.writing():
        Customer.create(name="Mara", folded_name="mara", created_at=NOW)
    copy = tmp_path / "safe" / "copy.db"
    copy_records(file, copy)
    assert dump(copy) == dump(file)
    assert [path.name for path in copy.parent.iterdir()] == ["copy.db"]


def test_a_copy_opens_as_records(file: Path, tmp_path: Path, now: datetime) -> None:
    filled(file, 3)
    copy_records(file, tmp_path / "copy.db")
    records = open_records(tmp_path / "copy.db", now)
    with records.reading():
        assert Customer.select().count() == 3
    records.close()


@pytest.mark.skipif(sys.platform == "win32", reason="needs file modes")
def test_a_copy_is_its_owners_alone(file: Path, tmp_path: Path) -> None:
    copy_records(filled(file, 1), tmp_path / "copy.db")
    assert stat.S_IMODE((tmp_path / "copy.db").stat().st_mode) == 0o600


def test_what_is_not_there_is_not_copied(file: Path, tmp_path: Path) -> None:
    with pytest.raises(RecordsError, match=r"There are no records at .* to copy"):
        copy_records(file, tmp_path / "copy.db")


def test_a_damaged_file_is_not_copied_over_a_good_copy(file: Path, tmp_path: Path) -> None:
    copy = tmp_path / "copy.db"
    copy_records(filled(file), copy)
    good = dump(copy)
    content = bytearray(file.read_bytes())
    for start in range(4096, len(content), 4096):
        content[start : start + 64] = b"\xff" * 64
    file.write_bytes(content)
    with pytest.raises(RecordsError, match=f"The records {file} are damaged"):
        copy_records(file, copy)
    assert dump(copy) == good
    assert not list(tmp_path.glob("*.part"))


def with_a_row_missing_from_an_index(file: Path) -> Path:
    """Damage that SQLite copies page by page without a word: an index that lacks a row."""
    filled(file, 3)
    named = "name = 'customer_folded_name'"
    with closing(sqlite3.connect(file)) as raw, raw:
        raw.execute("PRAGMA writable_schema = ON")
        columns = "type, name, tbl_name, rootpage, sql"
        (index,) = raw.execute(f"SELECT {columns} FROM sqlite_master WHERE {named}")
        raw.execute(f"DELETE FROM sqlite_master WHERE {named}")
    with closing(sqlite3.connect(file)) as raw, raw:
        raw.execute("DELETE FROM customer WHERE id = 2")
        raw.execute("PRAGMA writable_schema = ON")
        raw.execute(f"INSERT INTO sqlite_master ({columns}) VALUES (?, ?, ?, ?, ?)", index)
    return file


def test_a_copy_that_is_not_good_is_refused_and_taken_away(file: Path, tmp_path: Path) -> None:
    with_a_row_missing_from_an_index(file)
    folder = tmp_path / "safe"
    with pytest.raises(RecordsError, match=r"are damaged \(wrong # of entries in index"):
        copy_records(file, folder / "copy.db")
    assert list(folder.iterdir()) == []


def test_a_look_at_a_copy_leaves_nothing_beside_it(file: Path, tmp_path: Path) -> None:
    copy = tmp_path / "safe" / "copy.db"
    copy_records(filled(file, 1), copy)
    with closing(sqlite3.connect(f"{copy.as_uri()}?mode=ro", uri=True)) as raw:
        assert raw.execute("SELECT count(*) FROM customer").fetchone() == (1,)
    assert list(copy.parent.iterdir()) == [copy]


def test_where_a_copy_cannot_be_written_is_said(file: Path, tmp_path: Path) -> None:
    filled(file, 1)
    (tmp_path / "way").write_text("in the way")
    with pytest.raises(RecordsError, match=r"The copy .*copy\.db can't be opened: see that"):
        copy_records(file, tmp_path / "way" / "copy.db")
