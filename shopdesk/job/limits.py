"""Limits of the shop's own, of one machine or of a model, which go before the reference limits."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import datetime

from shopdesk.bench.checks import Check
from shopdesk.bench.limits import Limit
from shopdesk.bench.readings import ReadingError
from shopdesk.bench.typed_limits import TypedLimit, parse_limit
from shopdesk.errors import JobError
from shopdesk.job import typed
from shopdesk.job.reference import catalogue
from shopdesk.job.shift import Change, Shift
from shopdesk.job.units import find_unit, named_model_key
from shopdesk.records.fetch import row_of, rows_by
from shopdesk.records.tables import OwnLimit, Unit

OF_UNIT = "shop's own figure for this machine"
OF_MODEL = "shop's own card for this model"
NOT_MOVED = "measured at this shop, so not moved for its altitude"


@dataclass(frozen=True, slots=True)
class LimitEntry:
    """A limit as typed: ``at least 115 psi``, ``0.020-0.030 in``, ``12 ± 1``.

    Without a unit it is in the check's usual one. ``named_by`` says where the figure stands, such
    as the maker's manual. ``measured_here``: a gauge pressure read at this shop on a sound machine,
    where otherwise it is taken to hold at sea level.
    """

    check_key: str
    limit: str
    named_by: str = ""
    measured_here: bool = False


@dataclass(frozen=True, slots=True)
class LimitView:
    """A limit of the shop's own, with what it overrides."""

    id: int
    check_key: str
    title: str
    """Of the check."""
    of_unit: bool
    """Of this one machine; else of its model."""
    typed: str
    named_by: str
    measured_here: bool
    source: str
    """As a reading judged by it will name it."""
    written_by: str
    written_at: datetime


def set_unit_limit(shift: Shift, unit_id: int, entry: LimitEntry) -> tuple[LimitView, ...]:
    """Write down a limit of one machine, instead of the one it has for that check.

    Returns its limits as ``limits_of_unit`` does. Readings judged before stay as they are. Raises
    ``JobError`` at ``check_key``, ``limit`` or ``named_by``.
    """
    with shift.changing() as change:
        unit = find_unit(unit_id)
        _write(change, _rows_of_unit(unit), OwnLimit(unit=unit), entry)
        return _views(_in_force(unit))


def set_model_limit(
    shift: Shift, make: str, model: str, entry: LimitEntry
) -> tuple[LimitView, ...]:
    """Write down a limit of a model; see ``set_unit_limit``. Raises at ``model`` for no model."""
    with shift.changing() as change:
        key = named_model_key(make, model)
        _write(change, _rows_of_model(key), OwnLimit(model_key=key), entry)
        return _views(_rows_of_model(key))


def drop_limit(shift: Shift, limit_id: int, why: str = "") -> None:
    """Take a limit away; the journal keeps it. Raises ``JobError`` if it is gone already."""
    with shift.changing() as change:
        row = row_of(OwnLimit, limit_id)
        if row is None:
            raise JobError("That limit is not on the card any more: open the card again.", "limit")
        change.remove(row, typed.line(why, "why", "The reason"))


def limits_of_unit(shift: Shift, unit_id: int) -> tuple[LimitView, ...]:
    """Return the own limits by which a machine is judged: its own, then its model's others."""
    with shift.records.reading():
        return _views(_in_force(find_unit(unit_id)))


def limits_of_model(model_key: str) -> tuple[LimitView, ...]:
    """Return the limits on a model's card, inside a transaction."""
    return _views(_rows_of_model(model_key))


def own_limits(unit: Unit) -> dict[str, Limit]:
    """Return the own limits that hold for a machine by check, as judging takes them.

    Inside a transaction. A limit whose check was taken out of the catalogue is left aside.
    """
    known = catalogue().by_key
    return {
        row.check_key: _limit(known[row.check_key], row)
        for row in _in_force(unit)
        if row.check_key in known
    }


def _in_force(unit: Unit) -> list[OwnLimit]:
    own = _rows_of_unit(unit)
    taken = {row.check_key for row in own}
    model = _rows_of_model(unit.model_key)
    return [*own, *(row for row in model if row.check_key not in taken)]


def _rows_of_unit(unit: Unit) -> list[OwnLimit]:
    return rows_by(OwnLimit, "unit_id", unit.id)


def _rows_of_model(model_key: str) -> list[OwnLimit]:
    return rows_by(OwnLimit, "model_key", model_key) if model_key else []


def _write(change: Change, present: Iterable[OwnLimit], new: OwnLimit, entry: LimitEntry) -> None:
    with typed.at_field("check_key"):
        check = catalogue().check(typed.line(entry.check_key, "check_key", "The check"))
    row = next((row for row in present if row.check_key == check.key), new)
    row.check_key = check.key
    row.typed = _with_unit(check, typed.line(entry.limit, "limit", "The limit", needed=True))
    row.named_by = typed.line(entry.named_by, "named_by", "Where the figure stands")
    row.measured_here = entry.measured_here
    row.written_by = change.who
    row.written_at = change.at
    if row is new:
        change.add(row)
    else:
        change.save(row)


def _with_unit(check: Check, written: str) -> str:
    """Return the limit with its unit. Raises ``JobError`` unless the check is read in such."""
    if check.quantity is None:
        raise JobError(
            f"“{check.title}” is judged by what is seen: only what is read in figures has a limit.",
            "check_key",
        )
    bare = written[-1].isdigit() and not _parsed(written)
    whole = f"{written} {check.usual_unit}" if bare else written
    with typed.at_field("limit"):
        limited = parse_limit(whole, "")
    if limited.limit is None:
        raise JobError(
            f"“{written}” names no figure: type it like at least 12 {check.usual_unit}.", "limit"
        )
    if limited.quantity is not check.quantity:
        raise JobError(
            f"“{check.title}” is read in {check.usual_unit}, not in {limited.unit}: "
            "type the limit in such a unit.",
            "limit",
        )
    return whole


def _parsed(written: str) -> TypedLimit | None:
    try:
        return parse_limit(written, "")
    except ReadingError:
        return None


def _limit(check: Check, row: OwnLimit) -> Limit:
    limit = parse_limit(row.typed, _source(row)).limit
    if limit is None:
        raise JobError(
            f"The limit “{row.typed}” of “{check.title}” has no figure any more: "
            "take it off the card and write it down anew.",
            "limit",
        )
    moves = any(rule.limit.gauge_pressure for rule in check.limits)
    if moves and row.measured_here:
        return replace(limit, note=NOT_MOVED)
    return replace(limit, gauge_pressure=moves)


def _source(row: OwnLimit) -> str:
    return ", ".join(filter(None, (row.named_by, OF_MODEL if row.model_key else OF_UNIT)))


def _views(rows: Iterable[OwnLimit]) -> tuple[LimitView, ...]:
    order = {key: place for place, key in enumerate(catalogue().by_key)}
    known = catalogue().by_key
    ordered = sorted(rows, key=lambda row: order.get(row.check_key, len(order)))
    return tuple(
        LimitView(
            id=row.id,
            check_key=row.check_key,
            title=known[row.check_key].title if row.check_key in known else row.check_key,
            of_unit=not row.model_key,
            typed=row.typed,
            named_by=row.named_by,
            measured_here=row.measured_here,
            source=_source(row),
            written_by=row.written_by,
            written_at=row.written_at,
        )
        for row in ordered
    )
