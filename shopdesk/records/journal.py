"""Every change to the records passes here: it is kept who changed what, when, and what it was.

Call these inside a transaction: the row and its journal entry are written together or not at all.
"""

from datetime import datetime
from typing import Any

import msgspec
from peewee import Model

from shopdesk.errors import StaleError
from shopdesk.records.fetch import row_of
from shopdesk.records.keep import insert, update
from shopdesk.records.tables import JournalEntry, Row, Ticket


def add(row: Row, *, who: str, at: datetime) -> None:
    """Insert a new row and note it."""
    insert(row)
    _note(row, "added", {}, _values(row), who, at, "")


def save(row: Row, *, who: str, at: datetime, why: str = "") -> bool:
    """Write the row's changed fields and note before and after.

    Returns whether anything differed. Raises ``StaleError`` when the stored row is newer than the
    one read.
    """
    stored = row_of(type(row), row.id)
    if stored is None or stored.version != row.version:
        raise StaleError(
            f"This {type(row).__name__.lower()} was changed elsewhere meanwhile: "
            "open it again and repeat your change."
        )
    before, after = _differences(_values(stored), _values(row))
    if not after:
        return False
    row.version += 1
    update(row)
    _note(row, "changed", before, after, who, at, why)
    return True


def remove(row: Row, *, who: str, at: datetime, why: str = "") -> None:
    """Delete the row and keep what it held in the journal."""
    _note(row, "removed", _values(row), {}, who, at, why)
    row.delete_instance()


def _values(row: Model) -> dict[str, Any]:
    """Return the row's stored values by column, as the database keeps them."""
    return {
        field.column_name: field.db_value(row.__data__.get(field.name))
        for field in row._meta.sorted_fields
        if field.name not in ("id", "version")
    }


def _differences(old: dict[str, Any], new: dict[str, Any]) -> tuple[dict[str, Any], dict[str, Any]]:
    changed = [name for name in new if old.get(name) != new[name]]
    return {name: old[name] for name in changed}, {name: new[name] for name in changed}


def _note(
    row: Row,
    action: str,
    before: dict[str, Any],
    after: dict[str, Any],
    who: str,
    at: datetime,
    why: str,
) -> None:
    insert(
        JournalEntry(
            at=at,
            who=who,
            action=action,
            table=row._meta.table_name,
            row_id=row.id,
            ticket_id=row.id if isinstance(row, Ticket) else getattr(row, "ticket_id", None),
            before=_plain(before),
            after=_plain(after),
            why=why,
        )
    )


def _plain(values: dict[str, Any]) -> str:
    return msgspec.json.encode(values).decode()
