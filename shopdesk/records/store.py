"""Opens a shop's records file: looks before touching it, backs it up, and upgrades it."""

import sqlite3
from collections.abc import Iterator
from contextlib import ExitStack, closing, contextmanager
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from time import monotonic, sleep

from peewee import DatabaseError, OperationalError, SqliteDatabase
from playhouse.migrations import Runner

from shopdesk.errors import RecordsError
from shopdesk.records import never_changed, search
from shopdesk.records.backup import copy_records
from shopdesk.records.tables import database
from shopdesk.records.troubles import trouble
from shopdesk.text import fold

MIGRATIONS = Path(__file__).parent / "migrations"
HISTORY_TABLE = "schema_migration"
APPLICATION_ID = 0x53484450
"""Marks a SQLite file as ours: the letters SHDP."""
WAIT_SECONDS = 5.0


@dataclass(frozen=True, slots=True)
class Records:
    """An open records file: one at a time in a process, with a connection for each thread."""

    file: Path
    engine: SqliteDatabase
    backed_up_to: Path | None = None
    """The backup made because this opening upgraded the file."""
    unguarded: tuple[never_changed.Guard, ...] = ()
    """The guards of what was issued that this opening found gone, and put up again."""

    @property
    def photo_folder(self) -> Path:
        """The folder of the photos, beside the file."""
        return self.file.with_name(f"{self.file.stem}-photos")

    @property
    def templates_folder(self) -> Path:
        """The folder of the shop's own words for its papers, beside the file."""
        return self.file.with_name(f"{self.file.stem}-templates")

    @contextmanager
    def writing(self) -> Iterator[None]:
        """Run the block as one transaction, all or nothing; raises ``RecordsError``."""
        with self._transaction("IMMEDIATE"):
            yield

    @contextmanager
    def reading(self) -> Iterator[None]:
        """Run the block on one unchanging view of the records; raises ``RecordsError``."""
        with self._transaction("DEFERRED"):
            yield

    @contextmanager
    def _transaction(self, lock: str) -> Iterator[None]:
        if database.obj is not self.engine:
            raise RecordsError(
                f"Other records were opened meanwhile, and {self.file} was left alone: "
                "open it again."
            )
        try:
            self.engine.connect(reuse_if_open=True)
            with self.engine.atomic(lock):
                yield
        except (DatabaseError, sqlite3.Error) as error:
            raise trouble(error, self.file) from error

    def close(self) -> None:
        """Close this thread's connection."""
        if not self.engine.is_closed():
            self.engine.close()


def open_records(file: Path, now: datetime, *, wait: float = WAIT_SECONDS) -> Records:
    """Open the records in ``file``, making them when there are none and upgrading older ones.

    ``now`` names the backup that an upgrade makes first; ``wait`` is how many seconds to wait for
    another program's lock. Raises ``RecordsError``: not ours, from a newer version, damaged,
    locked, read-only, full.
    """
    file = file.expanduser().absolute()
    applied = _look(file, wait)
    pending = [name for name in known_migrations() if name not in applied]
    backed_up_to = _back_up_before(pending[0], file, now) if applied and pending else None
    pragmas = {"journal_mode": "wal", "foreign_keys": 1, "synchronous": "full"}
    engine = SqliteDatabase(str(file), pragmas=pragmas, timeout=wait)
    engine.register_function(fold, "fold", 1)
    with ExitStack() as undo:
        undo.callback(engine.close)
        try:
            unguarded = _prepare(engine, file, bool(pending), wait)
            undo.callback(database.initialize, database.obj)
            database.initialize(engine)
            with engine.atomic("IMMEDIATE"):
                search.prepare(anew=bool(pending))
        except (DatabaseError, sqlite3.Error, OSError) as error:
            raise trouble(error, file) from error
        undo.pop_all()
    return Records(file, engine, backed_up_to, unguarded)


def known_migrations() -> list[str]:
    """Return the names of this version's migrations, in order."""
    return sorted(path.stem for path in MIGRATIONS.glob("[0-9]*.py"))


