"""Upkeep that was done elsewhere than in a repair of ours: by the owner, or by somebody else."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from shopdesk.dates import local_day
from shopdesk.errors import JobError
from shopdesk.job import typed
from shopdesk.job.meter import meter_points, typed_hours
from shopdesk.job.opened import tag_of
from shopdesk.job.reference import task_of, upkeep_tasks
from shopdesk.job.shift import Change, Shift
from shopdesk.job.standing import DECLINED
from shopdesk.job.units import find_unit
from shopdesk.records.fetch import row_of, rows_by
from shopdesk.records.tables import Line, PartFit, Ticket, Unit, UpkeepDone
from shopdesk.upkeep.meter import reading_on
from shopdesk.upkeep.tasks import tasks_reset_by

DOERS = ("the owner", "another shop", "us")


@dataclass(frozen=True, slots=True)
class DoneEntry:
    """What somebody says was done: the task, the day, by whom, and what the hour meter read."""

    task_key: str
    done_on: str = ""
    done_by: str = DOERS[0]
    meter_hours: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True)
class LastDone:
    """When a task was last done, in whose words, and what the hour meter read then if known."""

    on: date
    words: str
    """``by us, T1043``, ``the owner says``."""
    meter: Decimal | None
    said_id: int | None = None
    """Of the entry where it was only said."""


def say_done(shift: Shift, unit_id: int, entry: DoneEntry) -> None:
    """Keep that upkeep was done on a machine, today if no day is typed.

    Raises ``JobError`` at the field.
    """
    with shift.changing() as change:
        unit = find_unit(unit_id)
        change.add(
            UpkeepDone(
                unit=unit,
                task=task_of(entry.task_key).key,
                done_on=_day(change, entry),
                meter_hours=typed_hours(entry.meter_hours, "meter_hours"),
                done_by=typed.choice(entry.done_by, "done_by", DOERS, "Who did it", needed=True),
                note=typed.line(entry.note, "note", "The note"),
            )
        )


def take_back_done(shift: Shift, done_id: int, why: str) -> None:
    """Take out what was said to be done and was not; the journal keeps it and the reason."""
    reason = typed.line(why, "why", "The reason", needed=True)
    with shift.changing() as change:
        row = row_of(UpkeepDone, done_id)
        if row is None:
            raise JobError("That is not in the records any more: open the machine again.", "done")
        change.remove(row, reason)


def last_done(unit: Unit, zone: str) -> dict[str, LastDone]:
    """Return by task when it was last done, inside a transaction.

    By a repair of ours (the upkeep that a line renews, the part that was fitted, the words of the
    line), or as somebody said.
    """
    points = meter_points(unit)
    done: dict[str, LastDone] = {}
    for ticket, line in _done_lines(unit):
        on = local_day(line.done_at, zone)
        words = f"by us, {tag_of(ticket.number)}"
        for key in _keys(line):
            _take(done, key, LastDone(on, words, reading_on(points, on)))
    for row in rows_by(UpkeepDone, "unit_id", unit.id):
        meter = reading_on(points, row.done_on) if row.meter_hours is None else row.meter_hours
        _take(done, row.task, LastDone(row.done_on, _said(row), meter, row.id))
    return done


def _take(done: dict[str, LastDone], key: str, found: LastDone) -> None:
    if key not in done or found.on >= done[key].on:
        done[key] = found


def _done_lines(unit: Unit) -> list[tuple[Ticket, Line]]:
    """Return the lines that were done on a machine, in that order, each with its ticket."""
    found = [
        (ticket, line)
        for ticket in rows_by(Ticket, "unit_id", unit.id)
        for line in rows_by(Line, "ticket_id", ticket.id)
        if line.done_at is not None and line.decision != DECLINED
    ]
    return sorted(found, key=lambda one: one[1].done_at)


def _keys(line: Line) -> Iterable[str]:
    said = line.description.casefold()
    names = {name for task in upkeep_tasks() for name in task.reset_by}
    keys = tasks_reset_by(upkeep_tasks(), (name for name in names if name in said))
    fits = rows_by(PartFit, "part_id", line.part_id) if line.part_id else []
    return {key for key in (*keys, line.renews, *(fit.task for fit in fits)) if key}


def _said(row: UpkeepDone) -> str:
    return f"{row.done_by} says: {row.note}" if row.note else f"{row.done_by} says"


def _day(change: Change, entry: DoneEntry) -> date:
    order = change.shop.day_first
    day = typed.day(entry.done_on, "done_on", change.today, day_first=order, past=True)
    return day or change.today
