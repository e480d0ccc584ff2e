"""Charging the time at the bench: one line for each kind of work and rate, rounded once."""

from collections.abc import Sequence
from decimal import Decimal

from shopdesk.errors import JobError
from shopdesk.job import typed
from shopdesk.job.labour.rates import BENCH_RATE, rate_typed, rate_words
from shopdesk.job.labour.views import (
    DIAGNOSIS,
    REPAIR,
    WORKS,
    spell_view,
    time_words,
    whose_clock,
)
from shopdesk.job.lines import (
    LineEntry,
    drop_row,
    find_open_line,
    put_line,
    refuse_unless_open,
)
from shopdesk.job.opened import ticket_view
from shopdesk.job.reasons import Reason
from shopdesk.job.reckoned import reckon
from shopdesk.job.shift import Change, Shift
from shopdesk.job.standing import DECLINED, find_ticket
from shopdesk.job.views import TicketView
from shopdesk.pricing.labour import billed_hours
from shopdesk.pricing.money import show_quantity
from shopdesk.pricing.totals import LineKind
from shopdesk.records.fetch import rows_by
from shopdesk.records.tables import Finding, Line, Ticket, WorkSpell

CLOCK = "clock"
"""What reckons the hours of a line that is made from time at the bench (``Line.reckoned``)."""
_LEAST_SECONDS = 30
"""What is less is no minute."""
_DESCRIBED = {
    DIAGNOSIS: "Finding the cause, time at the bench",
    REPAIR: "Repair, time at the bench",
}


def bill_time(
    shift: Shift, ticket_id: int, work: str = REPAIR, rate: str | None = None, reason: str = ""
) -> TicketView:
    """Charge the time that is on no line yet, at one rate or at each that was worked at.

    The clock's line of that work and rate is made, or renewed; lines typed by hand stay as they
    are. Raises ``JobError``: nothing to charge, a clock that runs, time that nobody vouches for.
    """
    with shift.changing() as change:
        ticket = find_ticket(ticket_id)
        refuse_unless_open(ticket)
        rates = None if rate is None else {rate_typed(rate, "rate", change.shop)}
        free = _to_charge(ticket, _work(work), rates)
        for one in sorted({row.rate for row in free}):
            _charge(change, ticket, [row for row in free if row.rate == one], reason)
        return ticket_view(ticket, change.shop, change.today)


def count_toward(shift: Shift, line_id: int, work: str = REPAIR) -> TicketView:
    """Let the time that is on no line yet belong to a labour line that has hours of its own.

    Those were set or agreed beforehand: nothing more is charged. Raises as ``bill_time`` does.
    """
    with shift.changing() as change:
        line, ticket = find_open_line(line_id)
        if line.kind != LineKind.LABOUR or line.reckoned == CLOCK:
            raise JobError(
                f"“{line.description}” has no hours of its own: choose a labour line that was "
                "typed or has a set time.",
                "line",
            )
        for row in _to_charge(ticket, _work(work), None):
            row.line = line
            change.save(row)
        return ticket_view(ticket, change.shop, change.today)


def own_hours(ticket: TicketView, work: str = REPAIR) -> tuple[int, ...]:
    """Return the ids of the labour lines for that work whose hours were typed, agreed or set."""
    return tuple(
        line.id
        for line in ticket.lines
        if line.kind is LineKind.LABOUR
        and not line.declined
        and line.reckoned != CLOCK
        and (line.reason == Reason.DIAGNOSIS) == (work == DIAGNOSIS)
    )


def left_to_charge(ticket: TicketView) -> int:
    """Return the seconds of repair that nothing charges: on no line, and no hours were agreed."""
    if own_hours(ticket) or ticket.standing_invoice is not None:
        return 0
    return sum(
        spell.seconds for spell in ticket.spells if spell.work == REPAIR and spell.line_id is None
    )


def renew_line(change: Change, line: Line | None, ticket: Ticket) -> None:
    """Bring the clock's line up to date after its time changed, inside a transaction.

    One without time goes; lines of any other sort stay as they are.
    """
    if line is None or line.reckoned != CLOCK:
        return
    hours = _hours(change, rows_by(WorkSpell, "line_id", line.id))
    if hours:
        line.quantity = hours
        change.save(line)
    else:
        drop_row(change, line, "no time is left on it")
    reckon(change, ticket)


