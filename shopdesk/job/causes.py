"""What it turned out to be: the cause of a ticket, said by the mechanic, and causes overruled."""

from dataclasses import dataclass

from shopdesk.bench.cause_book import SOMETHING_ELSE
from shopdesk.errors import JobError
from shopdesk.job import typed
from shopdesk.job.opened import ticket_view
from shopdesk.job.ranking import RankingView, overruled_on, ranking_of
from shopdesk.job.reference import cause_book
from shopdesk.job.shift import Shift
from shopdesk.job.stages import Stage
from shopdesk.job.standing import DIAGNOSIS, find_ticket
from shopdesk.job.units import machine_of
from shopdesk.job.views import TicketView, UnitView
from shopdesk.records.tables import OverruledCause, Unit

WANTED = "Say what it turned out to be: the next machine with this trouble is found sooner."


@dataclass(frozen=True, slots=True)
class CauseChoice:
    """A cause that a machine can have."""

    key: str
    title: str


def causes_for(unit: UnitView) -> tuple[CauseChoice, ...]:
    """Return the causes that a machine can have, "something else" last."""
    causes = cause_book().causes_for(machine_of(unit))
    return tuple(CauseChoice(cause.key, cause.title) for cause in causes)


def say_cause(shift: Shift, ticket_id: int, cause_key: str, words: str = "") -> TicketView:
    """Note what it turned out to be, at any stage; an empty key takes it back.

    "something-else" needs ``words``. Raises ``JobError`` at ``cause`` or ``words``.
    """
    with shift.changing() as change:
        ticket = find_ticket(ticket_id)
        ticket.cause = _chosen(cause_key, ticket.unit, needed=False)
        needed = ticket.cause == SOMETHING_ELSE
        said = typed.line(words, "words", "What it was", needed=needed)
        ticket.cause_words = said if ticket.cause else ""
        change.save(ticket)
        return ticket_view(ticket, change.shop, change.today)


def hint(ticket: TicketView) -> str:
    """Return the reminder to say the cause, where one was looked for and mended; else empty.

    It stops nothing.
    """
    looked_for = any(finding.phase == DIAGNOSIS for finding in ticket.findings)
    mended = ticket.stage in (Stage.REPAIR, Stage.PICKUP) and not ticket.declined
    return WANTED if looked_for and mended and not ticket.cause else ""


def overrule(shift: Shift, ticket_id: int, cause_key: str, why: str) -> RankingView:
    """Note that it is not this cause, and why; the ranking leaves it out from then on.

    Raises ``JobError`` at ``cause`` or ``why``.
    """
    with shift.changing() as change:
        ticket = find_ticket(ticket_id)
        key = _chosen(cause_key, ticket.unit, needed=True)
        if key == SOMETHING_ELSE:
            raise JobError("It can always be something else: overrule a cause by name.", "cause")
        present = (row for row in overruled_on(ticket) if row.cause == key)
        row = next(present, None) or OverruledCause(ticket=ticket, cause=key)
        row.why = typed.line(why, "why", "The reason", needed=True)
        row.said_by = change.who
        row.said_at = change.at
        if row.id is None:
            change.add(row)
        else:
            change.save(row)
        return ranking_of(ticket, change.shop)


def reinstate(shift: Shift, ticket_id: int, cause_key: str) -> RankingView:
    """Let a cause that was overruled count again. Raises ``JobError`` if it was not."""
    with shift.changing() as change:
        ticket = find_ticket(ticket_id)
        row = next((row for row in overruled_on(ticket) if row.cause == cause_key), None)
        if row is None:
            raise JobError("That cause is not overruled on this ticket.", "cause")
        change.remove(row, "counts again")
        return ranking_of(ticket, change.shop)


def _chosen(cause_key: str, unit: Unit, *, needed: bool) -> str:
    keys = [cause.key for cause in cause_book().causes_for(machine_of(unit))]
    chosen = typed.line(cause_key, "cause", "The cause", needed=needed)
    if chosen and chosen not in keys:
        raise JobError(
            f"“{chosen[:40]}” is no cause that a {unit.kind} can have: choose one of its causes, "
            "or something else.",
            "cause",
        )
    return chosen
