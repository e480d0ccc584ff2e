"""What was issued is guarded by the database itself, however the file was opened or upgraded."""

import sqlite3
from contextlib import closing
from datetime import datetime
from pathlib import Path

import pytest

from shopdesk.errors import RecordsError
from shopdesk.records import store
from shopdesk.records.never_changed import ISSUED, lift
from shopdesk.records.store import Records, open_records
from shopdesk.records.tables import StoredFile


def triggers(file: Path) -> set[str]:
    with closing(sqlite3.connect(file)) as raw:
        found = raw.execute("SELECT name FROM sqlite_master WHERE type = 'trigger'").fetchall()
    return {name for (name,) in found}


GUARDS = {f"{table}_no_{deed}" for table in ISSUED for deed in ("update", "delete")}


def test_new_records_are_guarded(records: Records) -> None:
    assert triggers(records.file) == GUARDS
    assert records.unguarded == ()


def test_guards_that_are_gone_are_back_at_the_next_opening(file: Path, now: datetime) -> None:
    opened = open_records(file, now)
    lift(opened.engine)
    opened.close()
    assert triggers(file) == set()
    found = open_records(file, now)
    found.close()
    assert {guard.name for guard in found.unguarded} == GUARDS
    assert triggers(file) == GUARDS
    again = open_records(file, now)
    again.close()
    assert again.unguarded == ()


def test_an_upgrade_may_do_its_work_and_leaves_the_guards_up(
    file: Path, now: datetime, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    opened = open_records(file, now)
    with opened.writing():
        StoredFile.create(sha256="aa", content=b"x")
    opened.close()
    later = tmp_path / "later"
    later.mkdir()
    for migration in store.MIGRATIONS.glob("[0-9]*.py"):
        (later / migration.name).write_text(migration.read_text())
    body = "    db.execute_sql(\"UPDATE stored_file SET sha256 = 'bb'\")\n"
    (later / "9998_fine.py").write_text(f"def up(migrator, db):\n{body}")
    monkeypatch.setattr(store, "MIGRATIONS", later)
    opened = open_records(file, now)
    with opened.reading():
        assert StoredFile.get().sha256 == "bb"
    assert triggers(file) == GUARDS
    assert opened.unguarded == ()
    opened.close()


@pytest.mark.parametrize(
    "statement", ["UPDATE stored_file SET content = x'00'", "DELETE FROM stored_file"]
)
def test_a_change_is_refused_with_what_to_do(records: Records, statement: str) -> None:
    with records.writing():
        StoredFile.create(sha256="aa", content=b"x")
    with (
        pytest.raises(RecordsError, match="put it right with a credit note"),
        records.writing(),
    ):
        records.engine.execute_sql(statement)
    with records.reading():
        assert StoredFile.get().content == b"x"
