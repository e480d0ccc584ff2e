"""How long machines take: from intake to diagnosis, to the yes, to ready, and to the door."""

from collections import defaultdict
from collections.abc import Callable, Sequence
from datetime import datetime
from decimal import Decimal

from shopdesk.job.reports.middle import ENOUGH, Spread, spread_of, to_tenth
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
)
from shopdesk.job.reports.stage_times import Course, closed_in
from shopdesk.job.shift import Shift

NAME = "turnaround"
BASIS = (
    "Tickets closed on those days; days by the calendar, from the counter on. "
    "A ticket that went back to the bench counts when it was ready for the last time."
)
_MILESTONES: tuple[tuple[str, Callable[[Course], datetime | None]], ...] = (
    ("looked at", lambda course: course.looked_at),
    ("agreed to", lambda course: course.agreed_at),
    ("ready", lambda course: course.ready_at),
    ("at home again", lambda course: course.closed_at),
)
_COLUMNS = columns(
    "Until it is",
    ("Tickets", Kind.COUNT),
    ("Half within, days", Kind.COUNT),
    ("Nine of ten within, days", Kind.COUNT),
    ("Longest, days", Kind.COUNT),
)


def report(shift: Shift, period: Period) -> Report:
    """Return how long the tickets took that were closed on those days."""
    with shift.records.reading():
        courses = list(closed_in(period))
    spreads = [(name, spread_of(_days(courses, reach))) for name, reach in _MILESTONES]
    few = [("All of them", courses)] if len(courses) < ENOUGH else _few_kinds(courses)
    return Report(
        name=NAME,
        title="Turnaround",
        period=period,
        basis=BASIS,
        tables=(
            Table("From the counter", _COLUMNS, tuple(_row(*each) for each in spreads)),
            _by_kind(courses),
            *(_one_by_one(name, cases) for name, cases in few),
        ),
        pictures=_pictures(spreads),
        notes=_notes(courses),
    )


def _days(courses: Sequence[Course], reach: Callable[[Course], datetime | None]) -> list[Decimal]:
    days = (course.days_to(reach(course)) for course in courses)
    return [one for one in days if one is not None]


def _row(name: str, spread: Spread) -> Row:
    return Row((name, spread.count, spread.median, spread.ninety, spread.most))


def _kinds(courses: Sequence[Course]) -> dict[str, list[Course]]:
    kinds: defaultdict[str, list[Course]] = defaultdict(list)
    for course in courses:
        kinds[course.kind].append(course)
    return dict(sorted(kinds.items(), key=lambda each: (-len(each[1]), each[0])))


def _few_kinds(courses: Sequence[Course]) -> list[tuple[str, list[Course]]]:
    return [
        (kind.capitalize(), cases) for kind, cases in _kinds(courses).items() if len(cases) < ENOUGH
    ]


def _by_kind(courses: Sequence[Course]) -> Table:
    ready = _MILESTONES[2][1]
    rows = tuple(
        _row(kind, spread_of(_days(cases, ready))) for kind, cases in _kinds(courses).items()
    )
    heads = columns("Until ready, by kind", *((one.title, one.kind) for one in _COLUMNS[1:]))
    return Table("By kind of machine", heads, rows)


def _one_by_one(name: str, cases: Sequence[Course]) -> Table:
    """List the cases of a group too small for a percentile."""
    heads = columns("Ticket", "Machine", ("Ready, days", Kind.COUNT), ("At home, days", Kind.COUNT))
    rows = tuple(
        Row(
            (
                course.tag,
                course.machine,
                _tenth(course, course.ready_at),
                _tenth(course, course.closed_at),
            ),
            ticket_id=course.ticket_id,
        )
        for course in cases
    )
    return Table(f"{name}: fewer than {ENOUGH}, one by one", heads, rows)


def _tenth(course: Course, moment: datetime | None) -> Decimal | None:
    days = course.days_to(moment)
    return None if days is None else to_tenth(days)


def _pictures(spreads: Sequence[tuple[str, Spread]]) -> tuple[Picture, ...]:
    bars = tuple(
        Bar(name, spread.median, f"{spread.median} days; nine of ten within {spread.ninety}")
        for name, spread in spreads
        if spread.median is not None
    )
    return (Bars("Half of them, within so many days", bars),) if bars else ()


def _notes(courses: Sequence[Course]) -> tuple[str, ...]:
    if not courses:
        return ()
    return (f"No percentile is told of fewer than {ENOUGH}: they stand one by one.",)
