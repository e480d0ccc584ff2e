"""What was promised against what was kept: how many were ready by their day, how late others."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal

from shopdesk.job.reports.middle import spread_of
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
    percent_of,
)
from shopdesk.job.reports.stage_times import Course, taken_in_in
from shopdesk.job.shift import Shift

NAME = "promises"
BASIS = "Tickets that were ready on those days, against the day promised last."
_LOOK_BACK = timedelta(days=730)
"""Whatever was ready in the period was taken in not longer than that before it."""


@dataclass(frozen=True, slots=True)
class Kept:
    """A ticket that was ready: its promise, and how many days late it was (0 or less: kept)."""

    course: Course
    ready_on: date
    late: int


def kept_promises(shift: Shift, period: Period) -> tuple[Kept, ...]:
    """Return the tickets with a promise that were ready on those days, the latest first."""
    with shift.records.reading():
        zone = shift.shop.zone
        courses = list(taken_in_in(Period(period.first - _LOOK_BACK, period.last)))
    return tuple(sorted(_kept(courses, period, zone), key=lambda one: -one.late))


def _kept(courses: Iterable[Course], period: Period, zone: str) -> Iterable[Kept]:
    for course in courses:
        ready = course.ready_on(zone)
        if ready is not None and ready in period and course.promised_on is not None:
            yield Kept(course, ready, (ready - course.promised_on).days)


def report(shift: Shift, period: Period) -> Report:
    """Return how promises were kept, by month, and which were not."""
    found = kept_promises(shift, period)
    months = [(part, [one for one in found if one.ready_on in part]) for part in period.parts()]
    heads = columns(
        "Month",
        ("Ready", Kind.COUNT),
        ("By the day promised", Kind.COUNT),
        ("Kept", Kind.PERCENT),
        ("Late: half within, days", Kind.COUNT),
        ("Latest, days", Kind.COUNT),
    )
    rows = [_row(part.month_words, ones) for part, ones in months if ones]
    if len(rows) > 1:
        rows.append(_row("All", found, is_sum=True))
    return Report(
        name=NAME,
        title="Promises kept",
        period=period,
        basis=BASIS,
        tables=(Table("By month", heads, tuple(rows)), _late_ones(found)),
        pictures=_pictures(months),
    )


def _row(name: str, ones: Sequence[Kept], *, is_sum: bool = False) -> Row:
    late = [Decimal(one.late) for one in ones if one.late > 0]
    kept = len(ones) - len(late)
    spread = spread_of(late)
    share = percent_of(Decimal(kept), Decimal(len(ones)))
    latest = int(max(late)) if late else None
    return Row((name, len(ones), kept, share, spread.median, latest), is_sum=is_sum)


def _late_ones(found: Sequence[Kept]) -> Table:
    heads = columns(
        "Ticket", "Owner", "Machine", ("Promised", Kind.DAY), ("Ready", Kind.DAY),
        ("Days late", Kind.COUNT),
    )  # fmt: skip
    rows = tuple(
        Row(
            (
                one.course.tag,
                one.course.owner,
                one.course.machine,
                one.course.promised_on,
                one.ready_on,
                one.late,
            ),
            ticket_id=one.course.ticket_id,
        )
        for one in found
        if one.late > 0
    )
    return Table("Later than promised", heads, rows, "None was late.")


def _pictures(months: Sequence[tuple[Period, Sequence[Kept]]]) -> tuple[Picture, ...]:
    bars = []
    for part, ones in months:
        share = percent_of(Decimal(sum(one.late <= 0 for one in ones)), Decimal(len(ones)))
        if share is not None:
            bars.append(Bar(part.month_words, share, f"{share}% of {len(ones)}"))
    return (Bars("Ready by the day promised", tuple(bars)),) if bars else ()
