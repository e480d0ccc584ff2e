"""Reads the rows that hang on another row by a fixed query: opening a ticket asks a dozen of these.

The text of each query is made once; building it anew costs the query builder more than the reading.
"""

from collections.abc import Callable
from functools import cache
from typing import Any, TypeVar

from peewee import AutoField, ForeignKeyField, IntegerField, TextField

from shopdesk.records.tables import Row, database

AnyRow = TypeVar("AnyRow", bound=Row)
_KEPT_AS_IS = (AutoField, ForeignKeyField, IntegerField, TextField)


def row_of(table: type[AnyRow], row_id: int | None) -> AnyRow | None:
    """Return the row of that id, or ``None``."""
    return next(iter(rows_by(table, "id", row_id)), None)


def rows_by(table: type[AnyRow], column: str, value: object, order: str = "id") -> list[AnyRow]:
    """Return the rows whose ``column`` is ``value``, in the order of another column."""
    found = answers(_query(table, column, order), value)
    return [_row(table, values) for values in found] if found else []


def answers(query: str, *values: object) -> list[tuple[Any, ...]]:
    """Return what a fixed query in SQL finds, ``values`` put where its question marks are."""
    return list(database.execute_sql(query, values))


def _row(table: type[AnyRow], values: tuple[Any, ...]) -> AnyRow:
    """Return a row read from the file, its values as Python keeps them and none of them changed."""
    row = table()
    row.__data__ = {
        name: turn(value) if turn else value
        for (name, turn), value in zip(_turned(table), values, strict=True)
    }
    row._dirty.clear()  # type: ignore[attr-defined]
    return row


@cache
def _turned(table: type[Row]) -> list[tuple[str, Callable[[Any], Any] | None]]:
    """Return for each field what turns its value as kept into Python's, None where they are one."""
    return [
        (field.name, None if type(field) in _KEPT_AS_IS else field.python_value)
        for field in table._meta.sorted_fields
    ]


@cache
def _query(table: type[Row], column: str, order: str) -> str:
    meta = table._meta
    columns = ", ".join(f'"{field.column_name}"' for field in meta.sorted_fields)
    return f'SELECT {columns} FROM "{meta.table_name}" WHERE "{column}" = ? ORDER BY "{order}"'
