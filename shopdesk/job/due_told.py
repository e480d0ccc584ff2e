"""What an owner was told of upkeep before, and which ways did not reach them.

A machine's upkeep comes in rounds: a task that was done begins a new one. Of one round of a task an
owner is told once, whatever list it was found on, unless the message was dropped or came back.
"""

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date

from shopdesk.dates import local_day
from shopdesk.job.due_content import content_of
from shopdesk.job.messages import EMAIL, LETTER, PHONE, POSTCARD, TEXT, About, State
from shopdesk.job.opened import reminder_rows
from shopdesk.job.paper_content import Addressee, UpkeepRow
from shopdesk.job.upkeep_done import LastDone
from shopdesk.records.fetch import rows_by
from shopdesk.records.tables import Message, Reminder
from shopdesk.upkeep.due import Due

_UNHEARD = (State.DROPPED, State.CAME_BACK)
"""Of such a message an owner did not hear."""


@dataclass(frozen=True, slots=True)
class Told:
    """The rounds that an owner heard of, and the ways by which a message came back."""

    rounds: frozenset[str] = frozenset()
    dead_ways: frozenset[str] = frozenset()


def round_of(unit_id: int, due: Due, done: Mapping[str, LastDone]) -> str:
    """Return what names this round of a task: the machine, the task, and what it counts from.

    A task that comes with the season has one round a year.
    """
    last = done.get(due.task.key)
    since = last.on.isoformat() if last else "never"
    season = f" {due.on.year}" if due.task.season else ""
    return f"{unit_id} {due.task.key} {since}{season}"


def messages_to(customer_id: int) -> list[Message]:
    """Return the messages about upkeep to an owner, inside a transaction."""
    rows = rows_by(Message, "customer_id", customer_id)
    return [row for row in rows if row.about == About.UPKEEP]


def messages_by_owner() -> Mapping[int, list[Message]]:
    """Return all messages about upkeep, by owner, inside a transaction."""
    found: defaultdict[int, list[Message]] = defaultdict(list)
    for row in rows_by(Message, "about", About.UPKEEP):
        found[row.customer_id].append(row)
    return found


def told_in(messages: Iterable[Message], named: Addressee) -> Told:
    """Return what messages told, and where they came back from as the owner is written down now."""
    rounds: set[str] = set()
    dead: set[str] = set()
    for row in messages:
        content = content_of(row)
        if row.state not in _UNHEARD:
            rounds.update(content.rounds)
        if row.state == State.CAME_BACK:
            dead.update(_dead_ways(row.way, content.owner, named))
    return Told(frozenset(rounds), frozenset(dead))


def told_by_reminder(
    reminder: Reminder, dues: Iterable[Due], done: Mapping[str, LastDone], zone: str
) -> frozenset[str]:
    """Return the keys of tasks that a reminder from pickup speaks of and that are still its round.

    What was done after it was made has begun a new one, and so has another year's season.
    """
    made = local_day(reminder.made_at, zone)
    rows = {row.key: row for row in reminder_rows(reminder)}
    return frozenset(
        due.task.key
        for due in dues
        if due.task.key in rows and _same_round(rows[due.task.key], due, done, made)
    )


def _same_round(row: UpkeepRow, due: Due, done: Mapping[str, LastDone], made: date) -> bool:
    last = done.get(due.task.key)
    if last is not None and last.on > made:
        return False
    return due.task.season is None or row.on.year == due.on.year


def _dead_ways(way: str, then: Addressee, now: Addressee) -> tuple[str, ...]:
    """Return the ways that lead where a message came back from."""
    if way in (LETTER, POSTCARD):
        return (LETTER, POSTCARD) if then.address == now.address else ()
    if way == EMAIL:
        return (EMAIL,) if then.email == now.email else ()
    return (PHONE, TEXT) if then.phones == now.phones else ()
