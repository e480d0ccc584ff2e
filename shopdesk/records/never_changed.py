"""Keeps what was issued as it was: the database itself refuses to change it or take it out.

The triggers are put at each opening, so that a table built anew by an upgrade has them again; the
upgrade lifts them for its own work. Who gets past them is found by the invoices' chain of hashes.
"""

from peewee import SqliteDatabase

ISSUED = ("invoice", "invoice_print", "stored_file")
REFUSAL = "what was issued never changes"


def guard(engine: SqliteDatabase) -> None:
    """Make the database refuse an UPDATE or DELETE of what was issued."""
    for table, deed in _all():
        engine.execute_sql(
            f'CREATE TRIGGER IF NOT EXISTS "{_name(table, deed)}" BEFORE {deed} ON "{table}" '
            f"BEGIN SELECT RAISE(ABORT, '{REFUSAL}'); END"
        )


def lift(engine: SqliteDatabase) -> None:
    """Take the triggers away, for an upgrade."""
    for table, deed in _all():
        engine.execute_sql(f'DROP TRIGGER IF EXISTS "{_name(table, deed)}"')


def _all() -> list[tuple[str, str]]:
    return [(table, deed) for table in ISSUED for deed in ("UPDATE", "DELETE")]


def _name(table: str, deed: str) -> str:
    return f"{table}_no_{deed.lower()}"
