"""After pickup: the upkeep that falls due for a machine, and the reminder of it."""

from dataclasses import replace
from datetime import date

import msgspec

from shopdesk.dates import local_day, show_date
from shopdesk.errors import JobError
from shopdesk.job import typed
from shopdesk.job.opened import reminder_rows, ticket_view
from shopdesk.job.paper_content import ReminderContent
from shopdesk.job.paperwork import addressee, letterhead, machine
from shopdesk.job.reference import upkeep_tasks
from shopdesk.job.shift import Change, Shift, load_shop
from shopdesk.job.standing import find_ticket
from shopdesk.job.upkeep_plan import UpkeepAhead, dues_of, upkeep_ahead
from shopdesk.job.views import TicketView
from shopdesk.records.tables import Reminder, Ticket, Unit
from shopdesk.upkeep.tasks import each_use

STATES = ("open", "sent", "done", "stopped")


def make_reminder(shift: Shift, ticket_id: int, due_on: str = "") -> TicketView:
    """Make the reminder of the machine's next upkeep, in place of an open one.

    An empty day takes the first on which something falls due; what to do is worked out as things
    will stand on that day, and what is overdue by now is for now. Raises
    ``JobError`` when the owner wants no reminders, or no upkeep is known for this kind of machine.
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
        overdue = {
            one.task.key
            for one in dues_of(ticket.unit, change.shop, change.today)
            if one.on <= change.today
        }
        rows = [replace(row, on=change.today) if row.key in overdue else row for row in ahead.rows]
        _stop_open_reminders(change, ticket)
        change.add(
            Reminder(
                unit=ticket.unit_id,
                customer=ticket.customer_id,
                ticket=ticket,
                due_on=day,
                tasks=msgspec.json.encode(rows).decode(),
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
    """Return the first day on which something falls due; today where all of it is overdue."""
    dues = dues_of(unit, load_shop(), today)
    return next((due.on for due in dues if due.on > today), today if dues else None)


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
            each_use=ahead.each_use,
        )


def _as_made(row: Reminder) -> UpkeepAhead:
    rows = reminder_rows(row)
    every = tuple(task.title for task in each_use(upkeep_tasks(), row.unit.kind, row.unit.engine))
    own = {one.title for one in rows if one.owner_can}
    return UpkeepAhead(row.due_on, rows, _cautions(own), every)


def _cautions(titles: set[str]) -> tuple[str, ...]:
    own = (task for task in upkeep_tasks() if task.title in titles)
    return tuple(dict.fromkeys(caution.words for task in own for caution in task.cautions))


def _find_reminder(reminder_id: int) -> Reminder:
    row = Reminder.get_or_none(Reminder.id == reminder_id)
    if row is None:
        raise JobError("That reminder is not in the records any more.", "reminder")
    return row
