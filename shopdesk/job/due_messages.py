"""Writing to owners about upkeep: one message for each, kept, never twice about the same thing."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

import msgspec

from shopdesk.errors import JobError
from shopdesk.job import typed
from shopdesk.job.customers import find_customer
from shopdesk.job.due_content import UpkeepMessage, machine_due
from shopdesk.job.due_list import DueOwner, content_of, owner_due
from shopdesk.job.messages import (
    WAYS,
    About,
    MessageView,
    State,
    find_message,
    message_view,
    send,
)
from shopdesk.job.paperwork import addressee, letterhead
from shopdesk.job.shift import Change, Shift, load_shop
from shopdesk.job.units import find_unit
from shopdesk.records.fetch import rows_by
from shopdesk.records.tables import Message, Reminder, Unit

MOVED_AWAY, SOLD, STOP = ENDS = ("moved away", "sold it", "wants no more")
"""Answers after which no more is written, at least not about this."""


@dataclass(frozen=True, slots=True)
class UpkeepMessageView:
    """A message about upkeep: to whom, about which machines, and what became of it."""

    message: MessageView
    customer_id: int
    owner: str
    machines: tuple[str, ...]
    due: date


def write_to(
    shift: Shift, customer_id: int, by: date, way: str = "", invited_for: date | None = None
) -> MessageView:
    """Make one owner's message about all that falls due by then and that they did not hear of.

    An empty ``way`` is the one they wish. What is due is read again in the same transaction, so
    that two desks can't write to one owner about the same thing. Raises ``JobError``: nothing is
    due any more, or they want no reminders.
    """
    with shift.changing() as change:
        found = owner_due(customer_id, change.shop, change.today, by)
        if found is None:
            raise JobError("Nothing is due for this owner that they did not hear of.", "customer")
        if found.why_not:
            raise JobError(f"{found.owner} {found.why_not}: no message is made.", "customer")
        chosen = typed.choice(way, "way", WAYS, "The way") or found.way
        row = _message(change, found, chosen, invited_for)
        change.add(row)
        _join_reminders(change, found, row)
        return message_view(row)


def say_upkeep_sent(shift: Shift, message_ids: Iterable[int]) -> None:
    """Note that messages went out; the reminders in them count as sent."""
    with shift.changing() as change:
        for message_id in message_ids:
            row = find_message(message_id)
            send(change, row)
            _set_reminders(change, row, "sent")


def say_ended(shift: Shift, message_id: int, end: str) -> MessageView:
    """Note an answer after which no more is written, and put the records right.

    ``moved away``: nothing goes to the owner any more. ``sold it``: nothing about these machines,
    until somebody else brings one. ``wants no more``: no reminders.
    """
    with shift.changing() as change:
        row = find_message(message_id)
        said = typed.choice(end, "end", ENDS, "What they said", needed=True)
        customer = find_customer(row.customer_id)
        if said == MOVED_AWAY:
            customer.moved_away = True
        elif said == STOP:
            customer.may_remind = False
        else:
            _sold(change, row)
        change.save(customer, f"they answered: {said}")
        row.state, row.note = State.ANSWERED, said
        row.answered_at, row.sent_at = change.at, row.sent_at or change.at
        change.save(row)
        _set_reminders(change, row, "stopped")
        return message_view(row)


def upkeep_messages(shift: Shift, *, open_only: bool = True) -> tuple[UpkeepMessageView, ...]:
    """Return the messages about upkeep, newest first; those still without an answer alone."""
    waiting = [State.MADE, State.SENT]
    with shift.records.reading():
        query = Message.select().where(Message.about == About.UPKEEP)
        if open_only:
            query = query.where(Message.state.in_([state.value for state in waiting]))
        return tuple(_view(row) for row in query.order_by(Message.id.desc()))


def message_content(shift: Shift, message_id: int) -> UpkeepMessage:
    """Return what a message said when it was made."""
    with shift.records.reading():
        return content_of(find_message(message_id))


def _message(change: Change, found: DueOwner, way: str, invited_for: date | None) -> Message:
    units = [find_unit(one.unit_id) for one in found.machines]
    content = UpkeepMessage(
        shop=letterhead(load_shop()),
        owner=addressee(find_customer(found.customer_id)),
        on=change.today,
        machines=tuple(
            machine_due(unit, one.rows) for unit, one in zip(units, found.machines, strict=True)
        ),
        rounds=tuple(each for one in found.machines for each in one.rounds),
        invited_for=invited_for,
    )
    return Message(
        customer=found.customer_id,
        about=About.UPKEEP,
        way=way,
        state=State.MADE,
        content=msgspec.json.encode(content).decode(),
        made_by=change.who,
        made_at=change.at,
    )


def _join_reminders(change: Change, found: DueOwner, message: Message) -> None:
    ids = [one.reminder_id for one in found.machines if one.reminder_id is not None]
    for reminder in Reminder.select().where(Reminder.id.in_(ids)):
        reminder.message = message
        change.save(reminder)


def _set_reminders(change: Change, message: Message, state: str) -> None:
    for reminder in rows_by(Reminder, "message_id", message.id):
        if reminder.state in ("open", "sent"):
            reminder.state = state
            change.save(reminder)


def _sold(change: Change, message: Message) -> None:
    ids = {int(one.split()[0]) for one in content_of(message).rounds}
    for unit in Unit.select().where(Unit.id.in_(ids)):
        unit.gone_on, unit.gone_how = change.today, "sold, as its owner says"
        change.save(unit, "its owner says that it is sold")


def _view(row: Message) -> UpkeepMessageView:
    said = content_of(row)
    return UpkeepMessageView(
        message=message_view(row),
        customer_id=row.customer_id,
        owner=said.owner.name,
        machines=tuple(one.machine.title for one in said.machines),
        due=said.due,
    )
