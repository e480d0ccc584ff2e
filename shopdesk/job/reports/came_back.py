"""What came back: machines in again for what we had mended, by cause, part, month and person."""

from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal

from shopdesk.dates import local_day
from shopdesk.job.opened import tag_of
from shopdesk.job.reference import cause_title
from shopdesk.job.reports.asking import tuples
from shopdesk.job.reports.period import Period
from shopdesk.job.reports.report import (
    Bar,
    Bars,
    Kind,
    Report,
    Row,
    Table,
    columns,
    percent_of,
    summed,
)
from shopdesk.job.shift import Shift, load_shop
from shopdesk.job.stages import MENDED, Stage
from shopdesk.job.standing import DECLINED
from shopdesk.job.views import machine_title
from shopdesk.pricing.totals import LineKind
from shopdesk.records.tables import Customer, Line, Ticket, Unit

NAME = "came-back"
BASIS = (
    "Tickets linked to an earlier visit, by the day they came in again; the share by the day the "
    "earlier job was handed over."
)


@dataclass(frozen=True, slots=True)
class CameBack:
    """A machine in again: when, after how many days, for which earlier visit."""

    ticket_id: int
    ticket: str
    on: date
    owner: str
    machine: str
    earlier: str
    """Tag of the earlier visit."""
    days: int | None
    """Since it was handed over then."""
    cause: str
    """What it was then, in words, or empty."""
    parts: tuple[str, ...]
    """Parts fitted then that are on the ticket again now."""
    people: tuple[str, ...]
    """Who did the work then."""


@dataclass(frozen=True, slots=True)
class HandedOver:
    """Mended machines handed over in a month that a person had worked on, and what came back."""

    month: Period
    person: str
    jobs: int
    back: int

    @property
    def percent(self) -> Decimal | None:
        """How many of a hundred came back, to a tenth."""
        return percent_of(Decimal(self.back), Decimal(self.jobs))


@dataclass(frozen=True, slots=True)
class Comebacks:
    """What came back in some days, and of what was handed over in them."""

    back: tuple[CameBack, ...]
    handed_over: tuple[HandedOver, ...]


def comebacks(shift: Shift, period: Period) -> Comebacks:
    """Return what came in again on those days, and how many jobs handed over on them ever did."""
    with shift.records.reading():
        zone = load_shop().zone
        begin, end = period.moments(zone)
        found = _came_back(begin, end, zone)
        jobs = _handed_over(begin, end)
        by_person = _by_month_and_person(jobs, period, zone)
    return Comebacks(found, by_person)


def _came_back(begin: datetime, end: datetime, zone: str) -> tuple[CameBack, ...]:
    again = list(
        Ticket.select(Ticket, Customer, Unit)
        .join(Customer)
        .switch(Ticket)
        .join(Unit)
        .where(
            Ticket.comeback_of.is_null(False)
            & (Ticket.taken_in_at >= begin)
            & (Ticket.taken_in_at < end)
        )
        .order_by(Ticket.taken_in_at)
    )
    earlier = {
        ticket.id: ticket
        for ticket in Ticket.select().where(Ticket.id.in_([one.comeback_of_id for one in again]))
    }
    lines = _lines([*earlier, *(one.id for one in again)])
    return tuple(
        _one(ticket, earlier[ticket.comeback_of_id], lines, zone)
        for ticket in again
        if ticket.comeback_of_id in earlier
    )


def _one(ticket: Ticket, then: Ticket, lines: dict[int, list[Line]], zone: str) -> CameBack:
    on = local_day(ticket.taken_in_at, zone)
    fitted = {_part(line) for line in lines.get(then.id, ()) if line.kind == LineKind.PART}
    now = dict.fromkeys(
        line.description
        for line in lines.get(ticket.id, ())
        if line.kind == LineKind.PART and _part(line) in fitted
    )
    return CameBack(
        ticket_id=ticket.id,
        ticket=tag_of(ticket.number),
        on=on,
        owner=ticket.customer.name,
        machine=machine_title(ticket.unit.kind, ticket.unit.make, ticket.unit.model),
        earlier=tag_of(then.number),
        days=(on - local_day(then.closed_at, zone)).days if then.closed_at else None,
        cause=cause_title(then.cause, then.cause_words) if then.cause else "",
        parts=tuple(now),
        people=_people(lines.get(then.id, ())),
    )


def _part(line: Line) -> str:
    return (line.part_number or line.description).casefold()


