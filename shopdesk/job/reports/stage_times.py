"""When tickets came from stage to stage, read from the journal.

A ticket that went back counts at the last time that it came into Pickup, and at the first time that
it came into Diagnosis.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal

import msgspec

from shopdesk.dates import local_day
from shopdesk.job.opened import tag_of
from shopdesk.job.reports.period import Period
from shopdesk.job.shift import load_shop
from shopdesk.job.stages import Stage
from shopdesk.job.views import machine_title
from shopdesk.records.fetch import answers
from shopdesk.records.tables import Ticket

_DAY = Decimal(86_400)

_TICKETS = """
SELECT ticket.id, ticket.number, unit.kind, unit.make, unit.model, customer.name,
       ticket.taken_in_at, ticket.closed_at, ticket.promised_on, ticket.outcome, ticket.cause,
       ticket.cause_words,
       (SELECT min(said_at) FROM approval WHERE ticket_id = ticket.id AND yes)
  FROM ticket JOIN unit ON unit.id = ticket.unit_id
              JOIN customer ON customer.id = ticket.customer_id
 WHERE ticket.{column} >= ? AND ticket.{column} < ?
 ORDER BY ticket.id
"""
_CHANGES = """
SELECT entry.row_id, entry.at, entry.after
  FROM journal_entry AS entry JOIN ticket ON ticket.id = entry.row_id
 WHERE entry."table" = 'ticket' AND entry.action = 'changed' AND entry.after LIKE '%"stage"%'
   AND ticket.{column} >= ? AND ticket.{column} < ?
 ORDER BY entry.id
"""


@dataclass(frozen=True, slots=True)
class Course:
    """One ticket's way: moments aware in UTC, ``None`` for what it has not reached."""

    ticket_id: int
    tag: str
    kind: str
    machine: str
    owner: str
    outcome: str
    cause: str
    cause_words: str
    promised_on: date | None
    taken_in_at: datetime
    looked_at: datetime | None
    """It came into Diagnosis."""
    agreed_at: datetime | None
    """The first yes."""
    ready_at: datetime | None
    closed_at: datetime | None

    def days_to(self, moment: datetime | None) -> Decimal | None:
        """Return the days from intake to a moment, by the calendar, nights and Sundays counted."""
        if moment is None:
            return None
        return Decimal(int((moment - self.taken_in_at).total_seconds())) / _DAY

    def ready_on(self, zone: str) -> date | None:
        """The day on which it was ready, in the shop's zone."""
        return local_day(self.ready_at, zone) if self.ready_at else None


def closed_in(period: Period) -> Iterator[Course]:
    """Yield the courses of the tickets that were closed on those days, inside a transaction."""
    return _courses("closed_at", period)


def taken_in_in(period: Period) -> Iterator[Course]:
    """Yield the courses of the tickets that were taken in on those days, inside a transaction."""
    return _courses("taken_in_at", period)


def _courses(column: str, period: Period) -> Iterator[Course]:
    begin, end = (
        Ticket.taken_in_at.db_value(moment) for moment in period.moments(load_shop().zone)
    )
    into = _moments(answers(_CHANGES.format(column=column), begin, end))
    for row in answers(_TICKETS.format(column=column), begin, end):
        ticket_id, number, kind, make, model, owner, taken, closed, promised, *rest = row
        outcome, cause, cause_words, agreed = rest
        yield Course(
            ticket_id=ticket_id,
            tag=tag_of(number),
            kind=kind,
            machine=machine_title(kind, make, model),
            owner=owner,
            outcome=outcome,
            cause=cause,
            cause_words=cause_words,
            promised_on=date.fromisoformat(str(promised)[:10]) if promised else None,
            taken_in_at=_moment(taken),
            looked_at=into.get((ticket_id, Stage.DIAGNOSIS), (None, None))[0],
            agreed_at=_moment(agreed) if agreed else None,
            ready_at=into.get((ticket_id, Stage.PICKUP), (None, None))[1],
            closed_at=_moment(closed) if closed else None,
        )


def _moments(
    changes: Iterable[tuple[int, object, str]],
) -> dict[tuple[int, str], tuple[datetime, datetime]]:
    """Return by ticket and stage when it came there first and last."""
    found: dict[tuple[int, str], tuple[datetime, datetime]] = {}
    for ticket_id, at, after in changes:
        stage = msgspec.json.decode(after).get("stage")
        if stage is None:
            continue
        moment = _moment(at)
        if stage == Stage.PICKUP and _came_back_from_closed(found, ticket_id):
            continue
        first, _last = found.get((ticket_id, stage), (moment, moment))
        found[ticket_id, stage] = (first, moment)
    return found


def _came_back_from_closed(
    found: dict[tuple[int, str], tuple[datetime, datetime]], ticket_id: int
) -> bool:
    """Whether it was closed already: reopening it for its papers makes it ready no second time."""
    return (ticket_id, Stage.CLOSED) in found


def _moment(kept: object) -> datetime:
    moment = Ticket.taken_in_at.python_value(str(kept))
    assert isinstance(moment, datetime)
    return moment