def _look(file: Path, wait: float) -> set[str]:
    """Return the migrations that ``file`` has had, changing no byte; refuse what is not ours."""
    if file.is_dir():
        raise RecordsError(f"{file} is a folder: name a file in it, such as {file / 'shop.db'}.")
    if not file.exists() or file.stat().st_size == 0:
        _make_folder(file.parent)
        return set()
    in_use = file.with_name(f"{file.name}-wal").exists()
    how = "mode=ro" if in_use else "immutable=1"
    try:
        with closing(sqlite3.connect(f"{file.as_uri()}?{how}", uri=True, timeout=wait)) as peek:
            applied = _applied(peek, file)
    except sqlite3.Error as error:
        raise trouble(error, file) from error
    newer = applied.difference(known_migrations())
    if newer:
        raise RecordsError(
            f"{file} was written by a newer shopdesk ({max(newer)}): it was left untouched. "
            "Open it with that version, or update this one."
        )
    return applied


def _applied(peek: sqlite3.Connection, file: Path) -> set[str]:
    tables = {
        name for (name,) in peek.execute("SELECT name FROM sqlite_master WHERE type = 'table'")
    }
    (application_id,) = peek.execute("PRAGMA application_id").fetchone()
    if application_id != APPLICATION_ID or HISTORY_TABLE not in tables:
        if tables:
            raise RecordsError(
                f"{file} is a database of another program: choose a file of shopdesk's own."
            )
        return set()
    (page,) = peek.execute("PRAGMA page_size").fetchone()
    if file.stat().st_size % page:
        raise sqlite3.DatabaseError("malformed: the file ends within a page")
    return {name for (name,) in peek.execute(f"SELECT name FROM {HISTORY_TABLE}")}


def _make_folder(folder: Path) -> None:
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise RecordsError(
            f"The folder {folder} for the records can't be made ({error.strerror}): "
            "choose another place."
        ) from error


def _back_up_before(migration: str, file: Path, now: datetime) -> Path:
    copy = file.parent / "backups" / f"{file.stem}-before-{migration}-{now:%Y%m%dT%H%M%S}.db"
    copy_records(file, copy)
    return copy


def _prepare(
    engine: SqliteDatabase, file: Path, pending: bool, wait: float
) -> tuple[never_changed.Guard, ...]:
    """Make the file usable: prove that it may be written, then bring it to this version.

    Returns the guards that were gone; none after an upgrade, an older file may never have had them.
    """
    if not file.exists():
        file.touch(mode=0o600)
    _connect(engine, wait)
    if pending:
        _upgrade(engine)
    with engine.atomic("IMMEDIATE"):
        engine.execute_sql(f"DELETE FROM {HISTORY_TABLE} WHERE 0")
        unguarded = never_changed.missing(engine)
        never_changed.guard(engine)
    return unguarded


def _connect(engine: SqliteDatabase, wait: float) -> None:
    """Connect; where several make one new file at once, SQLite at first refuses all but one."""
    give_up = monotonic() + wait
    while True:
        try:
            engine.connect()
            return
        except OperationalError as error:
            if "locked" not in str(error) or monotonic() > give_up:
                raise
        sleep(0.01)


def _upgrade(engine: SqliteDatabase) -> None:
    """Run what is pending by now, all of it or nothing, while no other program may write."""
    engine.pragma("foreign_keys", 0)
    with engine.atomic("EXCLUSIVE"):
        engine.execute_sql(f"PRAGMA application_id = {APPLICATION_ID}")
        never_changed.lift(engine)
        Runner(engine, str(MIGRATIONS), table_name=HISTORY_TABLE).up()
        broken = engine.execute_sql("PRAGMA foreign_key_check").fetchall()
        if broken:
            raise DatabaseError(f"{len(broken)} references would lead nowhere after the upgrade")
        never_changed.guard(engine)
    engine.pragma("foreign_keys", 1)
