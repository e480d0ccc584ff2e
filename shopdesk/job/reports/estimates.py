"""Hours as estimated against hours as clocked: by kind of machine and by cause, over and under."""

from collections import defaultdict
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal

from shopdesk.bench.cause_book import SOMETHING_ELSE
from shopdesk.job.labour.report import TicketHours, clocked_against_billed
from shopdesk.job.reference import cause_title
from shopdesk.job.reports.period import Period
from shopdesk.job.reports.report import (
    Kind,
    Picture,
    Report,
    Row,
    Strip,
    Strips,
    Table,
    columns,
    percent_of,
)
from shopdesk.job.shift import Shift
from shopdesk.records.fetch import answers

NAME = "estimates"
BASIS = "Tickets invoiced on those days that had an estimate and time on the clock."
_MOST_DRAWN = 6
_OF_TICKET = """
SELECT ticket.id, unit.kind, ticket.cause, ticket.cause_words
  FROM ticket JOIN unit ON unit.id = ticket.unit_id WHERE ticket.id = ?
"""


@dataclass(frozen=True, slots=True)
class Case:
    """A ticket with both: what kind of machine, what it was, hours as estimated and as clocked."""

    hours: TicketHours
    estimated: Decimal
    kind: str
    cause: str


def cases_in(shift: Shift, period: Period) -> tuple[Case, ...]:
    """Return the tickets that can be compared."""
    known = [
        (one, one.estimated)
        for one in clocked_against_billed(shift, period.first, period.last)
        if one.estimated is not None and one.clocked_seconds
    ]
    with shift.records.reading():
        return tuple(_case(one, estimated) for one, estimated in known)


def _case(hours: TicketHours, estimated: Decimal) -> Case:
    ((_, kind, cause, words),) = answers(_OF_TICKET, hours.ticket_id)
    title = cause_title(cause, words if cause == SOMETHING_ELSE else "") if cause else "not said"
    return Case(hours, estimated, kind, title)


def report(shift: Shift, period: Period) -> Report:
    """Return how far the estimates were off, by kind and by cause, and ticket by ticket."""
    cases = cases_in(shift, period)
    by_cause = _grouped(cases, lambda case: case.cause)
    return Report(
        name=NAME,
        title="Estimated and clocked",
        period=period,
        basis=BASIS,
        tables=(
            _table("By kind of machine", "Kind", _grouped(cases, lambda case: case.kind)),
            _table("By cause", "Cause", by_cause),
            _farthest(cases),
        ),
        pictures=_pictures(by_cause),
    )


def _grouped(cases: Iterable[Case], key: Callable[[Case], str]) -> list[tuple[str, list[Case]]]:
    groups: defaultdict[str, list[Case]] = defaultdict(list)
    for case in cases:
        groups[key(case)].append(case)
    return sorted(groups.items(), key=lambda each: (-len(each[1]), each[0]))


def _table(title: str, head: str, groups: Sequence[tuple[str, Sequence[Case]]]) -> Table:
    heads = columns(
        head,
        ("Tickets", Kind.COUNT),
        ("Estimated", Kind.HOURS),
        ("Clocked", Kind.HOURS),
        ("Clocked of estimated", Kind.PERCENT),
    )
    return Table(title, heads, tuple(_row(name, ones) for name, ones in groups))


def _row(name: str, ones: Sequence[Case]) -> Row:
    estimated, clocked = _sums(ones)
    return Row((name, len(ones), estimated, clocked, percent_of(clocked, estimated)))


def _sums(ones: Sequence[Case]) -> tuple[Decimal, Decimal]:
    estimated = sum((one.estimated for one in ones), Decimal(0))
    return estimated, sum((one.hours.clocked for one in ones), Decimal(0))


def _farthest(cases: Sequence[Case]) -> Table:
    """List the tickets, those farthest off first."""
    ordered = sorted(cases, key=lambda one: -abs(one.hours.clocked - one.estimated))
    heads = columns(
        "Ticket", "Machine", "Cause", ("Estimated", Kind.HOURS), ("Clocked", Kind.HOURS)
    )
    rows = tuple(
        Row(
            (one.hours.tag, one.hours.machine, one.cause, one.estimated, one.hours.clocked),
            ticket_id=one.hours.ticket_id,
        )
        for one in ordered
    )
    return Table("Ticket by ticket, the farthest off first", heads, rows)


def _pictures(groups: Sequence[tuple[str, Sequence[Case]]]) -> tuple[Picture, ...]:
    drawn = groups[:_MOST_DRAWN]
    if not drawn:
        return ()
    sums = [_sums(ones) for _, ones in drawn]
    strips = (
        Strip("estimated", tuple(estimated for estimated, _ in sums)),
        Strip("clocked", tuple(clocked for _, clocked in sums)),
    )
    labels = tuple(name for name, _ in drawn)
    return (Strips("Hours, by cause", labels, strips, Kind.HOURS),)
