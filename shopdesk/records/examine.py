"""Examines a records file: whether the database is whole, and whether each row's references are there."""

from dataclasses import dataclass

from shopdesk.records.store import Records
from shopdesk.records.tables import TABLES

MOST_NAMED = 5


@dataclass(frozen=True, slots=True)
class Examination:
    """What was looked at, in words, and what is wrong with it; nothing wrong leaves ``faults`` empty."""

    proved: tuple[str, ...]
    faults: tuple[str, ...]


def examine(records: Records) -> Examination:
    """Read the whole file. Raises ``RecordsError`` when it can't be read at all."""
    with records.reading():
        run = records.engine.execute_sql
        damage = [said for (said,) in run("PRAGMA integrity_check(20)") if said != "ok"]
        broken = run("PRAGMA foreign_key_check").fetchall()
        rows = sum(table.select().count() for table in TABLES)
    faults = [f"the database is damaged: {said}" for said in damage]
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