def _charge(change: Change, ticket: Ticket, free: Sequence[WorkSpell], reason: str) -> None:
    work, rate = free[0].work, free[0].rate
    line = _clock_line(ticket, work, rate)
    held = rows_by(WorkSpell, "line_id", line.id) if line is not None else []
    hours = _hours(change, [*held, *free])
    if not hours:
        seconds = sum(spell_view(row).seconds for row in free)
        raise JobError(
            f"{time_words(seconds)} at the {rate_words(rate)} come to {hours} h: "
            "that is too little to charge.",
            "time",
        )
    line = line or _new_line(change, ticket, work, rate, hours, reason)
    for row in free:
        row.line = line
        change.save(row)
    renew_line(change, line, ticket)


def _clock_line(ticket: Ticket, work: str, rate: str) -> Line | None:
    """Return the clock's line for that work and rate, while the owner wants it."""
    spells = rows_by(WorkSpell, "ticket_id", ticket.id)
    ids = {row.line_id for row in spells if (row.work, row.rate) == (work, rate)}
    lines = (line for line in rows_by(Line, "ticket_id", ticket.id) if line.id in ids)
    return next(
        (line for line in lines if line.reckoned == CLOCK and line.decision != DECLINED), None
    )


def _new_line(
    change: Change, ticket: Ticket, work: str, rate: str, hours: Decimal, reason: str
) -> Line:
    usual, finding_id = _usual_why(ticket, work)
    described = _DESCRIBED[work]
    entry = LineEntry(
        LineKind.LABOUR,
        described if rate == BENCH_RATE else f"{described} ({rate})",
        show_quantity(hours),
        rate=rate,
        reason=reason or usual,
        finding_id=None if reason else finding_id,
    )
    line = put_line(change, ticket, entry)
    line.reckoned = CLOCK
    change.save(line)
    return line


def _usual_why(ticket: Ticket, work: str) -> tuple[Reason, int | None]:
    """Return the reason of the work, with its finding: that of the first part or labour on offer.

    Without one, what was found out of limits has failed.
    """
    if work == DIAGNOSIS:
        return Reason.DIAGNOSIS, None
    for line in sorted(rows_by(Line, "ticket_id", ticket.id), key=lambda line: line.position):
        bench = line.kind in (LineKind.PART, LineKind.LABOUR) and line.decision != DECLINED
        if bench and line.reason != Reason.DIAGNOSIS:
            return Reason(line.reason), line.finding_id
    off = (row for row in rows_by(Finding, "ticket_id", ticket.id) if row.verdict == "fail")
    failed = next(off, None)
    return (Reason.FAILED, failed.id) if failed else (Reason.ASKED, None)


def _to_charge(ticket: Ticket, work: str, rates: set[str] | None) -> list[WorkSpell]:
    """Return the spells for that work, at these rates or all, that are on no line yet."""
    rows = [
        row
        for row in rows_by(WorkSpell, "ticket_id", ticket.id, "started_at")
        if row.work == work and row.line_id is None and (rates is None or row.rate in rates)
    ]
    for row in rows:
        _refuse_unless_known(row)
    if not rows:
        raise JobError(f"No time for the {work} is left to charge.", "time")
    if sum(spell_view(row).seconds for row in rows) < _LEAST_SECONDS:
        raise JobError(
            f"The time for the {work} comes to 0 min: there is nothing to charge. "
            "Type how long it was (F2), or drop it (Del).",
            "time",
        )
    return rows


def _refuse_unless_known(row: WorkSpell) -> None:
    spell, whose = spell_view(row), whose_clock(row.person)
    if spell.running:
        raise JobError(f"{whose} still runs here: stop it first (F11).", "time")
    if spell.unsure:
        raise JobError(
            f"{whose} ran on for over 10 h: type how long that work was first.",
            "time",
        )


def _hours(change: Change, rows: Sequence[WorkSpell]) -> Decimal:
    return billed_hours((spell_view(row).seconds for row in rows), change.shop.tenths)


def _work(work: str) -> str:
    return typed.choice(work, "work", WORKS, "What the time is for", needed=True)
