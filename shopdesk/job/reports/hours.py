"""Hours: who was at the bench for how long, and what of it was billed."""

from collections.abc import Sequence
from decimal import ROUND_HALF_UP, Decimal

from shopdesk.job.labour.report import (
    FlatHours,
    PersonHours,
    TicketHours,
    clocked_against_billed,
    flat_against_clocked,
    hours_by_person,
)
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
from shopdesk.job.shift import Shift
from shopdesk.pricing.money import show_percent

NAME = "hours"
BASIS = (
    "Time at the bench by the day it began; hours billed by the day of the invoice, over the whole "
    "time that the clock says for the ticket."
)
_HUNDREDTH = Decimal("0.01")


def report(shift: Shift, period: Period) -> Report:
    """Return the hours as they are shown."""
    people = hours_by_person(shift, period.first, period.last)
    tickets = clocked_against_billed(shift, period.first, period.last)
    set_times = flat_against_clocked(shift, period.first, period.last)
    flat = [one for one in set_times if one.jobs]
    tables = [_people_table(people), _ticket_table(tickets)]
    if flat:
        tables.append(_flat_table(flat))
    unsure = sum(one.unsure for one in people)
    return Report(
        name=NAME,
        title="Hours",
        period=period,
        basis=BASIS,
        tables=tuple(tables),
        pictures=(_picture(people),) if people else (),
        notes=(*_billed_words(tickets), *([_unsure_words(unsure)] if unsure else ())),
        currency=shift.shop.currency,
    )


def as_hours(seconds: int) -> Decimal:
    """Return seconds as hours, to a hundredth."""
    return (Decimal(seconds) / 3600).quantize(_HUNDREDTH, ROUND_HALF_UP)


def _all_hours(one: PersonHours) -> Decimal:
    """Return all of a person's hours: the sum of the two that are shown, so that they add up."""
    return as_hours(one.diagnosis_seconds) + as_hours(one.repair_seconds)


def _people_table(people: Sequence[PersonHours]) -> Table:
    rows = tuple(
        Row(
            (
                *(one.person or "no name", one.tickets, one.spells),
                *(as_hours(one.diagnosis_seconds), as_hours(one.repair_seconds)),
                _all_hours(one),
            )
        )
        for one in people
    )
    heads = columns(
        *("Who", ("Tickets", Kind.COUNT), ("Times", Kind.COUNT), ("Diagnosis", Kind.HOURS)),
        *(("Repair", Kind.HOURS), ("All", Kind.HOURS)),
    )
    last = (summed(rows, "All", (2, 3, 4, 5)),) if rows else ()
    return Table("At the bench", heads, (*rows, *last), "No time was clocked in these days.")


def _ticket_table(tickets: Sequence[TicketHours]) -> Table:
    rows = tuple(
        Row(
            (
                *(one.tag, one.owner, one.machine, _who(one)),
                *(one.estimated, as_hours(one.clocked_seconds), one.billed),
                one.billed - as_hours(one.clocked_seconds) if one.clocked_seconds else None,
            ),
            ticket_id=one.ticket_id,
        )
        for one in tickets
    )
    heads = columns(
        *("Ticket", "Owner", "Machine", "Who", ("Estimated", Kind.HOURS)),
        *(("Clocked", Kind.HOURS), ("Billed", Kind.HOURS), ("Billed over clocked", Kind.HOURS)),
    )
    last = (summed(rows, "All", (4, 5, 6, 7)),) if rows else ()
    return Table("Ticket by ticket", heads, (*rows, *last), "Nothing was invoiced in these days.")


def _who(ticket: TicketHours) -> str:
    return ", ".join(one.person or "no name" for one in ticket.people)


def _flat_table(flat: Sequence[FlatHours]) -> Table:
    rows = tuple(
        Row(
            (
                *(one.name, one.jobs, one.set_hours),
                one.average.quantize(_HUNDREDTH, ROUND_HALF_UP)
                if one.average is not None
                else None,
            )
        )
        for one in flat
    )
    heads = columns(
        *("Job", ("Times done", Kind.COUNT), ("Set time", Kind.HOURS)),
        ("Clocked, on average", Kind.HOURS),
    )
    return Table("Set times against the clock", heads, rows)


def _billed_words(tickets: Sequence[TicketHours]) -> list[str]:
    """Say how much of the clocked time was billed, where both are known."""
    clocked = [one for one in tickets if one.clocked_seconds]
    if not clocked:
        return []
    billed = sum((one.billed for one in clocked), Decimal(0))
    hours = sum((as_hours(one.clocked_seconds) for one in clocked), Decimal(0))
    share = percent_of(billed, hours)
    words = f"Of {hours} h clocked on invoiced tickets {billed:.1f} h were billed"
    words += f": {show_percent(share)}." if share is not None else "."
    without = len(tickets) - len(clocked)
    if without:
        words += f" {without} more invoiced without any time clocked."
    return [words]


def _unsure_words(count: int) -> str:
    times = "1 time is" if count == 1 else f"{count} times are"
    return f"{times} not counted: the clock ran over ten hours and nobody said how long it was."


def _picture(people: Sequence[PersonHours]) -> Bars:
    bars = []
    for one in people:
        hours = _all_hours(one)
        bars.append(Bar(one.person or "no name", hours, f"{hours} h"))
    return Bars("At the bench", tuple(bars))
