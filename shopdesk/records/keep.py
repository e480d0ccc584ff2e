"""Writes a whole row by a fixed statement, whose text is made once for each table."""

from functools import cache
from typing import Any

from shopdesk.records.tables import JournalEntry, Row, database

AnyRow = Row | JournalEntry


def insert(row: AnyRow) -> None:
    """Insert a new row and give it its id; a row that has one is put back under it."""
    if row.id is None:
        ((row.id,),) = database.execute_sql(_insert(type(row)), _values(row))
    else:
        database.execute_sql(_insert(type(row), "id"), [row.id, *_values(row)])


def update(row: Row) -> None:
    """Write every column of a row that is there already."""
    database.execute_sql(_update(type(row)), [*_values(row), row.id])


def _values(row: AnyRow) -> list[Any]:
    """Return all but the id as the database keeps it, in the order of the columns."""
    return [
        field.db_value(row.__data__.get(field.name))
        for field in row._meta.sorted_fields
        if field.name != "id"
    ]


def _columns(table: type[AnyRow]) -> list[str]:
    meta = table._meta
    return [f'"{field.column_name}"' for field in meta.sorted_fields if field.name != "id"]


@cache
def _insert(table: type[AnyRow], *first: str) -> str:
    columns = [*first, *_columns(table)]
    names, marks = ", ".join(columns), ", ".join("?" * len(columns))
    return f'INSERT INTO "{table._meta.table_name}" ({names}) VALUES ({marks}) RETURNING id'


@cache
def _update(table: type[AnyRow]) -> str:
    written = ", ".join(f"{column} = ?" for column in _columns(table))
    return f'UPDATE "{table._meta.table_name}" SET {written} WHERE id = ?'
