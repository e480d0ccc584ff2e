"""Takes a list back that was brought in, while nothing hangs on its rows."""

import json
from collections.abc import Iterator
from typing import Any

from peewee import ForeignKeyField

from shopdesk.errors import JobError
from shopdesk.job.importing.keeping import Brought, brought
from shopdesk.job.importing.progress import EACH, Tell, in_silence
from shopdesk.job.row_words import row_words
from shopdesk.job.shift import Change, Shift
from shopdesk.records.fetch import answers, row_of
from shopdesk.records.replay import JOURNALLED
from shopdesk.records.tables import TABLES, ImportRun, Row

_WHY = "the list was taken back"
_TABLES: dict[str, type[Row]] = {table._meta.table_name: table for table in JOURNALLED}
_ENTRIES = """SELECT "table", row_id, action, before FROM "journal_entry"
    WHERE id BETWEEN ? AND ? ORDER BY id DESC"""
_CHANGED_LATER = """SELECT later."table", later.row_id FROM "journal_entry" later
    WHERE later.id > ? AND EXISTS (SELECT 1 FROM "journal_entry" own
        WHERE own."table" = later."table" AND own.row_id = later.row_id
        AND own.id BETWEEN ? AND ?) ORDER BY later.id LIMIT 1"""
_BROUGHT_INTO = 'SELECT DISTINCT "table" FROM "journal_entry" WHERE id BETWEEN ? AND ?'
_HANGS = """SELECT own.row_id FROM "journal_entry" own
    JOIN "{table}" hangs ON hangs."{column}" = own.row_id
    WHERE own.id BETWEEN ? AND ? AND own."table" = '{on}' AND own.action = 'added'
    AND NOT EXISTS (SELECT 1 FROM "journal_entry" same WHERE same."table" = '{table}'
        AND same.row_id = hangs.id AND same.action = 'added' AND same.id BETWEEN ? AND ?)
    LIMIT 1"""


def take_back(shift: Shift, import_id: int, tell: Tell = in_silence) -> Brought:
    """Take away every row that a list brought, and put back what it changed.

    Raises ``JobError`` when it was taken back before, when one of its rows was changed since, or
    when something hangs on one: a ticket, a reminder, another machine. Nothing is changed then.
    """
    with shift.changing() as change:
        run = row_of(ImportRun, import_id)
        if run is None:
            raise JobError(f"No list {import_id} was brought in: look at what was.")
        if run.taken_back_at is not None:
            raise JobError(f"{run.files} was taken back already.")
        span = (run.first_entry, run.last_entry)
        _refuse_if_changed(change, span)
        _refuse_if_hung_on(change, span)
        entries = answers(_ENTRIES, *span)
        for done, (table, row_id, action, before) in enumerate(entries):
            if done % EACH == 0:
                tell(done, len(entries))
            _undo(change, _TABLES[table], row_id, action, before)
        run.taken_back_at = change.at
        change.save(run)
        tell(len(entries), len(entries))
        return brought(run)


def _undo(change: Change, table: type[Row], row_id: int, action: str, before: str) -> None:
    row = row_of(table, row_id)
    if row is None:
        raise JobError(
            "A row that the list brought is gone: run shopdesk check, nothing was changed."
        )
    if action == "added":
        change.remove(row, _WHY)
        return
    columns = table._meta.columns
    for column, value in json.loads(before).items():
        field = columns[column]
        row.__data__[field.name] = field.python_value(value)
    change.save(row, _WHY)


def _refuse_if_changed(change: Change, span: tuple[int, int]) -> None:
    for table, row_id in answers(_CHANGED_LATER, span[1], *span):
        raise JobError(
            f"{_named(change, table, row_id)} was changed since the list was brought in: "
            "it can't be taken back any more. Mend what is wrong by hand."
        )


def _refuse_if_hung_on(change: Change, span: tuple[int, int]) -> None:
    brought_into = {table for (table,) in answers(_BROUGHT_INTO, *span)}
    for on, table, column in _references():
        if on not in brought_into:
            continue
        query = _HANGS.format(table=table, column=column, on=on)
        for (row_id,) in answers(query, *span, *span):
            raise JobError(
                f"{_named(change, on, row_id)}, which the list brought, has more by now "
                f"({table.replace('_', ' ')}): it can't be taken back any more."
            )


def _references() -> Iterator[tuple[str, str, str]]:
    """Yield each table that is pointed to, and by which column of which other."""
    for table in TABLES:
        for field in table._meta.sorted_fields:
            if isinstance(field, ForeignKeyField) and field.rel_model._meta.table_name in _TABLES:
                on = field.rel_model._meta.table_name
                yield on, table._meta.table_name, field.column_name


def _named(change: Change, table: str, row_id: int) -> str:
    row = row_of(_TABLES[table], row_id)
    values: dict[str, Any] = {} if row is None else dict(row.__data__)
    words = row_words(table, row_id, values, change.shop)
    return words[:1].upper() + words[1:]
