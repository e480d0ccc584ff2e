"""What hangs on an owner or a machine moves to another one, and it is kept how it was before."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any

import msgspec
from peewee import ForeignKeyField

from shopdesk.job.shift import Change
from shopdesk.records.fetch import row_of, rows_by
from shopdesk.records.fields import UtcField
from shopdesk.records.replay import JOURNALLED
from shopdesk.records.tables import Row

Values = dict[str, Any]
"""What stands in a row's columns, as JSON holds it."""


@dataclass(frozen=True, slots=True)
class ChangedRow:
    """A row that was changed: only the columns that differ."""

    table: str
    id: int
    before: Values
    after: Values


@dataclass(frozen=True, slots=True)
class RemovedRow:
    """A row that was taken out, whole."""

    table: str
    id: int
    values: Values


@dataclass(frozen=True, slots=True)
class Moved:
    """All that a merge did, in its order."""

    changed: list[ChangedRow] = field(default_factory=list)
    removed: list[RemovedRow] = field(default_factory=list)
    phones: dict[int, str] = field(default_factory=dict)
    """The digits of the phones that went over: their rows are written anew with their card."""
    ownerships: list[int] = field(default_factory=list)
    """The row that said then whose the machine is."""


@dataclass(frozen=True, slots=True)
class Recorder:
    """Changes rows inside a transaction, and keeps how they were."""

    change: Change
    why: str
    moved: Moved = field(default_factory=Moved)

    def save(self, row: Row) -> None:
        """Write a changed row."""
        stored = row_of(type(row), row.id)
        assert stored is not None
        was, now = values_of(stored), values_of(row)
        if self.change.save(row, self.why):
            names = [name for name in now if was[name] != now[name]]
            self.moved.changed.append(
                ChangedRow(
                    row._meta.table_name,
                    row.id,
                    {name: was[name] for name in names},
                    {name: now[name] for name in names},
                )
            )

    def remove(self, row: Row) -> None:
        """Take a row out."""
        self.moved.removed.append(RemovedRow(row._meta.table_name, row.id, values_of(row)))
        self.change.remove(row, self.why)

    def move_all(self, goes: Row, stays: Row) -> None:
        """Let every row that points to the one point to the other."""
        for table, column in references(type(goes)):
            for row in rows_by(table, column, goes.id):
                setattr(row, table._meta.columns[column].name, stays.id)
                self.save(row)


def references(to: type[Row]) -> Iterator[tuple[type[Row], str]]:
    """Yield each table that has a column which points to rows of ``to``, with that column."""
    for table in JOURNALLED:
        for column in table._meta.sorted_fields:
            if isinstance(column, ForeignKeyField) and column.rel_model is to:
                yield table, column.column_name


def hanging(row: Row) -> Mapping[str, int]:
    """Return by table how many rows point to a row, inside a transaction."""
    found = {}
    for table, column in references(type(row)):
        many = len(rows_by(table, column, row.id))
        if many:
            found[table._meta.table_name] = many
    return found


def values_of(row: Row) -> Values:
    """Return what stands in a row's columns, as JSON holds it."""
    values = {
        one.column_name: one.db_value(row.__data__.get(one.name))
        for one in row._meta.sorted_fields
        if one.name not in ("id", "version")
    }
    plain: Values = msgspec.json.decode(msgspec.json.encode(values))
    return plain


def set_values(row: Row, values: Values) -> None:
    """Put values, as ``values_of`` gives them, into a row; a column that is no more is left out."""
    for name, value in values.items():
        column = row._meta.columns.get(name)
        if column is not None:
            said = value.replace("T", " ") if isinstance(column, UtcField) and value else value
            setattr(row, column.name, column.python_value(said))


def table_named(name: str) -> type[Row]:
    """Return the table of that name."""
    return next(table for table in JOURNALLED if table._meta.table_name == name)
