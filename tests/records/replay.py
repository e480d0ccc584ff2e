"""The rows as kept, and the rows as the journal tells that they came to be."""

import json
from typing import Any

from shopdesk.records.fields import UtcField
from shopdesk.records.store import Records
from shopdesk.records.tables import TABLES, Counter, JournalEntry, Row

Rows = dict[str, dict[int, dict[str, Any]]]
JOURNALLED = tuple(table for table in TABLES if issubclass(table, Row) and table is not Counter)


def kept_rows(records: Records) -> Rows:
    """Return each journalled row by table and id, its columns as the database keeps them."""
    with records.reading():
        return {table._meta.table_name: _kept(records, table) for table in JOURNALLED}


def _kept(records: Records, table: type[Row]) -> dict[int, dict[str, Any]]:
    cursor = records.engine.execute_sql(f'SELECT * FROM "{table._meta.table_name}"')
    names = [column[0] for column in cursor.description]
    rows = [dict(zip(names, row, strict=True)) for row in cursor]
    return {
        row["id"]: {name: row[name] for name in names if name not in ("id", "version")}
        for row in rows
    }


def replayed_rows(records: Records) -> Rows:
    """Return the same, told by nothing but the journal."""
    rows: Rows = {table._meta.table_name: {} for table in JOURNALLED}
    moments = {
        (table._meta.table_name, field.column_name)
        for table in JOURNALLED
        for field in table._meta.sorted_fields
        if isinstance(field, UtcField)
    }
    with records.reading():
        for entry in JournalEntry.select().order_by(JournalEntry.id):
            table = rows[entry.table]
            after = {
                name: _as_kept(value, (entry.table, name) in moments)
                for name, value in json.loads(entry.after).items()
            }
            if entry.action == "removed":
                del table[entry.row_id]
            else:
                table.setdefault(entry.row_id, {}).update(after)
    return rows


def _as_kept(value: Any, is_moment: bool) -> Any:
    return value.replace("T", " ") if is_moment and isinstance(value, str) else value
