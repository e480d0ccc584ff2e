"""Time at the bench: the clock of each person, and time written down by hand."""

from dataclasses import dataclass
from datetime import UTC, datetime, time

from shopdesk.dates import as_utc, local_day, show_moment
from shopdesk.errors import JobError
from shopdesk.job import typed
from shopdesk.job.labour.bill import renew_line
from shopdesk.job.labour.rates import rate_typed
from shopdesk.job.labour.spells import running_rows, stop_spell, stopped_words
from shopdesk.job.labour.views import (
    DIAGNOSIS,
    LONGEST,
    REPAIR,
    WORKS,
    SpellView,
    spell_view,
    whole_minutes,
)
from shopdesk.job.lines import find_open_line
from shopdesk.job.opened import tag_of, ticket_view
from shopdesk.job.shift import Change, Shift
from shopdesk.job.stages import Stage
from shopdesk.job.standing import find_ticket, refuse_if_closed
from shopdesk.job.views import TicketView
from shopdesk.records.fetch import row_of
from shopdesk.records.tables import Line, Ticket, WorkSpell

_LOOKING = (Stage.INTAKE, Stage.DIAGNOSIS, Stage.APPROVAL)
"""The stages in which time at the bench goes into finding the cause, unless said otherwise."""
_NOON = time(12)


@dataclass(frozen=True, slots=True)
class TimeEntry:
    """A spell as typed: ``time`` as ``27 min``, ``1:20`` or ``0.5``; an empty day is today."""

    time: str
    on: str = ""
    person: str = ""
    work: str = ""
    rate: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True)
class RunningView:
    """A person's clock that runs, and the ticket that it runs on."""

    ticket_id: int
    tag: str
    spell: SpellView


@dataclass(frozen=True, slots=True)
class Clocked:
    """What became of a clock; ``stopped`` says which other one stopped for it, if one did."""

    ticket: TicketView
    spell: SpellView
    stopped: str = ""


def start_clock(
    shift: Shift, ticket_id: int, work: str = "", person: str = "", rate: str = ""
) -> Clocked:
    """Start a person's clock on a ticket; one that ran on another ticket stops.

    Raises ``JobError``: closed, running here already, or no such work or rate.
    """
    with shift.changing() as change:
        ticket = find_ticket(ticket_id)
        refuse_if_closed(ticket)
        who = _person(change, person)
        before = running_rows(who)
        if any(row.ticket_id == ticket_id for row in before):
            raise JobError(f"{_named(who)} is on the clock here already.", "person")
        stopped = [(row.ticket_id, stop_spell(change, row)) for row in before]
        row = WorkSpell(
            ticket=ticket,
            person=who,
            work=_work(work, ticket),
            rate=rate_typed(rate, "rate", change.shop),
            started_at=change.at,
        )
        change.add(row)
        said = " ".join(f"{_tag(at)}: {stopped_words([spell])}" for at, spell in stopped)
        return Clocked(ticket_view(ticket, change.shop, change.today), spell_view(row), said)


def stop_clock(shift: Shift, person: str = "", minutes: str = "") -> Clocked:
    """Stop a person's clock, with the time as typed if it ran on past the work.

    Raises ``JobError`` at ``person`` if none runs, at ``minutes`` if it ran over 10 h and they are
    not typed.
    """
    with shift.changing() as change:
        who = _person(change, person)
        row = next(iter(running_rows(who)), None)
        if row is None:
            raise JobError(f"{_named(who)} is not on the clock.", "person")
        if minutes.strip():
            row.minutes = typed.bench_minutes(minutes, "minutes")
        elif change.at - row.started_at > LONGEST:
            since = show_moment(row.started_at, change.shop.zone)
            raise JobError(
                f"The clock runs since {since}: type how long the work was, as 45 min or 1:20.",
                "minutes",
            )
        spell = stop_spell(change, row)
        ticket = find_ticket(row.ticket_id)
        return Clocked(ticket_view(ticket, change.shop, change.today), spell)


def running_of(shift: Shift, person: str = "") -> RunningView | None:
    """Return a person's clock that runs, or ``None``."""
    with shift.records.reading():
        row = next(iter(running_rows(person.strip() or shift.who)), None)
        if row is None:
            return None
        return RunningView(row.ticket_id, _tag(row.ticket_id), spell_view(row))


