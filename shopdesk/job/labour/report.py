"""Hours at the bench over some days: each person's, and what was clocked against what was billed.

Days are in the shop's zone, the first and the last both counted.
"""

from collections.abc import Callable, Hashable, Iterable, Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from decimal import ROUND_HALF_UP, Decimal
from typing import Any, TypeVar

import msgspec

from shopdesk.dates import as_utc
from shopdesk.job.labour.views import (
    DIAGNOSIS,
    SECONDS_IN_AN_HOUR,
    PersonTime,
    SpellView,
    spell_view,
    time_by_person,
)
from shopdesk.job.opened import tag_of
from shopdesk.job.paper_content import ChargeRow, EstimateContent, InvoiceContent
from shopdesk.job.shift import Shift, load_shop
from shopdesk.job.views import machine_title
from shopdesk.pricing.totals import LineKind
from shopdesk.records.tables import (
    Approval,
    Customer,
    Estimate,
    FlatTime,
    Invoice,
    Line,
    Ticket,
    Unit,
    WorkSpell,
)

_TENTH = Decimal("0.1")
_NONE = Decimal("0.0")
Thing = TypeVar("Thing")
AnyRow = TypeVar("AnyRow", WorkSpell, Estimate, Approval)
Key = TypeVar("Key", bound=Hashable)


@dataclass(frozen=True, slots=True)
class PersonHours:
    """One person's time at the bench, by the day on which it began."""

    person: str
    diagnosis_seconds: int
    repair_seconds: int
    spells: int
    tickets: int
    unsure: int
    """Clocks that ran on past the work, and that nobody has put right: they count nothing."""

    @property
    def hours(self) -> Decimal:
        """All of it in hours, to the tenth."""
        return _hours(self.diagnosis_seconds + self.repair_seconds)


@dataclass(frozen=True, slots=True)
class TicketHours:
    """A ticket invoiced in those days: hours as estimated, at the bench, and as billed."""

    ticket_id: int
    number: int
    tag: str
    machine: str
    owner: str
    estimated: Decimal | None
    """What the estimate said that they agreed to, else the last one given; ``None`` for none."""
    clocked_seconds: int
    """All time on the ticket, whenever it was."""
    billed: Decimal
    """As invoiced in those days, less what was credited in them."""
    people: tuple[PersonTime, ...]

    @property
    def clocked(self) -> Decimal:
        """Time at the bench in hours, to the tenth."""
        return _hours(self.clocked_seconds)


@dataclass(frozen=True, slots=True)
class FlatHours:
    """A flat time against the time that went into its lines: only those that time belongs to."""

    name: str
    set_hours: Decimal
    jobs: int
    clocked_seconds: int

    @property
    def average(self) -> Decimal | None:
        """The mean hours of a job, to the tenth; ``None`` without any."""
        return _hours(self.clocked_seconds / Decimal(self.jobs)) if self.jobs else None


def hours_by_person(shift: Shift, first_day: date, last_day: date) -> tuple[PersonHours, ...]:
    """Return each person's hours, in the order of their names; what still runs is left out."""
    with shift.records.reading():
        since, until = _moments(first_day, last_day, load_shop().zone)
        rows = WorkSpell.select().where(
            WorkSpell.started_at >= since,
            WorkSpell.started_at < until,
            WorkSpell.stopped_at.is_null(False),
        )
        by_person = _grouped(rows, lambda row: row.person)
    return tuple(_person_hours(person, some) for person, some in sorted(by_person.items()))


def clocked_against_billed(
    shift: Shift, first_day: date, last_day: date
) -> tuple[TicketHours, ...]:
    """Return the tickets that were invoiced, or credited, in those days, by number."""
    with shift.records.reading():
        bills = _bills(first_day, last_day, load_shop().zone)
        of_bills = bills.select(Invoice.ticket).distinct()
        by_ticket = _grouped(bills, lambda bill: bill.ticket_id)
        spells = _by_ticket(WorkSpell, of_bills)
        estimates, words = _by_ticket(Estimate, of_bills), _by_ticket(Approval, of_bills)
        tickets = (
            Ticket.select(Ticket, Unit, Customer)
            .join(Unit)
            .switch(Ticket)
            .join(Customer)
            .where(Ticket.id.in_(of_bills))
            .order_by(Ticket.number)
        )
        return tuple(
            _ticket_hours(
                ticket,
                by_ticket[ticket.id],
                [spell_view(row) for row in spells.get(ticket.id, ())],
                _estimated(estimates.get(ticket.id, []), words.get(ticket.id, [])),
            )
            for ticket in tickets
        )


