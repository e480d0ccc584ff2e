"""The spells at the bench as rows: which clock runs, stopping it, letting go of a line's time.

For use inside a transaction.
"""

from collections.abc import Iterable

from shopdesk.job.labour.views import SpellView, spell_view, time_words, whose_clock
from shopdesk.job.shift import Change
from shopdesk.records.fetch import rows_by
from shopdesk.records.tables import Line, WorkSpell


def running_rows(person: str | None = None) -> list[WorkSpell]:
    """Return the clocks that run, the oldest first: all of them, or one person's."""
    running = WorkSpell.select().where(WorkSpell.stopped_at.is_null())
    rows = list(running.order_by(WorkSpell.started_at, WorkSpell.id))
    if person is None:
        return rows
    return [row for row in rows if same_person(row.person, person)]


def same_person(one: str, other: str) -> bool:
    """Whether two names are one person's, however they were typed."""
    return one.strip().casefold() == other.strip().casefold()


def stop_clocks(change: Change, ticket_id: int) -> tuple[SpellView, ...]:
    """Stop every clock that runs on a ticket, as it is handed over or closed."""
    rows = rows_by(WorkSpell, "ticket_id", ticket_id, "started_at")
    return tuple(stop_spell(change, row) for row in rows if row.stopped_at is None)


def stop_spell(change: Change, row: WorkSpell) -> SpellView:
    """Stop one clock; one that ran over night counts nothing until its minutes are typed."""
    row.stopped_at = max(change.at, row.started_at)
    change.save(row)
    return spell_view(row)


def stopped_words(spells: Iterable[SpellView]) -> str:
    """Return in words which clocks stopped, and at what; empty where none did."""
    return " ".join(map(_stopped, spells))


def free_spells(change: Change, line: Line) -> None:
    """Let go of the time that is on a line, before the line's row is removed."""
    for row in rows_by(WorkSpell, "line_id", line.id):
        row.line = None
        change.save(row, f"“{line.description}” was taken off")


def _stopped(spell: SpellView) -> str:
    whose = whose_clock(spell.person)
    if spell.unsure:
        return f"{whose} had run on for over 10 h: it counts nothing until its minutes are typed."
    return f"{whose} stopped at {time_words(spell.seconds)}."
