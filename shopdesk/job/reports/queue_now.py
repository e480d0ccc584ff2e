"""The queue as it stands: what waits for the bench, its pace, and when a machine is ready."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from decimal import ROUND_HALF_UP, Decimal

from shopdesk.dates import show_date
from shopdesk.job.options.rules import option_rules
from shopdesk.job.pace import WEEKS, Pace, pace_of
from shopdesk.job.queue import Queue, queue_by_stage, ready_on, whole_queue
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
from shopdesk.job.stages import Stage
from shopdesk.pricing.money import show_quantity

NAME = "queue"
_TENTH = Decimal("0.1")


@dataclass(frozen=True, slots=True)
class TakenInToday:
    """When a machine taken in today will be ready, by the queue, and the working in one line."""

    ready_on: date
    words: str


def if_taken_in_today(shift: Shift, hours: Decimal = Decimal(1)) -> TakenInToday:
    """Return the day on which a machine taken in today is ready, if it needs ``hours``."""
    with shift.records.reading():
        shop = load_shop()
        today = shift.today_in(shop)
        return _taken_in_today(whole_queue(), pace_of(shop, today), today, hours)


def _taken_in_today(queue: Queue, pace: Pace, today: date, hours: Decimal) -> TakenInToday:
    day = ready_on(today, pace.a_day, queue, hours, 0)
    return TakenInToday(
        day,
        f"{queue.words}, then about {show_quantity(hours)} h of its own, at {pace.words}: "
        f"{show_date(day)}",
    )


def report(shift: Shift, period: Period) -> Report:
    """Return the queue of now; the days asked for change nothing of it."""
    with shift.records.reading():
        shop = load_shop()
        today = shift.today_in(shop)
        pace, stages, queue = pace_of(shop, today), queue_by_stage(), whole_queue()
    next_one = _taken_in_today(queue, pace, today, Decimal(1))
    rows = [Row((str(stage), *_counted(waits))) for stage, waits in stages.items()]
    return Report(
        name=NAME,
        title="Queue",
        period=period,
        basis=_basis(),
        tables=(_table(rows),),
        pictures=_pictures(stages),
        notes=(f"A machine taken in today: {next_one.words}.", _pace_words(pace, queue)),
    )


def _basis() -> str:
    hours = show_quantity(option_rules().unpriced_hours)
    return (
        "As of now, whatever days are asked for: labour not ticked off yet, on tickets before "
        f"Pickup; a ticket with no work on it yet counts as {hours} h."
    )


def _counted(queue: Queue) -> tuple[int, int, Decimal]:
    return queue.machines, queue.unpriced, queue.hours


def _table(rows: list[Row]) -> Table:
    heads = columns(
        *("Stage", ("Tickets", Kind.COUNT), ("With no work on them yet", Kind.COUNT)),
        ("Bench hours left", Kind.HOURS),
    )
    last = (summed(rows, "All", (1, 2, 3)),) if rows else ()
    return Table("What waits for the bench", heads, (*rows, *last), "Nothing waits for the bench.")


def _pace_words(pace: Pace, queue: Queue) -> str:
    if pace.weekly is None:
        return (
            "The days go by the hours set for the shop: too little was ticked off over the last "
            f"{WEEKS} weeks to tell the bench's own pace."
        )
    weeks = (queue.hours / pace.weekly).quantize(_TENTH, ROUND_HALF_UP)
    return f"At that pace the queue lasts {weeks} weeks."


def _pictures(stages: Mapping[Stage, Queue]) -> tuple[Picture, ...]:
    bars = tuple(
        Bar(str(stage), queue.hours, f"{queue.hours:.2f} h on {queue.machines}")
        for stage, queue in stages.items()
    )
    return (Bars("Bench hours left, by stage", bars),) if bars else ()
