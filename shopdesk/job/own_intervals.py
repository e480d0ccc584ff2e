"""How often upkeep is due by the shop's own word, for one machine or a model, not the reference."""

from collections.abc import Iterable
from dataclasses import dataclass, replace

from shopdesk.errors import JobError
from shopdesk.job import typed
from shopdesk.job.reference import task_of, upkeep_tasks
from shopdesk.job.shift import Change, Shift
from shopdesk.job.units import find_unit, named_model_key
from shopdesk.records.fetch import row_of, rows_by
from shopdesk.records.tables import OwnInterval, Unit
from shopdesk.upkeep.due import Interval
from shopdesk.upkeep.typed_interval import parse_interval, show_interval

OF_UNIT = "our own for this machine"
OF_MODEL = "our own for this model"


@dataclass(frozen=True, slots=True)
class IntervalEntry:
    """An interval as typed: ``25 h``, ``50 h or 12 months``, ``never``.

    ``named_by`` says where it stands, such as the maker's manual.
    """

    task_key: str
    every: str
    named_by: str = ""


@dataclass(frozen=True, slots=True)
class IntervalView:
    """An interval of the shop's own, with the task that it is of."""

    id: int
    task_key: str
    title: str
    of_unit: bool
    """Of this one machine; else of its model."""
    every: str
    source: str


def set_unit_interval(shift: Shift, unit_id: int, entry: IntervalEntry) -> tuple[IntervalView, ...]:
    """Write down how often a task is due on one machine, in place of what was written before.

    Returns the intervals in force on it. Raises ``JobError`` at ``task_key``, ``every`` or
    ``named_by``.
    """
    with shift.changing() as change:
        unit = find_unit(unit_id)
        _write(change, _rows_of_unit(unit), OwnInterval(unit=unit), entry)
        return _views(_in_force(unit))


def set_model_interval(
    shift: Shift, make: str, model: str, entry: IntervalEntry
) -> tuple[IntervalView, ...]:
    """Write down how often a task is due on a model; raises at ``model`` where none is named."""
    with shift.changing() as change:
        key = named_model_key(make, model)
        _write(change, _rows_of_model(key), OwnInterval(model_key=key), entry)
        return _views(_rows_of_model(key))


def drop_interval(shift: Shift, interval_id: int, why: str = "") -> None:
    """Take an interval of our own out again: what it overrode holds from now on."""
    with shift.changing() as change:
        row = row_of(OwnInterval, interval_id)
        if row is None:
            raise JobError("That interval is not in the records any more: open the card again.")
        change.remove(row, typed.line(why, "why", "The reason"))


def intervals_of_unit(shift: Shift, unit_id: int) -> tuple[IntervalView, ...]:
    """Return the intervals of our own that hold for a machine, its own before its model's."""
    with shift.records.reading():
        return _views(_in_force(find_unit(unit_id)))


def own_intervals(unit: Unit) -> dict[str, Interval]:
    """Return them by task key, as the plan takes them, inside a transaction.

    One without hours and months says that the task is not due on it at all.
    """
    return {
        row.task: replace(Interval(row.hours, row.months), source=_source(row))
        for row in reversed(_in_force(unit))
    }


def _write(
    change: Change, kept: Iterable[OwnInterval], new: OwnInterval, entry: IntervalEntry
) -> None:
    task = task_of(entry.task_key)
    row = next((row for row in kept if row.task == task.key), new)
    with typed.at_field("every"):
        interval = parse_interval(typed.line(entry.every, "every", "How often", needed=True))
    row.task, row.hours, row.months = task.key, interval.hours, interval.months
    row.named_by = typed.line(entry.named_by, "named_by", "Who says so")
    if row is new:
        change.add(row)
    else:
        change.save(row)


def _in_force(unit: Unit) -> list[OwnInterval]:
    own = _rows_of_unit(unit)
    taken = {row.task for row in own}
    model = _rows_of_model(unit.model_key)
    return [*own, *(row for row in model if row.task not in taken)]


def _rows_of_unit(unit: Unit) -> list[OwnInterval]:
    return rows_by(OwnInterval, "unit_id", unit.id)


def _rows_of_model(model_key: str) -> list[OwnInterval]:
    return rows_by(OwnInterval, "model_key", model_key) if model_key else []


def _views(rows: Iterable[OwnInterval]) -> tuple[IntervalView, ...]:
    titles = {task.key: task.title for task in upkeep_tasks()}
    return tuple(
        IntervalView(
            id=row.id,
            task_key=row.task,
            title=titles.get(row.task, row.task),
            of_unit=row.unit_id is not None,
            every=show_interval(Interval(row.hours, row.months)),
            source=_source(row),
        )
        for row in rows
    )


def _source(row: OwnInterval) -> str:
    whose = OF_UNIT if row.unit_id is not None else OF_MODEL
    return f"{whose}, by {row.named_by}" if row.named_by else whose