def _people(lines: Iterable[Line]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(line.done_by for line in lines if line.done_at and line.done_by))


def _lines(tickets: Sequence[int]) -> dict[int, list[Line]]:
    found: defaultdict[int, list[Line]] = defaultdict(list)
    query = Line.select().where(Line.ticket.in_(tickets) & (Line.decision != DECLINED))
    for line in query.order_by(Line.position, Line.id):
        found[line.ticket_id].append(line)
    return found


@dataclass(frozen=True, slots=True)
class _Job:
    closed_at: datetime
    people: tuple[str, ...]
    back: bool


def _handed_over(begin: datetime, end: datetime) -> list[_Job]:
    """Return the mended machines that were handed over, and whether each is in again."""
    rows = tuples(
        Ticket.select(Ticket.id, Ticket.closed_at)
        .where(
            (Ticket.stage == Stage.CLOSED)
            & (Ticket.outcome == MENDED)
            & (Ticket.closed_at >= begin)
            & (Ticket.closed_at < end)
        )
        .order_by(Ticket.closed_at)
    )
    ids = [ticket_id for ticket_id, _at in rows]
    again = Ticket.select(Ticket.comeback_of).where(Ticket.comeback_of.in_(ids))
    back = {then for (then,) in tuples(again)}
    lines = _lines(ids)
    return [
        _Job(closed_at, _people(lines.get(ticket_id, ())), ticket_id in back)
        for ticket_id, closed_at in rows
    ]


def _by_month_and_person(jobs: Sequence[_Job], period: Period, zone: str) -> tuple[HandedOver, ...]:
    found = []
    for month in period.parts():
        within = [job for job in jobs if local_day(job.closed_at, zone) in month]
        for person in sorted({person for job in within for person in job.people}):
            theirs = [job for job in within if person in job.people]
            found.append(HandedOver(month, person, len(theirs), sum(job.back for job in theirs)))
    return tuple(found)


def report(shift: Shift, period: Period) -> Report:
    """Return what came back as it is shown."""
    found = comebacks(shift, period)
    causes = Counter(one.cause or "cause not said" for one in found.back)
    parts = Counter(part for one in found.back for part in one.parts)
    bars = tuple(Bar(words, Decimal(count), _times(count)) for words, count in _most(causes))
    return Report(
        name=NAME,
        title="What came back",
        period=period,
        basis=BASIS,
        tables=(
            _back_table(found.back),
            _count_table("By what it was the time before", "Cause", causes),
            _count_table("Parts fitted then and needed again", "Part", parts),
            _share_table(found.handed_over),
        ),
        pictures=(Bars("By what it was the time before", bars),) if bars else (),
        currency=shift.shop.currency,
    )


def _most(counted: Counter[str]) -> Iterator[tuple[str, int]]:
    """Give what was met with, the most frequent first, then by name."""
    yield from sorted(counted.items(), key=lambda one: (-one[1], one[0]))


def _times(count: int) -> str:
    return "once" if count == 1 else f"{count} times"


def _back_table(back: Sequence[CameBack]) -> Table:
    rows = tuple(
        Row(
            (
                *(one.on, one.ticket, one.owner, one.machine, one.earlier, one.days),
                *(one.cause, ", ".join(one.people)),
            ),
            ticket_id=one.ticket_id,
        )
        for one in back
    )
    heads = columns(
        *(("In again", Kind.DAY), "Ticket", "Owner", "Machine", "Earlier visit"),
        *(("Days between", Kind.COUNT), "What it was then", "Who did it then"),
    )
    return Table("In again", heads, rows, "Nothing came back in these days.")


def _count_table(title: str, what: str, counted: Counter[str]) -> Table:
    rows = tuple(Row(one) for one in _most(counted))
    last = (summed(rows, "All", (1,)),) if rows else ()
    return Table(title, columns(what, ("Times", Kind.COUNT)), (*rows, *last))


def _share_table(handed_over: Sequence[HandedOver]) -> Table:
    rows = tuple(
        Row((one.month.month_words, one.person, one.jobs, one.back, one.percent))
        for one in handed_over
    )
    heads = columns(
        *("Handed over", "Who did it", ("Jobs", Kind.COUNT), ("Came back", Kind.COUNT)),
        ("Share that came back", Kind.PERCENT),
    )
    return Table(
        "Of the jobs handed over in these days, by month and person",
        heads,
        rows,
        "Nothing mended was handed over in these days.",
    )
