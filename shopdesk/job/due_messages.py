"""Writing to owners about upkeep: one message for each, kept, never twice about the same thing."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

import msgspec

from shopdesk.dates import local_day, show_date
from shopdesk.errors import JobError
from shopdesk.job import typed
from shopdesk.job.customers import find_customer
from shopdesk.job.due_content import MachineDue, UpkeepMessage, content_of, machine_due
from shopdesk.job.due_list import DueOwner, may_hear_of, owner_due, way_to
from shopdesk.job.due_told import messages_to, round_of, told_in
from shopdesk.job.messages import (
    WAYS,
    About,
    MessageView,
    State,
    find_message,
    keep_state,
    message_view,
    refuse_over,
    send,
)
from shopdesk.job.paperwork import addressee, letterhead
from shopdesk.job.shift import Change, Shift
from shopdesk.job.units import find_unit
from shopdesk.job.upkeep_done import last_done
from shopdesk.job.upkeep_plan import dues_of, upkeep_row
from shopdesk.records.fetch import rows_by
from shopdesk.records.tables import Customer, Message, Reminder, Unit

MOVED_AWAY, SOLD, STOP = ENDS = ("moved away", "sold it", "wants no more")
"""Answers after which no more is written, at least not about this."""
WAITING = (State.MADE, State.SENT, State.BOOKED)
"""The states of a message that something is still to come of."""
AGAIN_AFTER = timedelta(weeks=4)
"""A second message about the same thing goes out by hand, and not sooner than that."""


@dataclass(frozen=True, slots=True)
class UpkeepMessageView:
    """A message about upkeep: to whom, about which machines, and what became of it."""

    message: MessageView
    customer_id: int
    owner: str
    phones: tuple[str, ...]
    machines: tuple[tuple[int, str], ...]
    """By id, each with its title."""
    due: date
    again: bool

    @property
    def titles(self) -> str:
        """All its machines in a line."""
        return "; ".join(title for _, title in self.machines)


def write_to(
    shift: Shift, customer_id: int, by: date, way: str = "", invited_for: date | None = None
) -> MessageView:
    """Make one owner's message about all that falls due by then and that they did not hear of.

    An empty ``way`` is the one they wish. What is due is read again in the same transaction, so
    that two desks can't write to one owner about the same thing. Raises ``JobError``: nothing is
    due any more, they want no reminders, or can't be reached that way.
    """
    with shift.changing() as change:
        found = owner_due(customer_id, change.shop, change.today, by)
        if found is None:
            raise JobError("Nothing is due for this owner that they did not hear of.", "customer")
        chosen = _way(way, found.owner, found.way, found.ways, found.why_not)
        content = UpkeepMessage(
            shop=letterhead(change.shop),
            owner=addressee(find_customer(customer_id)),
            on=change.today,
            machines=tuple(machine_due(find_unit(one.unit_id), one.rows) for one in found.machines),
            rounds=tuple(each for one in found.machines for each in one.rounds),
            invited_for=invited_for,
        )
        row = _keep(change, customer_id, chosen, content)
        _join_reminders(change, found, row)
        return message_view(row)


def write_again(shift: Shift, message_id: int, way: str = "") -> MessageView:
    """Make a second, gentler message about what was not answered and is not done yet.

    By hand only, once, and not before ``AGAIN_AFTER``. Raises ``JobError`` when it may not be.
    """
    with shift.changing() as change:
        first = find_message(message_id)
        said = content_of(first)
        _refuse_again(change, first, said)
        customer = find_customer(first.customer_id)
        named = addressee(customer)
        machines, rounds = _still_due(change, customer, said)
        if not machines:
            raise JobError("Nothing of it is due any more: it was done meanwhile.", "message")
        dead = told_in(messages_to(customer.id), named).dead_ways
        chosen = _way(way, customer.name, *way_to(customer, named, dead))
        content = UpkeepMessage(
            letterhead(change.shop), named, change.today, machines, rounds, again=True
        )
        return message_view(_keep(change, customer.id, chosen, content))


def say_upkeep_sent(shift: Shift, message_ids: Iterable[int]) -> None:
    """Note that messages went out, all of them or none; the reminders in them count as sent."""
    with shift.changing() as change:
        for message_id in message_ids:
            send(change, find_message(message_id))


def say_ended(shift: Shift, message_id: int, end: str, unit_ids: Sequence[int] = ()) -> MessageView:
    """Note an answer after which no more is written, and put the records right.

    ``moved away``: nothing goes to the owner any more. ``sold it``: nothing about these machines
    (all in the message, unless some are named) until somebody brings one. ``wants no more``: no
    reminders.
    """
    with shift.changing() as change:
        row = find_message(message_id)
        refuse_over(row)
        said = typed.choice(end, "end", ENDS, "What they said", needed=True)
        customer = find_customer(row.customer_id)
        why = f"they answered: {said}"
        if said == MOVED_AWAY:
            customer.moved_away = True
        elif said == STOP:
            customer.may_remind = False
        else:
            _sold(change, row, unit_ids)
        change.save(customer, why)
        row.state, row.note, row.booked_on = State.ANSWERED, said, None
        row.answered_at, row.sent_at = change.at, row.sent_at or change.at
        keep_state(change, row, reminders="" if said == SOLD else "stopped")
        return message_view(row)


def upkeep_messages(
    shift: Shift, states: Sequence[State] = WAITING
) -> tuple[UpkeepMessageView, ...]:
    """Return the messages about upkeep in one of these states, newest first."""
    with shift.records.reading():
        query = Message.select().where(
            (Message.about == About.UPKEEP) & Message.state.in_([one.value for one in states])
        )
        return tuple(_view(row) for row in query.order_by(Message.id.desc()))


def message_content(shift: Shift, message_id: int) -> UpkeepMessage:
    """Return what a message said when it was made."""
    with shift.records.reading():
        return content_of(find_message(message_id))


def _way(wished: str, owner: str, way: str, ways: Sequence[str], why_not: str) -> str:
    if why_not:
        raise JobError(f"{owner} {why_not}: no message is made.", "customer")
    chosen = typed.choice(wished, "way", WAYS, "The way") or way
    if chosen not in ways:
        raise JobError(f"{owner} can't be reached by {chosen}: choose {' or '.join(ways)}.", "way")
    return chosen


def _keep(change: Change, customer_id: int, way: str, content: UpkeepMessage) -> Message:
    row = Message(
        customer=customer_id,
        about=About.UPKEEP,
        way=way,
        state=State.MADE,
        content=msgspec.json.encode(content).decode(),
        made_by=change.who,
        made_at=change.at,
    )
    change.add(row)
    return row


def _join_reminders(change: Change, found: DueOwner, message: Message) -> None:
    ids = [each for one in found.machines for each in one.reminder_ids]
    for reminder in Reminder.select().where(Reminder.id.in_(ids)):
        reminder.message = message
        change.save(reminder)


def _refuse_again(change: Change, first: Message, said: UpkeepMessage) -> None:
    if first.state != State.SENT or first.sent_at is None:
        raise JobError("Only what went out and was not answered is written again.", "message")
    rounds = set(said.rounds)
    for row in messages_to(first.customer_id):
        told = content_of(row)
        if row.state != State.DROPPED and told.again and rounds & set(told.rounds):
            raise JobError("They were written to a second time already: call them.", "message")
    from_day = local_day(first.sent_at, change.shop.zone) + AGAIN_AFTER
    if change.today < from_day:
        raise JobError(
            f"It went out less than {AGAIN_AFTER.days} days ago: "
            f"write again from {show_date(from_day)} on.",
            "message",
        )


def _still_due(
    change: Change, customer: Customer, said: UpkeepMessage
) -> tuple[tuple[MachineDue, ...], tuple[str, ...]]:
    """Return of what was said the machines and rounds that nothing was done about."""
    wanted, machines, rounds = set(said.rounds), [], []
    for unit_id in dict.fromkeys(one.unit_id for one in said.machines):
        if not may_hear_of(unit_id, customer.id):
            continue
        unit = find_unit(unit_id)
        done = last_done(unit, change.shop.zone)
        dues = dues_of(unit, change.shop, change.today, done)
        open_ones = [due for due in dues if round_of(unit_id, due, done) in wanted]
        if open_ones:
            rows = tuple(upkeep_row(due, change.today) for due in open_ones)
            machines.append(machine_due(unit, rows))
            rounds += [round_of(unit_id, due, done) for due in open_ones]
    return tuple(machines), tuple(rounds)


def _sold(change: Change, message: Message, unit_ids: Sequence[int]) -> None:
    told = {one.unit_id for one in content_of(message).machines}
    chosen = told & set(unit_ids) if unit_ids else told
    if not chosen:
        raise JobError("That machine is not in this message: choose one that is.", "unit")
    for unit in Unit.select().where(Unit.id.in_(chosen) & Unit.gone_on.is_null()):
        if not may_hear_of(unit.id, message.customer_id):
            continue
        unit.gone_on, unit.gone_how = change.today, "sold, as its owner says"
        change.save(unit, "its owner says that it is sold")
        _stop_reminders(change, unit.id)


def _stop_reminders(change: Change, unit_id: int) -> None:
    for reminder in rows_by(Reminder, "unit_id", unit_id):
        if reminder.state in ("open", "sent"):
            reminder.state = "stopped"
            change.save(reminder, "the machine is sold")


def _view(row: Message) -> UpkeepMessageView:
    said = content_of(row)
    return UpkeepMessageView(
        message=message_view(row),
        customer_id=row.customer_id,
        owner=said.owner.name,
        phones=said.owner.phones,
        machines=tuple((one.unit_id, one.machine.title) for one in said.machines),
        due=said.due,
        again=said.again,
    )
