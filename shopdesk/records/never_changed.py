"""Keeps what was issued as it was: the database itself refuses to change it or take it out.

An upgrade lifts the triggers for its own work and puts them up again. Each opening puts up those
that somebody took away, and notes which they were. Who gets past them is found by the invoices'
chain of hashes.
"""

from dataclasses import dataclass

from peewee import SqliteDatabase

ISSUED = ("invoice", "invoice_print", "stored_file")
REFUSAL = "what was issued never changes"


@dataclass(frozen=True, slots=True)
class Guard:
    """What is not done to a table of what was issued: ``UPDATE`` or ``DELETE``."""

    table: str
    deed: str

    @property
    def name(self) -> str:
        """The name of its trigger."""
        return f"{self.table}_no_{self.deed.lower()}"


GUARDS = tuple(Guard(table, deed) for table in ISSUED for deed in ("UPDATE", "DELETE"))


def missing(engine: SqliteDatabase) -> tuple[Guard, ...]:
    """Return the guards that are not there."""
    found = engine.execute_sql("SELECT name FROM sqlite_master WHERE type = 'trigger'")
    names = {name for (name,) in found.fetchall()}
    return tuple(guard for guard in GUARDS if guard.name not in names)


def guard(engine: SqliteDatabase) -> None:
    """Make the database refuse an UPDATE or DELETE of what was issued."""
    for one in GUARDS:
        engine.execute_sql(
            f'CREATE TRIGGER IF NOT EXISTS "{one.name}" BEFORE {one.deed} ON "{one.table}" '
            f"BEGIN SELECT RAISE(ABORT, '{REFUSAL}'); END"
        )


def lift(engine: SqliteDatabase) -> None:
    """Take the triggers away, for an upgrade."""
    for one in GUARDS:
        engine.execute_sql(f'DROP TRIGGER IF EXISTS "{one.name}"')
