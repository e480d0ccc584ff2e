"""The queue as it stands: what waits for whom, the bench's pace, and when a machine is ready."""

from collections import defaultdict
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import ROUND_HALF_UP, Decimal

from shopdesk.dates import show_date
from shopdesk.job.queue import Queue, ready_on, whole_queue
from shopdesk.job.reports.period import Period
from shopdesk.job.reports.report import (
    Bar,
    Bars,
    Kind,
    Picture,
    Report,
    Row,
    Table,
    columns,
    summed,
)
from shopdesk.job.shift import Shift, load_shop
from shopdesk.job.shop import Shop
from shopdesk.job.stages import Stage
from shopdesk.job.standing import DECLINED
from shopdesk.pricing.money import show_quantity
from shopdesk.pricing.totals import LineKind
from shopdesk.records.fetch import answers
from shopdesk.records.fields import THOUSANDTHS
from shopdesk.records.tables import Ticket

NAME = "queue"
BASIS = "As of now, whatever days are asked for: labour not ticked off yet, on open tickets."
WEEKS = 8
"""The pace is the mean of so many weeks."""
_TENTH = Decimal("0.1")

_LEFT = """
SELECT ticket.stage, count(DISTINCT ticket.id),
       coalesce(sum(CASE WHEN line.done_at IS NULL THEN line.quantity END), 0)
  FROM ticket LEFT JOIN line ON line.ticket_id = ticket.id AND line.kind = ? AND line.decision <> ?
 WHERE ticket.stage <> ?
 GROUP BY ticket.stage
"""
_DONE = """
SELECT coalesce(sum(quantity), 0) FROM line
 WHERE kind = ? AND decision <> ? AND done_at >= ? AND done_at < ?
"""


@dataclass(frozen=True, slots=True)
class TakenInToday:
    """When a machine taken in today will be ready, by the queue, and the working in one line."""

    ready_on: date
    words: str


def if_taken_in_today(shift: Shift, hours: Decimal = Decimal(1)) -> TakenInToday:
    """Return the day on which a machine taken in today is ready, if it needs ``hours``."""
    with shift.records.reading():
        shop = load_shop()
        return _taken_in_today(shop, shift.today_in(shop), hours)


def _taken_in_today(shop: Shop, today: date, hours: Decimal) -> TakenInToday:
    queue = whole_queue()
    day = ready_on(today, shop, queue, hours, 0)
    a_day = show_quantity(shop.bench_hours_per_day)
    return TakenInToday(
        day,
        f"{queue.words}, then about {show_quantity(hours)} h of its own, at {a_day} h a working "
        f"day: {show_date(day)}",
    )


def pace(shop: Shop, today: date) -> Decimal:
    """Return the bench hours a week that were ticked off lately, to a tenth; in a transaction."""
    weeks = Period(today - timedelta(weeks=WEEKS), today - timedelta(days=1))
    begin, end = (Ticket.taken_in_at.db_value(moment) for moment in weeks.moments(shop.zone))
    ((done,),) = answers(_DONE, LineKind.LABOUR, DECLINED, begin, end)
    hours = Decimal(done) / THOUSANDTHS / WEEKS
    return hours.quantize(_TENTH, ROUND_HALF_UP)


def report(shift: Shift, period: Period) -> Report:
    """Return the queue of now; the days asked for change nothing of it."""
    with shift.records.reading():
        shop = load_shop()
        today = shift.today_in(shop)
        left = answers(_LEFT, LineKind.LABOUR, DECLINED, Stage.CLOSED)
        weekly, next_one = pace(shop, today), _taken_in_today(shop, today, Decimal(1))
        queue = whole_queue()
    hours: defaultdict[str, tuple[int, Decimal]] = defaultdict(lambda: (0, Decimal(0)))
    hours |= {stage: (many, Decimal(sum_) / THOUSANDTHS) for stage, many, sum_ in left}
    rows = [Row((str(stage), *hours[stage])) for stage in Stage if stage in hours]
    heads = columns("Stage", ("Tickets", Kind.COUNT), ("Bench hours left", Kind.HOURS))
    return Report(
        name=NAME,
        title="Queue",
        period=period,
        basis=BASIS,
        tables=(
            Table(
                "What is open",
                heads,
                (*rows, summed(rows, "All", (1, 2))) if rows else (),
                "No ticket is open.",
            ),
        ),
        pictures=_pictures(rows),
        notes=(
            f"A machine taken in today: {next_one.words}.",
            _pace_words(weekly, queue),
        ),
    )


def _pace_words(weekly: Decimal, queue: Queue) -> str:
    if not weekly:
        return f"Nothing was ticked off in the last {WEEKS} weeks: no pace can be told."
    weeks = (queue.hours / weekly).quantize(_TENTH, ROUND_HALF_UP)
    return (
        f"The bench ticked off {weekly} h a week over the last {WEEKS} weeks: "
        f"at that pace the queue lasts {weeks} weeks."
    )


def _pictures(rows: list[Row]) -> tuple[Picture, ...]:
    bars = []
    for row in rows:
        stage, tickets, hours = row.cells
        assert isinstance(hours, Decimal)
        bars.append(Bar(str(stage), hours, f"{hours:.1f} h on {tickets}"))
    return (Bars("Bench hours left, by stage", tuple(bars)),) if bars else ()
