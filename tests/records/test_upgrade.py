"""Upgrading older records: from every earlier state, with a backup first, all of it or nothing."""

import shutil
import sqlite3
from contextlib import closing
from datetime import datetime
from pathlib import Path
from typing import Any

import pytest
from peewee import SqliteDatabase
from playhouse.migrations import Runner
from playhouse.schema_diff import diff_models

from shopdesk.errors import RecordsError
from shopdesk.records import store
from shopdesk.records.store import APPLICATION_ID, HISTORY_TABLE, known_migrations, open_records
from shopdesk.records.tables import TABLES

SAMPLES = {"INTEGER": 1, "BIGINT": 1, "DATE": "2031-04-07", "DATETIME": "2031-04-07 15:00:00"}


def older(file: Path, migration: str) -> Path:
    """Return ``file`` as the version that ended at ``migration`` left it, a row in each table."""
    engine = SqliteDatabase(str(file))
    engine.connect()
    engine.execute_sql(f"PRAGMA application_id = {APPLICATION_ID}")
    Runner(engine, str(store.MIGRATIONS), table_name=HISTORY_TABLE).up(migration)
    engine.close()
    with closing(sqlite3.connect(file)) as raw, raw:
        for table in tables_of(raw) - {HISTORY_TABLE}:
            columns = raw.execute(f'PRAGMA table_info("{table}")').fetchall()
            values = [
                SAMPLES.get(kind.split("(")[0], f"{name} text") for _, name, kind, *_ in columns
            ]
            marks = ", ".join("?" * len(values))
            raw.execute(f'INSERT INTO "{table}" VALUES ({marks})', values)
        assert raw.execute("PRAGMA foreign_key_check").fetchall() == []
    return file


def tables_of(raw: sqlite3.Connection) -> set[str]:
    """Return the tables that hold what was typed: the find index is made from them."""
    names = raw.execute("SELECT name FROM sqlite_master WHERE type = 'table'").fetchall()
    return {name for (name,) in names if not name.startswith(("sqlite_", "search_"))}


def dump(file: Path) -> list[str]:
    with closing(sqlite3.connect(file)) as raw:
        return list(raw.iterdump())


def rows_of(file: Path) -> dict[str, list[dict[str, Any]]]:
    with closing(sqlite3.connect(file)) as raw:
        raw.row_factory = sqlite3.Row
        return {
            table: [dict(row) for row in raw.execute(f'SELECT * FROM "{table}"')]
            for table in tables_of(raw) - {HISTORY_TABLE}
        }


def shape(raw: sqlite3.Connection) -> dict[str, set[tuple[object, ...]]]:
    """Return by table its columns with type, need and key, and where its references lead."""
    return {
        table: {
            *(tuple(row[1:4]) + row[5:] for row in raw.execute(f'PRAGMA table_info("{table}")')),
            *(tuple(row[2:7]) for row in raw.execute(f'PRAGMA foreign_key_list("{table}")')),
        }
        for table in tables_of(raw) - {HISTORY_TABLE}
    }


def test_the_migrations_are_numbered_without_gap() -> None:
    numbers = [int(name.partition("_")[0]) for name in known_migrations()]
    assert numbers == list(range(1, len(numbers) + 1))


def test_the_migrations_bring_a_file_to_exactly_the_tables(file: Path, now: datetime) -> None:
    records = open_records(file, now)
    assert not diff_models(records.engine, TABLES)
    made = SqliteDatabase(":memory:")
    with made.bind_ctx(TABLES):
        made.create_tables(TABLES)
        assert shape(records.engine.connection()) == shape(made.connection())
    records.close()


@pytest.mark.parametrize("migration", known_migrations()[:-1])
def test_each_older_file_is_backed_up_and_upgraded(
    file: Path, now: datetime, migration: str
) -> None:
    before, rows = dump(older(file, migration)), rows_of(file)
    records = open_records(file, now)
    after = known_migrations()[known_migrations().index(migration) + 1]
    backup = file.parent / "backups" / f"shop-before-{after}-20310407T150030.db"
    assert records.backed_up_to == backup
    assert dump(backup) == before
    assert not diff_models(records.engine, TABLES)
    assert records.engine.pragma("foreign_keys") == 1
    assert records.engine.execute_sql("PRAGMA foreign_key_check").fetchall() == []
    records.close()
    upgraded = rows_of(file)
    for table, old in rows.items():
        for was, now_is in zip(old, upgraded[table], strict=True):
            assert was == {name: now_is[name] for name in was}
    assert open_records(file, now).backed_up_to is None


@pytest.mark.parametrize("migration", known_migrations()[1:])
def test_each_migration_can_be_taken_back(file: Path, migration: str) -> None:
    names = known_migrations()
    earlier = names[names.index(migration) - 1]
    older(file, earlier)
    rows = rows_of(file)
    engine = SqliteDatabase(str(file))
    with engine:
        runner = Runner(engine, str(store.MIGRATIONS), table_name=HISTORY_TABLE)
        runner.up(migration)
        runner.down(migration)
    engine.close()
    assert rows_of(file) == rows


BROKEN = {
    "wrong statement": 'db.execute_sql("CREATE TABLE half (id)"); db.execute_sql("NONSENSE")',
    "wrong value": 'db.execute_sql("CREATE TABLE half (id)"); int("x")',
    "lost reference": 'db.execute_sql("DELETE FROM customer")',
}


@pytest.mark.parametrize("body", BROKEN.values(), ids=BROKEN)
def test_a_failed_upgrade_leaves_the_file_and_a_backup(
    file: Path, now: datetime, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, body: str
) -> None:
    before = dump(older(file, known_migrations()[-1]))
    later = tmp_path / "later"
    shutil.copytree(store.MIGRATIONS, later)
    (later / "9998_fine.py").write_text(
        "def up(migrator, db):\n    db.execute_sql('CREATE TABLE fine (id INTEGER)')\n"
    )
    (later / "9999_broken.py").write_text(f"def up(migrator, db):\n    {body}\n")
    with monkeypatch.context() as patched:
        patched.setattr(store, "MIGRATIONS", later)
        with pytest.raises((RecordsError, ValueError)):
            open_records(file, now)
    assert dump(file) == before
    (backup,) = (file.parent / "backups").iterdir()
    assert dump(backup) == before
    open_records(file, now).close()


def test_an_upgrade_without_room_for_its_backup_changes_nothing(file: Path, now: datetime) -> None:
    before = dump(older(file, known_migrations()[0]))
    (file.parent / "backups").write_text("a file is in the way")
    with pytest.raises(RecordsError):
        open_records(file, now)
    assert dump(file) == before
