"""After pickup: the upkeep that falls due for a machine, and the reminder of it."""

from dataclasses import dataclass
from datetime import date, timedelta

import msgspec

from shopdesk.dates import local_day, show_date
from shopdesk.errors import JobError
from shopdesk.job import typed
from shopdesk.job.opened import ticket_view
from shopdesk.job.paper_content import ReminderContent, UpkeepRow
from shopdesk.job.paperwork import addressee, letterhead, machine
from shopdesk.job.reference import upkeep_seasons, upkeep_tasks
from shopdesk.job.shift import Change, Shift, load_shop
from shopdesk.job.standing import DECLINED, find_ticket
from shopdesk.job.views import TicketView, UnitView
from shopdesk.records.tables import Line, Reminder, Ticket, Unit
from shopdesk.upkeep import plan as upkeep
from shopdesk.upkeep.due import Due
from shopdesk.upkeep.tasks import Task, tasks_reset_by
from shopdesk.upkeep.use import UseProfile

REMIND_FROM = timedelta(days=21)
"""A reminder for a day sooner than that is no reminder: what is due by then is said at pickup."""
STATES = ("open", "sent", "done", "stopped")


@dataclass(frozen=True, slots=True)
class UpkeepAhead:
    """The next upkeep of a machine: the day, what to do, and the cautions that go with it."""

    due_on: date
    rows: tuple[UpkeepRow, ...]
    cautions: tuple[str, ...]


def make_reminder(shift: Shift, ticket_id: int, due_on: str = "") -> TicketView:
    """Make the reminder of the machine's next upkeep, in place of an open one.

    An empty day takes the worked-out one; what to do is worked out as things will stand on that
    day. Raises ``JobError`` when the owner wants no reminders, or no upkeep is known for this kind
    of machine.
    """
    with shift.changing() as change:
        ticket = find_ticket(ticket_id)
        if not ticket.customer.may_remind:
            raise JobError(
                f"{ticket.customer.name} asked for no reminders: change that with the owner first.",
                "reminder",
            )
        day = _typed_day(change, due_on) or _worked_out_day(ticket.unit, change.today)
        ahead = upkeep_ahead(ticket.unit, day) if day else None
        if ahead is None:
            raise JobError(
                f"No upkeep is known for this {ticket.unit.kind}: there is nothing to remind of.",
                "reminder",
            )
        _stop_open_reminders(change, ticket)
        change.add(
            Reminder(
                unit=ticket.unit_id,
                customer=ticket.customer_id,
                ticket=ticket,
                due_on=day,
                tasks=msgspec.json.encode(ahead.rows).decode(),
                made_at=change.at,
            )
        )
        return ticket_view(ticket, change.shop, change.today)


def _typed_day(change: Change, due_on: str) -> date | None:
    day = typed.day(due_on, "due_on", change.today, day_first=change.shop.day_first)
    if day is not None and day < change.today:
        raise JobError(f"{show_date(day)} is past: choose today or a later day.", "due_on")
    return day


def _worked_out_day(unit: Unit, today: date) -> date | None:
    soonest = today + REMIND_FROM
    dues = _plan(unit, soonest)
    later = [due for due in dues if due.on >= soonest]
    reminder = upkeep.next_reminder(later or dues, soonest)
    return reminder.on if reminder else None


def _stop_open_reminders(change: Change, ticket: Ticket) -> None:
    for earlier in Reminder.select().where(
        (Reminder.unit == ticket.unit_id) & (Reminder.state == "open")
    ):
        earlier.state = "stopped"
        change.save(earlier, "replaced by a newer reminder")


def set_reminder_state(shift: Shift, reminder_id: int, state: str) -> None:
    """Note what became of a reminder: ``open``, ``sent``, ``done`` or ``stopped``."""
    with shift.changing() as change:
        row = _find_reminder(reminder_id)
        row.state = typed.choice(state, "state", STATES, "The reminder's state", needed=True)
        change.save(row)


def reminder_content(shift: Shift, reminder_id: int) -> ReminderContent:
    """Return the reminder as its letter says it; past its day it is worked out anew for today."""
    with shift.records.reading():
        shop, row = load_shop(), _find_reminder(reminder_id)
        today = shift.today_in(shop)
        ahead = upkeep_ahead(row.unit, today) if row.due_on < today else None
        ahead = ahead or _as_made(row)
        closed = row.ticket.closed_at if row.ticket else None
        return ReminderContent(
            shop=letterhead(shop),
            owner=addressee(row.customer),
            machine=machine(row.unit),
            on=today,
            due=ahead.due_on,
            last_visit=local_day(closed, shop.zone) if closed else None,
            tasks=ahead.rows,
            cautions=ahead.cautions,
        )


def _as_made(row: Reminder) -> UpkeepAhead:
    rows = msgspec.json.decode(row.tasks, type=tuple[UpkeepRow, ...])
    return UpkeepAhead(row.due_on, rows, _cautions({one.title for one in rows if one.owner_can}))


def tasks_for(unit: UnitView) -> tuple[Task, ...]:
    """Return the upkeep tasks of such a machine, for saying which one a part renews."""
    return tuple(task for task in upkeep_tasks() if task.fits(unit.kind, unit.engine))


def upkeep_ahead(unit: Unit, day: date) -> UpkeepAhead | None:
    """Return a machine's next upkeep as things stand on ``day``, inside a transaction.

    What repairs renewed counts as done; what was due before is for that day.
    """
    reminder = upkeep.next_reminder(_plan(unit, day), day)
    if reminder is None:
        return None
    rows = tuple(
        UpkeepRow(due.task.title, due.task.why, max(due.on, day), due.because, due.task.owner_can)
        for due in reminder.dues
    )
    return UpkeepAhead(reminder.on, rows, tuple(one.words for one in reminder.cautions))


def _plan(unit: Unit, day: date) -> tuple[Due, ...]:
    zone = load_shop().zone
    return upkeep.plan(
        upkeep_tasks(),
        unit.kind,
        unit.engine,
        _use_profile(unit),
        _last_done(unit, zone),
        unit.bought_on or local_day(unit.created_at, zone),
        day,
        seasons=upkeep_seasons(),
    )


def _cautions(titles: set[str]) -> tuple[str, ...]:
    own = (task for task in upkeep_tasks() if task.title in titles)
    return tuple(dict.fromkeys(caution.words for task in own for caution in task.cautions))


def _use_profile(unit: Unit) -> UseProfile:
    return UseProfile(
        unit.hours_per_week, unit.first_month, unit.last_month, unit.severe_use, unit.meter_hours
    )


def _last_done(unit: Unit, zone: str) -> dict[str, date]:
    """Return by upkeep task the day that a repair of ours last did it along the way."""
    lines = (
        Line.select(Line, Ticket)
        .join(Ticket)
        .where((Ticket.unit == unit.id) & Line.done_at.is_null(False) & (Line.decision != DECLINED))
        .order_by(Line.done_at)
    )
    names = {name for task in upkeep_tasks() for name in task.reset_by}
    done: dict[str, date] = {}
    for line in lines:
        said = line.description.casefold()
        keys = tasks_reset_by(upkeep_tasks(), (name for name in names if name in said))
        done.update(dict.fromkeys(keys | {line.renews}, local_day(line.done_at, zone)))
    return done


def _find_reminder(reminder_id: int) -> Reminder:
    row = Reminder.get_or_none(Reminder.id == reminder_id)
    if row is None:
        raise JobError("That reminder is not in the records any more.", "reminder")
    return row
