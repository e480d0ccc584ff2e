"""Takes words out of the journal for good, so that they are nowhere kept and all still replays.

Where an entry says what a column was or is, it then says the replacement; so the row as the journal
tells it stays the row as kept, if that was changed to the same words before. Nothing else of an
entry changes, and none is taken out.
"""

import json
import re
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from typing import Any

from shopdesk.records import search
from shopdesk.records.fetch import answers
from shopdesk.records.store import Records
from shopdesk.records.tables import database

Replacements = Mapping[str, object]
"""By column what stands there instead, or a callable that turns what stood there into it."""
_ENTRIES = 'SELECT id, before, after FROM "journal_entry" WHERE "table" = ? AND row_id = ?'
_WRITE = 'UPDATE "journal_entry" SET before = ?, after = ? WHERE id = ?'
_REASONS = 'SELECT id, why FROM "journal_entry" WHERE instr(why, ?) > 0'
_WRITE_REASON = 'UPDATE "journal_entry" SET why = ? WHERE id = ?'
_GONE = """SELECT DISTINCT row_id FROM "journal_entry" WHERE "table" = ?
    AND (json_extract(after, '$.' || ?) = ? OR json_extract(before, '$.' || ?) = ?)"""


def redact(table: str, row_ids: Sequence[int], columns: Replacements) -> int:
    """Replace columns in all that the journal tells of some rows, inside a transaction.

    Returns how many entries were changed.
    """
    changed = 0
    for row_id in row_ids:
        for entry_id, *sides in answers(_ENTRIES, table, row_id):
            replaced = [_replaced(side, columns) for side in sides]
            if replaced != sides:
                database.execute_sql(_WRITE, (*replaced, entry_id))
                changed += 1
    return changed


def rows_told(table: str, column: str, value: int) -> list[int]:
    """Return the rows that ever held ``value`` in a column, those that are gone as well."""
    return [row_id for (row_id,) in answers(_GONE, table, column, value, column, value)]


def values_told(table: str, row_id: int, column: str) -> set[str]:
    """Return all that a text column of a row ever held, inside a transaction."""
    sides = (side for _, *both in answers(_ENTRIES, table, row_id) for side in both)
    return {str(told[column]) for side in sides if (told := json.loads(side)).get(column)}


def redact_reasons(words: str, instead: str) -> None:
    """Replace words, where they stand for themselves, in the reasons of all entries."""
    whole = re.compile(rf"(?<!\w){re.escape(words)}(?!\w)")
    for entry_id, why in answers(_REASONS, words):
        replaced = whole.sub(lambda _found: instead, why)
        if replaced != why:
            database.execute_sql(_WRITE_REASON, (replaced, entry_id))


@contextmanager
def leaving_no_trace(records: Records) -> Iterator[None]:
    """Let what the block takes out be written over in the file, and the log beside it emptied."""
    database_file = records.engine
    database_file.connect(reuse_if_open=True)
    database_file.execute_sql("PRAGMA secure_delete = 1")
    try:
        yield
    finally:
        search.forget_what_was_taken_out()
        database_file.execute_sql("PRAGMA wal_checkpoint(TRUNCATE)")
        database_file.execute_sql("PRAGMA secure_delete = 0")


def _replaced(side: str, columns: Replacements) -> str:
    told: dict[str, Any] = json.loads(side)
    for column, words in columns.items():
        if told.get(column) not in (None, ""):
            told[column] = words(told[column]) if callable(words) else words
    return json.dumps(told, ensure_ascii=False, separators=(",", ":"))
