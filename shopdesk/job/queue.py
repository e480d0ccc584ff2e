"""The bench's queue: how much work stands before a machine, and when it can be ready."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import ROUND_CEILING, Decimal

from shopdesk.job.options.rules import option_rules
from shopdesk.job.stages import Stage
from shopdesk.job.standing import DECLINED
from shopdesk.pricing.money import show_quantity
from shopdesk.pricing.totals import LineKind
from shopdesk.records.tables import Line, Ticket

_AT_THE_BENCH = (Stage.INTAKE, Stage.DIAGNOSIS, Stage.APPROVAL, Stage.PARTS, Stage.REPAIR)
_FURTHEST = 2600
"""No day is told further on than so many working days, ten years: it would mean nothing."""


@dataclass(frozen=True, slots=True)
class Queue:
    """The bench hours that come first, and of how many machines.

    ``unpriced`` of them have no work on their ticket yet and count some hours each all the same.
    """

    hours: Decimal
    machines: int
    unpriced: int = 0

    @property
    def words(self) -> str:
        """The queue in words: ``3 machines before it, about 4.5 h``."""
        if not self.machines:
            return "no machine before it"
        count = "1 machine" if self.machines == 1 else f"{self.machines} machines"
        return f"{count} before it, about {show_quantity(self.hours)} h"


def queue_before(ticket: Ticket) -> Queue:
    """Return what comes before a ticket: open ones promised sooner; inside a transaction.

    Those promised for the same day, or not at all, go by their numbers.
    """
    own = _turn(ticket.promised_on, ticket.number)
    return _queue([row for row in _open_ones() if row.id != ticket.id and _before(row, own)])


def _open_ones() -> list[Ticket]:
    stages = [stage.value for stage in _AT_THE_BENCH]
    return list(
        Ticket.select(Ticket.id, Ticket.number, Ticket.stage, Ticket.promised_on).where(
            Ticket.stage.in_(stages)
        )
    )


def _before(row: Ticket, own: tuple[date, int]) -> bool:
    return _turn(row.promised_on, row.number) < own


def _queue(rows: Sequence[Ticket]) -> Queue:
    hours = _hours_left([row.id for row in rows])
    unpriced = sum(row.id not in hours for row in rows)
    left = sum(hours.values(), unpriced * option_rules().unpriced_hours)
    return Queue(left, len(rows), unpriced)


def queue_by_stage() -> dict[Stage, Queue]:
    """Return what is open before the bench is through with it, inside a transaction."""
    rows = _open_ones()
    by_stage = {stage: [row for row in rows if row.stage == stage] for stage in _AT_THE_BENCH}
    return {stage: _queue(some) for stage, some in by_stage.items() if some}


def whole_queue() -> Queue:
    """Return all of it as one, inside a transaction."""
    return _queue(_open_ones())


def ready_on(today: date, a_day: Decimal, queue: Queue, hours: Decimal, lead_days: int) -> date:
    """Return the day on which a machine is ready, at so many bench hours ``a_day``.

    Work on it begins once its parts are here and the queue is through.
    """
    at_bench = after_hours(today, a_day, queue.hours)
    parts_here = today + timedelta(days=lead_days)
    return after_hours(max(at_bench, parts_here), a_day, hours)


def after_hours(start: date, a_day: Decimal, hours: Decimal) -> date:
    """Return the day by whose end ``hours`` of bench work are done, ``start`` being the first."""
    days = min(int((hours / a_day).to_integral_value(ROUND_CEILING)), _FURTHEST)
    working = option_rules().working_days
    day = start
    while day.isoweekday() not in working:
        day += timedelta(days=1)
    for _ in range(days - 1):
        day += timedelta(days=1)
        while day.isoweekday() not in working:
            day += timedelta(days=1)
    return day


def _turn(promised: date | None, number: int) -> tuple[date, int]:
    return promised or date.max, number


def _hours_left(ticket_ids: Sequence[int]) -> dict[int, Decimal]:
    """Return by ticket the hours of its labour lines that are not done; none if it has no line."""
    found: dict[int, Decimal] = {}
    lines = Line.select(Line.ticket, Line.kind, Line.quantity, Line.done_at).where(
        Line.ticket.in_(list(ticket_ids)),
        Line.decision != DECLINED,
        Line.kind.in_([LineKind.LABOUR.value, LineKind.PART.value]),
    )
    for line in lines:
        left = line.quantity if line.kind == LineKind.LABOUR and line.done_at is None else 0
        found[line.ticket_id] = found.get(line.ticket_id, Decimal(0)) + left
    return found
