"""Examines a records file: the database must be whole, and every reference lead somewhere."""

import sqlite3
from dataclasses import dataclass
from typing import Any

from shopdesk.records.store import Records
from shopdesk.records.tables import TABLES

MOST_NAMED = 5


@dataclass(frozen=True, slots=True)
class Examination:
    """What was proved, in words, and what is wrong; ``faults`` is empty when nothing is.

    ``not_proved`` says what was not, or can't be, looked into.
    """

    proved: tuple[str, ...]
    faults: tuple[str, ...]
    not_proved: tuple[str, ...] = ()


def examine(records: Records) -> Examination:
    """Read the whole file. Raises ``RecordsError`` when it can't be read at all."""
    with records.reading():
        said = _pragma(records, "integrity_check(20)")
        broken = _pragma(records, "foreign_key_check")
        rows = sum(table.select().count() for table in TABLES)
    faults = [f"the database is damaged: {what}" for (what,) in said if what != "ok"]
    faults += [
        f"row {row} of {table} points to a {target} that is not there"
        for table, row, target, _ in broken[:MOST_NAMED]
    ]
    if len(broken) > MOST_NAMED:
        faults.append(f"{len(broken) - MOST_NAMED} more rows point to what is not there")
    proved = (
        f"the database of {records.file.name} is whole",
        f"every reference among its {rows:,} rows leads somewhere",
    )
    return Examination(proved, tuple(faults))


def _pragma(records: Records, name: str) -> list[tuple[Any, ...]]:
    cursor: sqlite3.Cursor = records.engine.execute_sql(f"PRAGMA {name}")
    return cursor.fetchall()
