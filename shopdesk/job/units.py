"""Machines: adding one, changing one, and handing one on to another owner with its history."""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from shopdesk.bench.machines import Engine, Kind, Machine
from shopdesk.errors import JobError
from shopdesk.job import typed
from shopdesk.job.customers import find_customer
from shopdesk.job.meter import keep_meter_of_card, typed_hours
from shopdesk.job.shift import Change, Shift
from shopdesk.job.views import UnitView
from shopdesk.records.fetch import row_of, rows_by
from shopdesk.records.tables import Customer, Ownership, Reminder, Ticket, Unit
from shopdesk.text import letters_and_digits

ENGINES = tuple(engine.value for engine in Engine)
KINDS = tuple(kind.value for kind in Kind)
"""The kinds that the reference data tells apart; any other word is taken as well."""


@dataclass(frozen=True, slots=True)
class UnitEntry:
    """A machine as typed at the counter; months are 1 to 12, hours as people say them."""

    kind: str
    engine: str
    make: str = ""
    model: str = ""
    serial: str = ""
    notes: str = ""
    bought_on: str = ""
    hours_per_week: str = ""
    first_month: str = ""
    last_month: str = ""
    severe_use: bool = False
    meter_hours: str = ""


def add_unit(shift: Shift, owner_id: int, entry: UnitEntry) -> UnitView:
    """Write down a new machine of an owner. Raises ``JobError`` at the field."""
    with shift.changing() as change:
        return unit_view(insert_unit(change, find_customer(owner_id), entry))


def insert_unit(change: Change, owner: Customer, entry: UnitEntry) -> Unit:
    """Insert a machine and its ownership inside a transaction."""
    unit = Unit(created_at=change.at)
    fill_unit(change, unit, entry)
    change.add(unit)
    keep_meter_of_card(change, unit)
    change.add(Ownership(unit=unit, customer=owner, since=unit.bought_on or change.today))
    return unit


def change_unit(
    shift: Shift, unit_id: int, entry: UnitEntry, version: int | None = None
) -> UnitView:
    """Change a machine's particulars; see ``change_customer`` for ``version``."""
    with shift.changing() as change:
        unit = find_unit(unit_id)
        if version is not None:
            unit.version = version
        fill_unit(change, unit, entry)
        change.save(unit)
        keep_meter_of_card(change, unit)
        return unit_view(unit)


def hand_on(shift: Shift, unit_id: int, new_owner_id: int, since: str = "") -> UnitView:
    """Note that the machine has a new owner since a day, else today; its history stays with it."""
    with shift.changing() as change:
        unit, owner = find_unit(unit_id), find_customer(new_owner_id)
        day = (
            typed.day(since, "since", change.today, day_first=change.shop.day_first, past=True)
            or change.today
        )
        pass_to(change, unit, owner, day)
        return unit_view(unit)


def pass_to(change: Change, unit: Unit, owner: Customer, day: date) -> None:
    """End the present ownership and begin the new one, inside a transaction."""
    present = current_ownership(unit)
    if present.customer_id == owner.id:
        raise JobError(f"{owner.name} owns this machine already.", "customer")
    if day < present.since:
        raise JobError(
            f"The new owner can't have had it before {present.since:%d %b %Y}: type a later day.",
            "since",
        )
    present.until = day
    change.save(present)
    change.add(Ownership(unit=unit, customer=owner, since=day))
    _redirect_reminders(change, unit, owner)


def put_owner_right(change: Change, unit: Unit, owner: Customer) -> None:
    """Put right whose the machine is, as if the present owner had never been written down.

    An owner under whom it was here before did own it: then it has changed hands today.
    """
    present = current_ownership(unit)
    if present.customer_id == owner.id:
        return
    if Ticket.get_or_none((Ticket.unit == unit.id) & (Ticket.customer == present.customer_id)):
        pass_to(change, unit, owner, change.today)
        return
    before = Ownership.get_or_none(
        (Ownership.unit == unit.id)
        & (Ownership.customer == owner.id)
        & (Ownership.until == present.since)
    )
    if before is None:
        present.customer = owner
        change.save(present, "wrong customer")
    else:
        change.remove(present, "wrong customer")
        before.until = None
        change.save(before, "wrong customer")
    _redirect_reminders(change, unit, owner)


def _redirect_reminders(change: Change, unit: Unit, owner: Customer) -> None:
    """Let the machine's open reminders go to its owner of today, who may not want any."""
    for reminder in Reminder.select().where(
        (Reminder.unit == unit.id) & (Reminder.state == "open")
    ):
        reminder.customer = owner
        reminder.state = "open" if owner.may_remind else "stopped"
        change.save(reminder, "the machine has another owner")


