"""Copies the records to a safe place while they are in use, and proves that the copy is good."""

import sqlite3
from contextlib import closing, suppress
from pathlib import Path

from shopdesk.errors import RecordsError
from shopdesk.records.troubles import trouble

THE_COPY = "The copy"
"""What is written to, where it can't be."""
_OF_THE_RECORDS = {
    *(sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED),
    *(sqlite3.SQLITE_CORRUPT, sqlite3.SQLITE_NOTADB),
}


def copy_records(file: Path, copy: Path) -> None:
    """Write a whole, checked copy of the records in ``file`` to ``copy``.

    It appears only when it is complete. Raises ``RecordsError`` when there is nothing to copy, or
    the copy can't be written or is not good.
    """
    if not file.exists():
        raise RecordsError(f"There are no records at {file} to copy.")
    part = copy.with_name(copy.name + ".part")
    try:
        copy.parent.mkdir(parents=True, exist_ok=True)
        _copy(file, part)
        part.replace(copy)
    except (sqlite3.Error, OSError) as error:
        if _is_of_the_records(error):
            raise trouble(error, file) from error
        raise trouble(error, copy, THE_COPY) from error
    finally:
        with suppress(OSError):
            part.unlink(missing_ok=True)


def _is_of_the_records(error: Exception) -> bool:
    """Whether the complaint is of the records: the copy is new, and nobody else's."""
    code = getattr(error, "sqlite_errorcode", None)
    return code is not None and code & 0xFF in _OF_THE_RECORDS


def _copy(file: Path, part: Path) -> None:
    part.unlink(missing_ok=True)
    part.touch(mode=0o600)
    with (
        closing(sqlite3.connect(f"{file.as_uri()}?mode=ro", uri=True)) as source,
        closing(sqlite3.connect(part)) as target,
    ):
        source.backup(target)
        target.execute("PRAGMA journal_mode = DELETE")  # one file, whole, wherever it is carried
        (verdict,) = target.execute("PRAGMA integrity_check(1)").fetchone()
    if verdict != "ok":
        raise RecordsError(
            f"The records {file} are damaged ({verdict}): restore the newest good backup."
        )
