"""What was said to an owner and what came of it: kept, so that nobody hears the same twice."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime
from enum import StrEnum

from shopdesk.errors import JobError
from shopdesk.job import typed
from shopdesk.job.shift import Change, Shift
from shopdesk.records.fetch import row_of, rows_by
from shopdesk.records.tables import Message, Reminder


class About(StrEnum):
    """What a message is about."""

    UPKEEP = "upkeep"
    NOT_FETCHED = "not fetched"


class State(StrEnum):
    """What became of a message."""

    MADE = "made"
    SENT = "sent"
    ANSWERED = "answered"
    BOOKED = "booked"
    CAME_BACK = "came back undelivered"
    DROPPED = "dropped"


LETTER, POSTCARD, EMAIL, PHONE, TEXT = WAYS = ("letter", "postcard", "e-mail", "phone", "text")
"""How an owner can be reached."""
_OF_REMINDERS = {
    State.MADE: "open",
    State.SENT: "sent",
    State.ANSWERED: "sent",
    State.BOOKED: "sent",
    State.CAME_BACK: "open",
    State.DROPPED: "open",
}
"""What becomes of the reminders that stand in a message."""


@dataclass(frozen=True, slots=True)
class MessageView:
    """One message. ``step`` is its place in a series of letters, 0 where there is none."""

    id: int
    about: About
    step: int
    way: str
    state: State
    note: str
    booked_on: date | None
    made_by: str
    made_at: datetime
    sent_at: datetime | None
    answered_at: datetime | None


def message_view(row: Message) -> MessageView:
    """Return the row as a plain value."""
    return MessageView(
        id=row.id,
        about=About(row.about),
        step=row.step,
        way=row.way,
        state=State(row.state),
        note=row.note,
        booked_on=row.booked_on,
        made_by=row.made_by,
        made_at=row.made_at,
        sent_at=row.sent_at,
        answered_at=row.answered_at,
    )


def say_sent(shift: Shift, message_id: int) -> MessageView:
    """Note that a message went out."""
    with shift.changing() as change:
        row = find_message(message_id)
        send(change, row)
        return message_view(row)


def send(change: Change, row: Message) -> None:
    """Note inside a transaction that it went out; one that was dropped can't."""
    refuse_over(row)
    if row.sent_at is None:
        row.state, row.sent_at = State.SENT, change.at
        keep_state(change, row)


def say_answered(shift: Shift, message_id: int, note: str, booked_on: str = "") -> MessageView:
    """Note what the owner said to it, and the day that they will come on, if they named one."""
    with shift.changing() as change:
        row = find_message(message_id)
        refuse_over(row)
        day = typed.day(booked_on, "booked_on", change.today, day_first=change.shop.day_first)
        row.note = typed.line(note, "note", "What they said", needed=day is None)
        row.state = State.ANSWERED if day is None else State.BOOKED
        row.booked_on, row.answered_at = day, change.at
        row.sent_at = row.sent_at or change.at
        keep_state(change, row)
        return message_view(row)


def say_undelivered(shift: Shift, message_id: int, note: str = "") -> MessageView:
    """Note that it came back: the address or number is wrong."""
    with shift.changing() as change:
        row = find_message(message_id)
        refuse_over(row)
        row.state = State.CAME_BACK
        row.note = typed.line(note, "note", "The note")
        row.booked_on, row.sent_at = None, row.sent_at or change.at
        keep_state(change, row)
        return message_view(row)


def drop_message(shift: Shift, message_id: int, why: str) -> MessageView:
    """Take back a message that did not go out; what it was about may be written again."""
    reason = typed.line(why, "why", "The reason", needed=True)
    with shift.changing() as change:
        row = find_message(message_id)
        if row.sent_at is not None:
            raise JobError("This message went out: it can't be taken back.", "message")
        row.state = State.DROPPED
        keep_state(change, row, reason)
        return message_view(row)


def keep_state(change: Change, row: Message, why: str = "", reminders: str = "") -> None:
    """Keep what became of a message, inside a transaction; the reminders in it follow.

    ``reminders`` is what becomes of them where it is not what the message's state says.
    """
    change.save(row, why)
    state = reminders or _OF_REMINDERS[State(row.state)]
    for reminder in rows_by(Reminder, "message_id", row.id):
        if reminder.state in ("open", "sent") and reminder.customer_id == row.customer_id:
            reminder.state = state
            change.save(reminder)


def refuse_over(row: Message) -> None:
    """Raise ``JobError`` where nothing can come of a message any more, inside a transaction.

    It was dropped, or it came back and another was made since.
    """
    if row.state == State.DROPPED:
        raise JobError("This message was dropped: make a new one.", "message")
    if row.state == State.CAME_BACK and any(_made_since(row)):
        raise JobError("It came back and another was made since: note it at that one.", "message")


def _made_since(row: Message) -> Iterator[bool]:
    for other in rows_by(Message, "customer_id", row.customer_id):
        same = (other.about, other.ticket_id) == (row.about, row.ticket_id)
        yield same and other.id > row.id and other.state != State.DROPPED


def find_message(message_id: int) -> Message:
    """Return the row (inside a transaction); raises ``JobError`` if there is none."""
    row = row_of(Message, message_id)
    if row is None:
        raise JobError("That message is not in the records any more.", "message")
    return row