def units_of(shift: Shift, customer_id: int) -> tuple[UnitView, ...]:
    """Return the machines that a customer owns today, newest first."""
    with shift.records.reading():
        rows = (
            Unit.select()
            .join(Ownership)
            .where((Ownership.customer == customer_id) & Ownership.until.is_null())
            .order_by(Unit.id.desc())
        )
        return tuple(unit_view(unit) for unit in rows)


def get_unit(shift: Shift, unit_id: int) -> UnitView:
    """Return one machine; raises ``JobError`` if there is none of that id."""
    with shift.records.reading():
        return unit_view(find_unit(unit_id))


def find_unit(unit_id: int) -> Unit:
    """Return the row (inside a transaction); raises ``JobError`` if there is none."""
    unit = row_of(Unit, unit_id)
    if unit is None:
        raise JobError("That machine is not in the records any more: find it again.", "unit")
    return unit


def model_key(make: str, model: str) -> str:
    """Return what all spellings of a make and model have in common; empty for no model."""
    folded = letters_and_digits(model)
    return f"{letters_and_digits(make)} {folded}" if folded else ""


def named_model_key(make: str, model: str) -> str:
    """Return the key of a model; raises ``JobError`` at ``model`` where none is named."""
    key = model_key(typed.line(make, "make", "The make"), typed.line(model, "model", "The model"))
    if not key:
        raise JobError("No model is named: type the machine's make and model first.", "model")
    return key


def current_ownership(unit: Unit) -> Ownership:
    """Return whose the machine is today."""
    owners = rows_by(Ownership, "unit_id", unit.id)
    return next(owner for owner in owners if owner.until is None)


def machine_of(unit: Unit | UnitView) -> Machine:
    """Return the machine as the bench's thinking takes it."""
    return Machine(unit.kind, Engine(unit.engine), unit.make, unit.model)


def unit_view(unit: Unit) -> UnitView:
    """Return the row as a plain value, with its owner of today."""
    owner = find_customer(current_ownership(unit).customer_id)
    return UnitView(
        id=unit.id,
        version=unit.version,
        kind=unit.kind,
        engine=unit.engine,
        make=unit.make,
        model=unit.model,
        serial=unit.serial,
        notes=unit.notes,
        bought_on=unit.bought_on,
        hours_per_week=unit.hours_per_week,
        first_month=unit.first_month,
        last_month=unit.last_month,
        severe_use=unit.severe_use,
        meter_hours=unit.meter_hours,
        owner_id=owner.id,
        owner_name=owner.name,
    )


def fill_unit(change: Change, unit: Unit, entry: UnitEntry) -> None:
    """Put what was typed into the row; raises ``JobError`` at the field."""
    unit.kind = _kind(entry)
    unit.engine = typed.choice(entry.engine, "engine", ENGINES, "The engine", needed=True)
    unit.make = typed.line(entry.make, "make", "The make")
    unit.model = typed.line(entry.model, "model", "The model")
    unit.model_key = model_key(unit.make, unit.model)
    unit.serial = typed.line(entry.serial, "serial", "The serial number")
    unit.folded_serial = letters_and_digits(unit.serial)
    unit.notes = typed.text(entry.notes, "notes", "The note")
    unit.bought_on = _bought_on(change, entry)
    unit.hours_per_week = _hours_per_week(entry)
    unit.first_month, unit.last_month = _season(entry)
    unit.severe_use = entry.severe_use
    unit.meter_hours = typed_hours(entry.meter_hours, "meter_hours")


def _kind(entry: UnitEntry) -> str:
    """Return the kind as the checks and the upkeep know it, or a kind of the shop's own."""
    kind = typed.line(entry.kind, "kind", "The kind of machine", needed=True)
    return next((known.value for known in Kind if known == kind.casefold()), kind)


def _bought_on(change: Change, entry: UnitEntry) -> date | None:
    day = typed.day(
        entry.bought_on, "bought_on", change.today, day_first=change.shop.day_first, past=True
    )
    if day is not None and day > change.today:
        raise JobError(f"{day:%d %b %Y} has not come yet: type the day it was bought.", "bought_on")
    return day


def _hours_per_week(entry: UnitEntry) -> Decimal | None:
    hours = typed.optional_quantity(entry.hours_per_week, "hours_per_week")
    if hours is not None and hours > 168:
        raise JobError(f"A week has 168 hours, not {hours}: type hours a week.", "hours_per_week")
    return hours


def _season(entry: UnitEntry) -> tuple[int | None, int | None]:
    first, last = _month(entry.first_month, "first_month"), _month(entry.last_month, "last_month")
    if (first is None) != (last is None):
        field = "first_month" if first is None else "last_month"
        raise JobError("Type both the first and the last month of use, or neither.", field)
    return first, last


def _month(typed_month: str, field: str) -> int | None:
    month = typed.line(typed_month, field, "The month")
    if not month:
        return None
    if not month.isdecimal() or not 1 <= int(month) <= 12:
        raise JobError(f"“{month}” is no month: type 1 to 12.", field)
    return int(month)
