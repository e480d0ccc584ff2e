"""Tells all that was changed on a ticket: who, when, and from what to what."""

from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import datetime
from typing import Any

import msgspec

from shopdesk.errors import JobError
from shopdesk.job.change_words import COLUMNS, NAMED_BY
from shopdesk.job.history import JournalLine, ticket_journal
from shopdesk.job.row_words import Values, row_name, row_words, value_words
from shopdesk.job.shift import Shift
from shopdesk.job.shop import Shop
from shopdesk.records.fetch import row_of
from shopdesk.records.replay import JOURNALLED
from shopdesk.records.tables import Row

_TABLES = {table._meta.table_name: table for table in JOURNALLED}


@dataclass(frozen=True, slots=True)
class ColumnChange:
    """One thing about a row, before and after, in words; empty for nothing."""

    what: str
    before: str
    after: str


@dataclass(frozen=True, slots=True)
class RowChange:
    """One change of one row; ``action`` is ``added``, ``changed`` or ``removed``."""

    at: datetime
    who: str
    action: str
    row: str
    columns: tuple[ColumnChange, ...]
    why: str


def ticket_changes(shift: Shift, ticket_id: int) -> tuple[RowChange, ...]:
    """Return every change of a ticket and of what hangs on it, the first one first.

    Raises ``JobError`` where the journal is damaged.
    """
    with shift.records.reading():
        telling = _Telling(shift.shop)
        try:
            return tuple(telling.told(entry) for entry in ticket_journal(shift, ticket_id))
        except msgspec.MsgspecError as error:
            raise JobError(
                "The journal of this ticket is damaged: run shopdesk check, "
                "and restore the newest good backup."
            ) from error


@dataclass(slots=True)
class _Telling:
    """Remembers the rows told so far, to call them by their names."""

    shop: Shop
    rows: dict[tuple[str, int], dict[str, Any]] = field(default_factory=dict)

    def told(self, entry: JournalLine) -> RowChange:
        before, after = msgspec.json.decode(entry.before), msgspec.json.decode(entry.after)
        known = self.rows.setdefault((entry.table, entry.row_id), {})
        known.update(before if entry.action == "removed" else after)
        return RowChange(
            at=entry.at,
            who=entry.who,
            action=entry.action,
            row=row_words(entry.table, entry.row_id, known, self.shop),
            columns=tuple(self._columns(entry, before, after)),
            why=entry.why,
        )

    def _columns(self, entry: JournalLine, before: Values, after: Values) -> Iterator[ColumnChange]:
        table = entry.table
        named = () if entry.action == "changed" else NAMED_BY.get(table, ())[:1]
        for column, what in COLUMNS.get(table, {}).items():
            if column in named or (column not in before and column not in after):
                continue
            was, now = (
                value_words(table, column, values.get(column), self.shop, self._name_of)
                for values in (before, after)
            )
            if was or now:
                yield ColumnChange(what, was, now)

    def _name_of(self, table: str, row_id: int) -> str:
        values = self.rows.get((table, row_id)) or _kept(_TABLES[table], row_id)
        return row_name(table, values, self.shop) or f"{table} {row_id}"


def _kept(table: type[Row], row_id: int) -> dict[str, Any]:
    row = row_of(table, row_id)
    return {} if row is None else dict(row.__data__)