def flat_against_clocked(shift: Shift, first_day: date, last_day: date) -> tuple[FlatHours, ...]:
    """Return each flat time against the lines of its name that were invoiced in those days."""
    with shift.records.reading():
        bills = _bills(first_day, last_day, load_shop().zone)
        flats = list(FlatTime.select().order_by(FlatTime.name, FlatTime.kind))
        lines = Line.select(Line.id, Line.description).where(
            Line.description.in_({flat.name for flat in flats}),
            Line.ticket.in_(bills.select(Invoice.ticket)),
        )
        named = {line.id: line.description for line in lines}
        spells = WorkSpell.select().where(WorkSpell.line.in_(lines.select(Line.id)))
        timed = _grouped(spells, lambda row: row.line_id or 0)
    return tuple(
        _flat_hours(flat, [rows for line, rows in timed.items() if named[line] == flat.name])
        for flat in flats
    )


def _bills(first_day: date, last_day: date, zone: str) -> Any:
    """Return the query for what was issued in those days: peewee does not type its queries."""
    since, until = _moments(first_day, last_day, zone)
    return Invoice.select().where(Invoice.issued_at >= since, Invoice.issued_at < until)


def _by_ticket(table: type[AnyRow], tickets: Any) -> dict[int, list[AnyRow]]:
    """Return the rows of some tickets, in the order they were written."""
    rows = table.select().where(table.ticket.in_(tickets)).order_by(table.id)
    return _grouped(rows, lambda row: row.ticket_id)


def _moments(first_day: date, last_day: date, zone: str) -> tuple[datetime, datetime]:
    """Return the first moment of the days, and the first after them."""
    return _midnight(first_day, zone), _midnight(last_day + timedelta(days=1), zone)


def _midnight(day: date, zone: str) -> datetime:
    return as_utc(datetime.combine(day, time()), zone).replace(tzinfo=UTC)


def _person_hours(person: str, rows: Sequence[WorkSpell]) -> PersonHours:
    spells = [spell_view(row) for row in rows]
    looking = _seconds(spell for spell in spells if spell.work == DIAGNOSIS)
    return PersonHours(
        person=person,
        diagnosis_seconds=looking,
        repair_seconds=_seconds(spells) - looking,
        spells=len(spells),
        tickets=len({row.ticket_id for row in rows}),
        unsure=sum(spell.unsure for spell in spells),
    )


def _ticket_hours(
    ticket: Ticket,
    bills: Iterable[Invoice],
    spells: Sequence[SpellView],
    estimated: Decimal | None,
) -> TicketHours:
    contents = (msgspec.json.decode(bill.content, type=InvoiceContent) for bill in bills)
    unit = ticket.unit
    return TicketHours(
        ticket_id=ticket.id,
        number=ticket.number,
        tag=tag_of(ticket.number),
        machine=machine_title(unit.kind, unit.make, unit.model),
        owner=ticket.customer.name,
        estimated=estimated,
        clocked_seconds=_seconds(spells),
        billed=sum((_labour(content.rows) for content in contents), _NONE),
        people=time_by_person(spells),
    )


def _estimated(estimates: Sequence[Estimate], words: Sequence[Approval]) -> Decimal | None:
    yeses = [word.estimate_id for word in words if word.yes]
    agreed = [row for row in estimates if yeses and row.id == yeses[-1]]
    chosen = next(iter(agreed or estimates[-1:]), None)
    if chosen is None:
        return None
    return _labour(msgspec.json.decode(chosen.content, type=EstimateContent).rows)


def _flat_hours(flat: FlatTime, timed: Sequence[Sequence[WorkSpell]]) -> FlatHours:
    spells = [spell_view(row) for rows in timed for row in rows]
    return FlatHours(flat.name, flat.hours, len(timed), _seconds(spells))


def _labour(rows: Iterable[ChargeRow]) -> Decimal:
    return sum((row.quantity for row in rows if row.kind == LineKind.LABOUR), _NONE)


def _seconds(spells: Iterable[SpellView]) -> int:
    return sum(spell.seconds for spell in spells)


def _hours(seconds: int | Decimal) -> Decimal:
    return (Decimal(seconds) / SECONDS_IN_AN_HOUR).quantize(_TENTH, ROUND_HALF_UP)


def _grouped(things: Iterable[Thing], key: Callable[[Thing], Key]) -> dict[Key, list[Thing]]:
    groups: dict[Key, list[Thing]] = {}
    for thing in things:
        groups.setdefault(key(thing), []).append(thing)
    return groups
