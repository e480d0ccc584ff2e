"""From a cause to the line that puts it right: what the bench would do, for how long, on what."""

from shopdesk.bench.cause_book import SOMETHING_ELSE, Cause
from shopdesk.bench.checks import Verdict
from shopdesk.bench.evidence import Evidence, evidence_for
from shopdesk.errors import JobError
from shopdesk.job.limits import own_limits
from shopdesk.job.lines import LineEntry
from shopdesk.job.reasons import Reason
from shopdesk.job.reference import catalogue, cause_book
from shopdesk.job.shift import Shift
from shopdesk.job.standing import DIAGNOSIS, find_ticket
from shopdesk.job.units import machine_of
from shopdesk.pricing.money import show_quantity
from shopdesk.pricing.totals import LineKind
from shopdesk.records.fetch import rows_by
from shopdesk.records.tables import Finding, Ticket


def line_for_fix(shift: Shift, ticket_id: int, cause_key: str) -> LineEntry:
    """Return a labour line, not kept yet, for the fix of a cause, with the finding it rests on.

    Raises ``JobError`` at ``cause`` for one that this machine can't have.
    """
    with shift.records.reading():
        ticket = find_ticket(ticket_id)
        machine = machine_of(ticket.unit)
        evidence = evidence_for(machine, cause_book(), catalogue(), own_limits(ticket.unit))
        cause = next((cause for cause in evidence.causes if cause.key == cause_key), None)
        if cause is None:
            raise JobError("That is no cause that this machine can have.", "cause")
        return _entry(cause, supporting(cause, ticket, evidence))


def _entry(cause: Cause, finding: Finding | None) -> LineEntry:
    looking = cause.key == SOMETHING_ELSE
    return LineEntry(
        LineKind.LABOUR,
        cause.fix,
        quantity=f"{show_quantity(cause.minutes)} min",
        reason=Reason.DIAGNOSIS if looking else Reason.FAILED,
        finding_id=finding.id if finding else None,
    )


def supporting(cause: Cause, ticket: Ticket, evidence: Evidence) -> Finding | None:
    """Return the finding out of limits that speaks most for the cause, if one does.

    Inside a transaction; ``cause`` is one of the evidence's.
    """
    place = evidence.causes.index(cause)
    found = (
        (speaks_for(place, row, evidence), row.id, row)
        for row in rows_by(Finding, "ticket_id", ticket.id)
        if row.phase == DIAGNOSIS and Verdict(row.verdict).is_off
    )
    times, _, row = max(found, default=(0.0, 0, None))
    return row if times > 1 else None


def speaks_for(place: int, row: Finding, evidence: Evidence) -> float:
    """Return how many times likelier the outcome is with the cause than with the usual one.

    ``place`` is that of the cause among the evidence's.
    """
    column = evidence.checks.get(row.check_key, {}).get(row.outcome)
    if column is None:
        return 0.0
    others = [
        share * chance
        for at, (share, chance) in enumerate(zip(evidence.common, column, strict=True))
        if at != place
    ]
    mean = sum(others) / (1 - evidence.common[place])
    return column[place] / mean if mean else 0.0