def add_time(shift: Shift, ticket_id: int, entry: TimeEntry) -> TicketView:
    """Write down time at the bench that no clock measured, on a closed ticket too.

    Raises ``JobError`` at the field.
    """
    with shift.changing() as change:
        ticket = find_ticket(ticket_id)
        row = WorkSpell(ticket=ticket)
        _fill(change, row, entry, ticket)
        change.add(row)
        return ticket_view(ticket, change.shop, change.today)


def change_time(shift: Shift, spell_id: int, entry: TimeEntry, why: str = "") -> TicketView:
    """Change a spell in place: who, what for, and how long; the journal keeps how it was.

    The clock's line that charges it follows. A clock that runs goes on where no time is typed.
    Raises ``JobError`` at the field, or once an invoice charges it.
    """
    reason = typed.line(why, "why", "The reason")
    with shift.changing() as change:
        row, ticket, line = _open_spell(spell_id)
        before = row.work, row.rate
        _fill(change, row, entry, ticket)
        if line is not None and (row.work, row.rate) != before:
            row.line = None
        change.save(row, reason)
        renew_line(change, line, ticket)
        return ticket_view(ticket, change.shop, change.today)


def drop_time(shift: Shift, spell_id: int, why: str) -> TicketView:
    """Take a spell off the ticket, for a reason; the journal keeps it, its line follows."""
    reason = typed.line(why, "why", "The reason", needed=True)
    with shift.changing() as change:
        row, ticket, line = _open_spell(spell_id)
        change.remove(row, reason)
        renew_line(change, line, ticket)
        return ticket_view(ticket, change.shop, change.today)


def _open_spell(spell_id: int) -> tuple[WorkSpell, Ticket, Line | None]:
    """Return a spell, its ticket, and the line that charges it, which must be open to change."""
    row = row_of(WorkSpell, spell_id)
    if row is None:
        raise JobError("That time is not on the ticket any more: open the ticket again.", "spell")
    if row.line_id is None:
        return row, find_ticket(row.ticket_id), None
    line, ticket = find_open_line(row.line_id)
    return row, ticket, line


def _fill(change: Change, row: WorkSpell, entry: TimeEntry, ticket: Ticket) -> None:
    row.person = _person(change, entry.person)
    row.work = _work(entry.work, ticket)
    row.rate = rate_typed(entry.rate, "rate", change.shop)
    row.note = typed.line(entry.note, "note", "The note")
    if row.started_at is not None and row.stopped_at is None and not entry.time.strip():
        _refuse_second_clock(row)
        return
    _fill_time(change, row, entry)


def _fill_time(change: Change, row: WorkSpell, entry: TimeEntry) -> None:
    minutes = typed.bench_minutes(entry.time, "time")
    if row.stopped_at is None or minutes != whole_minutes(spell_view(row).seconds):
        row.minutes = minutes
    began = _began(change, entry.on, row.started_at)
    if row.started_at is None:
        row.started_at = row.stopped_at = began
    elif row.started_at != began:
        row.minutes, row.started_at, row.stopped_at = minutes, began, began
    row.stopped_at = row.stopped_at or change.at


def _refuse_second_clock(row: WorkSpell) -> None:
    if any(other.id != row.id for other in running_rows(row.person)):
        raise JobError(
            f"{_named(row.person)} is on another clock already: stop it first.", "person"
        )


def _began(change: Change, on: str, kept: datetime | None) -> datetime:
    """Return when it began: noon of the day typed, or the moment that is kept for that day."""
    zone = change.shop.zone
    day = typed.day(on, "on", change.today, day_first=change.shop.day_first, past=True)
    if kept is not None and day in (None, local_day(kept, zone)):
        return kept
    if day is None or day == change.today:
        return change.at
    return as_utc(datetime.combine(day, _NOON), zone).replace(tzinfo=UTC)


def _work(work: str, ticket: Ticket) -> str:
    usual = DIAGNOSIS if ticket.stage in _LOOKING else REPAIR
    return typed.choice(work, "work", WORKS, "What the time is for") or usual


def _person(change: Change, person: str) -> str:
    return typed.line(person, "person", "The name") or change.who


def _named(person: str) -> str:
    return person or "Nobody by name"


def _tag(ticket_id: int) -> str:
    ticket = row_of(Ticket, ticket_id)
    return tag_of(ticket.number) if ticket else ""
