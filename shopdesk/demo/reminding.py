"""Tells how upkeep is noted as a machine goes home, and how the owner hears of it in time."""

from collections.abc import Iterator
from datetime import timedelta

from shopdesk.dates import show_date
from shopdesk.demo.clock import Wait
from shopdesk.demo.told import Cast, Told
from shopdesk.demo.visits import Letter, Round
from shopdesk.errors import JobError
from shopdesk.job.after import make_reminder, set_reminder_state
from shopdesk.job.due_list import due_list
from shopdesk.job.due_messages import ENDS, say_ended, say_upkeep_sent, write_to
from shopdesk.job.messages import MessageView, say_answered, say_undelivered
from shopdesk.job.opened import open_ticket
from shopdesk.job.views import ReminderView

AHEAD = timedelta(days=10)
"""A letter goes out so long before the day."""
WRITES_OF = (45, 150, 300)
"""A letter tells of what falls due in so many days; of what comes later if nothing does."""
SENT, BOOKED, BACK = "sent", "booked", "came back"


def note_upkeep(told: Told) -> None:
    """Note the next upkeep, where the owner wants to hear of it."""
    counter = told.cast.counter
    wanted = told.now.owner.may_remind and not told.now.declined
    if not wanted or counter.today < told.cast.reminds_since:
        return
    told.ticket = make_reminder(counter, told.id)
    noted = told.now.reminders[-1]
    told.say(f"next upkeep {show_date(noted.due_on)}: {'; '.join(noted.titles)}")


def remember(told: Told) -> Iterator[Wait]:
    """The letter about the upkeep goes out before its day."""
    cast, counter = told.cast, told.cast.counter
    closed_on = counter.today
    for reminder in told.now.reminders:
        ahead = reminder.due_on - AHEAD - closed_on
        yield Wait(days=max(3, ahead.days))
        still_open = any(one.id == reminder.id and one.state == "open" for one in _reminders(told))
        if still_open and counter.today < cast.no_letters_since:
            set_reminder_state(counter, reminder.id, "sent")
            cast.sent_reminders[told.unit.key] = reminder.id


def said_come(cast: Cast, unit_key: str) -> None:
    """The machine is here: the letter about it is answered."""
    answered = cast.sent_reminders.pop(unit_key, None)
    if answered is not None:
        set_reminder_state(cast.counter, answered, "done")


def write_to_all(cast: Cast, mailing: Round) -> Iterator[Wait]:
    """Everybody is written to whose machines are due, and all of it goes out."""
    yield Wait(minutes=5)
    counter, by = cast.counter, cast.counter.today + timedelta(days=mailing.ahead)
    owners = [one for one in due_list(counter, by) if one.way and one.owner not in mailing.not_to]
    made = [write_to(counter, one.customer_id, by) for one in owners]
    say_upkeep_sent(counter, [one.id for one in made])


def write_letter(cast: Cast, letter: Letter) -> Iterator[Wait]:
    """One message to an owner about all their machines, and what they say to it."""
    yield Wait(minutes=5)
    counter = cast.counter
    made = _made(cast, letter)
    if made is None or not letter.then:
        return
    yield Wait(minutes=50)
    say_upkeep_sent(counter, [made.id])
    if letter.then != SENT:
        yield Wait(days=4)
        _answer(cast, made, letter)


def _made(cast: Cast, letter: Letter) -> MessageView | None:
    """Write of what is due soon, else of what is due this season or the next."""
    counter, customer_id = cast.counter, cast.customer_ids[letter.owner]
    for days in WRITES_OF:
        by = counter.today + timedelta(days=days)
        try:
            return write_to(counter, customer_id, by, letter.way)
        except JobError:
            continue
    return None


def _answer(cast: Cast, made: MessageView, letter: Letter) -> None:
    counter = cast.counter
    if letter.then == BACK:
        say_undelivered(counter, made.id, letter.note)
    elif letter.then in ENDS:
        say_ended(counter, made.id, letter.then)
    else:
        on = counter.today + timedelta(days=9)
        day = on.isoformat() if letter.then == BOOKED else ""
        say_answered(counter, made.id, letter.note, day)


def _reminders(told: Told) -> tuple[ReminderView, ...]:
    return open_ticket(told.cast.counter, told.id).reminders
