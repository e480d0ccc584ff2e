"""Two machines that are one: what their cards say differently, and making them one."""

from dataclasses import dataclass

from shopdesk.errors import JobError
from shopdesk.job.merging.fields import Choices, Side, TwoWords, differing
from shopdesk.job.merging.making_one import (
    Versions,
    begin,
    finish,
    hanging_words,
    put_words_together,
)
from shopdesk.job.merging.rows import Recorder, hanging
from shopdesk.job.opened import tag_of
from shopdesk.job.shift import Shift, load_shop
from shopdesk.job.stages import Stage
from shopdesk.job.units import current_ownership, find_unit, unit_view
from shopdesk.job.views import UnitView
from shopdesk.records.fetch import rows_by
from shopdesk.records.tables import (
    MeterReading,
    OwnInterval,
    OwnLimit,
    Reminder,
    Ticket,
    Unit,
)

OWNER = "owner"
"""The name of the choice whose machine it is."""


@dataclass(frozen=True, slots=True)
class TwoMachines:
    """Two machines side by side: the fields on which they differ, and what would go over."""

    stays: UnitView
    goes: UnitView
    fields: tuple[TwoWords, ...]
    goes_over: str
    """What hangs on the other, in words; empty for nothing."""

    @property
    def versions(self) -> Versions:
        """What was seen of the two, for ``merge_machines``."""
        return self.stays.version, self.goes.version


def two_machines(shift: Shift, stays_id: int, goes_id: int) -> TwoMachines:
    """Return two machines side by side; raises ``JobError`` if one of them is not there."""
    with shift.records.reading():
        stays, goes = find_unit(stays_id), find_unit(goes_id)
        found = {name: many for name, many in hanging(goes).items() if name != "ownership"}
        fields = differing(stays, goes, load_shop())
        mine, theirs = unit_view(stays), unit_view(goes)
        if mine.owner_id != theirs.owner_id:
            fields = (_whose(stays, goes, mine, theirs), *fields)
        return TwoMachines(mine, theirs, fields, hanging_words(found))


def merge_machines(
    shift: Shift,
    stays_id: int,
    goes_id: int,
    choices: Choices | None = None,
    seen: Versions | None = None,
) -> UnitView:
    """Make one machine of two; see ``merge_owners``. The choice ``owner`` says whose it is now.

    Raises ``JobError`` at ``other`` while each of them is here on an open ticket.
    """
    with shift.changing() as change:
        stays, goes = find_unit(stays_id), find_unit(goes_id)
        called = unit_view(goes).title
        recorder = begin(change, stays, goes, (unit_view(stays).title, called), seen)
        _refuse_two_open_tickets(stays, goes)
        chosen = dict(choices or {})
        side = chosen.pop(OWNER, None) or _later_owner(stays, goes)
        _one_owner(recorder, stays, goes, side)
        _meter_hours(stays, goes)
        put_words_together(recorder, stays, goes, chosen)
        _drop_doubles(recorder, stays, goes)
        recorder.move_all(goes, stays)
        recorder.moved.ownerships.append(current_ownership(stays).id)
        _one_open_reminder(recorder, stays)
        finish(recorder, stays, goes, called)
        return unit_view(find_unit(stays.id))


def _refuse_two_open_tickets(stays: Unit, goes: Unit) -> None:
    tags = [
        tag_of(ticket.number)
        for unit in (stays, goes)
        for ticket in rows_by(Ticket, "unit_id", unit.id)
        if ticket.stage != Stage.CLOSED
    ]
    if len(tags) > 1:
        raise JobError(
            f"{' and '.join(tags)} are both open, and one machine has one open ticket: "
            "close one of them first.",
            "other",
        )


def _whose(stays: Unit, goes: Unit, mine: UnitView, theirs: UnitView) -> TwoWords:
    offered = _later_owner(stays, goes)
    sides = (Side.STAYS, Side.GOES)
    return TwoWords(OWNER, "Whose it is now", mine.owner_name, theirs.owner_name, offered, sides)


def _later_owner(stays: Unit, goes: Unit) -> Side:
    """Return who is offered as its owner: who has it since the later day."""
    mine, theirs = current_ownership(stays), current_ownership(goes)
    return Side.GOES if theirs.since > mine.since else Side.STAYS


def _one_owner(recorder: Recorder, stays: Unit, goes: Unit, side: Side) -> None:
    """End the ownership that is not today's; one that says the same twice is taken out."""
    mine, theirs = current_ownership(stays), current_ownership(goes)
    today, before = (mine, theirs) if side is Side.STAYS else (theirs, mine)
    if today.customer_id == before.customer_id:
        today.since = min(today.since, before.since)
        recorder.save(today)
        recorder.remove(before)
        return
    before.until = max(today.since, before.since)
    recorder.save(before)


def _meter_hours(stays: Unit, goes: Unit) -> None:
    """Let the card say what its hour meter read last."""
    readings = [row for unit in (stays, goes) for row in rows_by(MeterReading, "unit_id", unit.id)]
    last = max(readings, key=lambda row: (row.read_on, row.id), default=None)
    if last is not None:
        stays.meter_hours = last.hours
    elif stays.meter_hours is None:
        stays.meter_hours = goes.meter_hours


def _drop_doubles(recorder: Recorder, stays: Unit, goes: Unit) -> None:
    """Keep one limit for each check and one interval for each task: those of the one that stays."""
    for table, key in ((OwnLimit, "check_key"), (OwnInterval, "task")):
        known = {getattr(row, key) for row in rows_by(table, "unit_id", stays.id)}
        for row in rows_by(table, "unit_id", goes.id):
            if getattr(row, key) in known:
                recorder.remove(row)


def _one_open_reminder(recorder: Recorder, stays: Unit) -> None:
    """Stop all open reminders but the one made last, which is for the owner of today."""
    rows = [row for row in rows_by(Reminder, "unit_id", stays.id) if row.state == "open"]
    rows.sort(key=lambda row: (row.made_at, row.id))
    for row in rows[:-1]:
        row.state = "stopped"
        recorder.save(row)
    for row in rows[-1:]:
        row.customer = current_ownership(stays).customer
        recorder.save(row)
