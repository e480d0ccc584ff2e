"""The hour meter of a machine: each reading is kept, so that its pace can be worked out."""

import re
from collections.abc import Sequence
from datetime import date
from decimal import Decimal

from shopdesk.dates import show_date
from shopdesk.errors import JobError
from shopdesk.job import typed
from shopdesk.job.shift import Change, Shift
from shopdesk.pricing.money import show_quantity
from shopdesk.records.fetch import row_of, rows_by
from shopdesk.records.tables import MeterReading, Unit
from shopdesk.upkeep.meter import MeterPoint

_HOURS = re.compile(r"\d{1,5}(\.\d{1,3})?", re.ASCII)


class MeterBackwardsError(JobError):
    """The hour meter reads less than it did before, or more than it did later."""


def read_meter(
    shift: Shift, unit_id: int, hours: str, read_on: str = "", *, new_meter: bool = False
) -> None:
    """Keep what the hour meter of a machine read on a day, today if none is typed.

    Raises ``JobError`` at the field; ``MeterBackwardsError`` for one that reads less than before,
    unless it is said to be a new one.
    """
    with shift.changing() as change:
        unit = row_of(Unit, unit_id)
        if unit is None:
            raise JobError("That machine is not in the records any more: find it again.", "unit")
        read = typed_hours(hours, "meter_hours")
        if read is None:
            raise JobError("The reading is empty: type what the hour meter shows.", "meter_hours")
        day = _day(change, read_on)
        if not new_meter:
            _refuse_backwards(unit, day, read)
        _keep(change, unit, day, read)
        _show_last(change, unit)


def meter_points(unit: Unit) -> tuple[MeterPoint, ...]:
    """Return a machine's readings in the order of their days, inside a transaction."""
    rows = sorted(rows_by(MeterReading, "unit_id", unit.id), key=lambda row: (row.read_on, row.id))
    return tuple(MeterPoint(row.read_on, row.hours) for row in rows)


def keep_meter_of_card(change: Change, unit: Unit) -> None:
    """Keep what a machine's card says of its meter, inside a transaction.

    More than was last read is a reading of today; anything else puts the last reading right.
    """
    if unit.meter_hours is None:
        return
    last = _last(rows_by(MeterReading, "unit_id", unit.id))
    if last is not None and last.hours == unit.meter_hours:
        return
    if last is not None and (last.hours > unit.meter_hours or last.read_on == change.today):
        last.hours = unit.meter_hours
        change.save(last, "put right on the machine's card")
        return
    _keep(change, unit, change.today, unit.meter_hours)


def typed_hours(hours: str, field: str) -> Decimal | None:
    """Return a meter's hours as typed, ``None`` for nothing. Raises ``JobError`` at the field."""
    said = typed.line(hours, field, "The hour meter")
    number = said.removesuffix("h").strip()
    if not number:
        return None
    if not _HOURS.fullmatch(number):
        raise JobError(
            f"“{said}” is no meter reading: type hours from 0 to 99999, such as 41.5.", field
        )
    return Decimal(number)


def _day(change: Change, read_on: str) -> date:
    order = change.shop.day_first
    return typed.day(read_on, "read_on", change.today, day_first=order, past=True) or change.today


def _refuse_backwards(unit: Unit, day: date, hours: Decimal) -> None:
    points = meter_points(unit)
    before = [point for point in points if point.on <= day]
    after = [point for point in points if point.on > day]
    if before and hours < before[-1].hours:
        _refuse(before[-1], "less", hours)
    if after and hours > after[0].hours:
        _refuse(after[0], "more", hours)


def _refuse(other: MeterPoint, how: str, hours: Decimal) -> None:
    raise MeterBackwardsError(
        f"{show_quantity(hours)} h is {how} than the {show_quantity(other.hours)} h of "
        f"{show_date(other.on)[4:]}: read it again, or say that the meter is a new one.",
        "meter_hours",
    )


def _keep(change: Change, unit: Unit, day: date, hours: Decimal) -> None:
    same_day = [row for row in rows_by(MeterReading, "unit_id", unit.id) if row.read_on == day]
    if same_day:
        same_day[-1].hours = hours
        change.save(same_day[-1])
        return
    change.add(MeterReading(unit=unit.id, read_on=day, hours=hours))


def _show_last(change: Change, unit: Unit) -> None:
    last = _last(rows_by(MeterReading, "unit_id", unit.id))
    if last is not None and unit.meter_hours != last.hours:
        unit.meter_hours = last.hours
        change.save(unit, "its hour meter was read")


def _last(rows: Sequence[MeterReading]) -> MeterReading | None:
    return max(rows, key=lambda row: (row.read_on, row.id), default=None)
