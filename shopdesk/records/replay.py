"""Replays the journal: each row as its changes tell that it came to be, beside the row as kept."""

import json
from collections.abc import Iterator
from dataclasses import dataclass
from heapq import merge
from itertools import groupby
from operator import itemgetter
from typing import Any

from peewee import BooleanField

from shopdesk.records.fields import UtcField
from shopdesk.records.tables import TABLES, Counter, Row, database

JOURNALLED = tuple(table for table in TABLES if issubclass(table, Row) and table is not Counter)
Values = dict[str, Any]
"""What stands in a row's columns, as the database keeps it."""
_Side = tuple[int, str, Values]


@dataclass(frozen=True, slots=True)
class Difference:
    """A row that the journal tells otherwise; ``None`` where only one of the two knows it."""

    row_id: int
    kept: Values | None
    told: Values | None

    @property
    def columns(self) -> tuple[str, ...]:
        """The columns that differ, where both know the row."""
        kept, told = self.kept or {}, self.told or {}
        return tuple(name for name in told if name in kept and kept[name] != told[name])


def differences(table: type[Row]) -> Iterator[Difference]:
    """Yield the rows of ``table`` that are not as the journal tells, inside a transaction.

    A column that came later than a row is not told of that row, and passed over.
    """
    rows = merge(_kept(table), _told(table), key=itemgetter(0))
    for row_id, sides in groupby(rows, key=itemgetter(0)):
        values = {side: row for _, side, row in sides}
        found = Difference(row_id, values.get("kept"), values.get("told"))
        if found.kept is None or found.told is None or found.columns:
            yield found


def missing_entries() -> int:
    """Return how many entries the journal lacks: none is ever taken out, so its ids run on."""
    query = 'SELECT coalesce(max(id), 0) - count(*) FROM "journal_entry"'
    ((missing,),) = database.execute_sql(query)
    return int(missing)


def _kept(table: type[Row]) -> Iterator[_Side]:
    names = [field.column_name for field in table._meta.sorted_fields]
    columns = ", ".join(f'"{name}"' for name in names)
    query = f'SELECT {columns} FROM "{table._meta.table_name}" ORDER BY id'
    for row in database.execute_sql(query):
        values = dict(zip(names, row, strict=True))
        yield values["id"], "kept", values


def _told(table: type[Row]) -> Iterator[_Side]:
    query = """SELECT row_id, action, after FROM "journal_entry" WHERE "table" = ?
        ORDER BY row_id, id"""
    entries = database.execute_sql(query, (table._meta.table_name,))
    for row_id, changes in groupby(entries, key=itemgetter(0)):
        told: Values = {}
        for _, action, after in changes:
            told = {} if action == "removed" else told | _as_kept(table, after)
        if told:
            yield row_id, "told", told


def _as_kept(table: type[Row], after: str) -> Values:
    """Return what an entry holds as JSON in the database's own way; nothing if it is harmed."""
    try:
        told = json.loads(after).items()
    except (ValueError, AttributeError):
        return {}
    columns = table._meta.columns
    return {name: _value(columns.get(name), value) for name, value in told}


def _value(field: object, value: Any) -> Any:
    if isinstance(field, UtcField) and isinstance(value, str):
        return value.replace("T", " ")
    return int(value) if isinstance(field, BooleanField) and value is not None else value
