"""An invented machine's history for the tests."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

from shopdesk.bench.checks import Verdict
from shopdesk.job.history_paper import HistoryContent, VisitOnPaper
from shopdesk.job.readings_over_time import ReadingCourse, ReadingPoint
from tests.papers.samples import MACHINE, OWNER, REMINDER, SHOP


def point(on: date, value: str, verdict: Verdict = Verdict.PASS) -> ReadingPoint:
    """One reading of compression."""
    return ReadingPoint(
        on, Decimal(value), f"{value} psi", verdict, "at least 130 psi", 1, "T1001", False
    )


def course(*points: ReadingPoint, crosses_on: date | None = None) -> ReadingCourse:
    """Compression over the years."""
    return ReadingCourse(
        check_key="compression",
        title="Compression",
        unit="psi",
        points=points,
        low=Decimal(130),
        high=None,
        limit="at least 130 psi",
        heading="Falling about 5 psi a year since April 2025." if len(points) > 2 else "",
        crosses_on=crosses_on,
    )


FALLING = course(
    point(date(2025, 4, 7), "150"),
    point(date(2026, 4, 20), "146"),
    point(date(2027, 3, 13), "140"),
    crosses_on=date(2029, 3, 20),
)
OUT = replace(
    course(
        point(date(2025, 4, 7), "0.012"),
        point(date(2026, 4, 20), "0.017", Verdict.MARGINAL),
        point(date(2027, 3, 13), "0.021", Verdict.FAIL),
    ),
    check_key="coil-air-gap",
    title="Ignition coil air gap, measured at both legs with the magnet pulling the coil in",
    unit="in",
    low=Decimal("0.010"),
    high=Decimal("0.014"),
    limit="0.010 to 0.014 in",
    heading="It was out of its limit when last read: 0.021 in.",
)
VISITS = (
    VisitOnPaper(
        date(2025, 4, 7),
        "T1001",
        "It starts cold, then dies as soon as I squeeze the trigger.",
        "mended",
        "Stale fuel",
        ("Fuel smell: sour",),
        ("Drain and flush the tank (failed)", "Fuel filter (preventive)"),
        Decimal("0.6"),
        Decimal("48.60"),
        False,
    ),
    VisitOnPaper(
        date(2026, 4, 20),
        "T1093",
        "Same again.",
        "mended",
        "Carburettor gummed up",
        (),
        ("Carburettor kit (failed)", "Clean and rebuild the carburettor (failed)"),
        Decimal(1),
        Decimal("84.67"),
        True,
    ),
)
HISTORY = HistoryContent(
    shop=SHOP,
    on=date(2027, 3, 14),
    owner=OWNER,
    machine=MACHINE,
    bought_on=date(2023, 5, 2),
    owners=(
        ("Mara Quill", date(2023, 5, 2), date(2026, 8, 1)),
        (OWNER.name, date(2026, 8, 1), None),
    ),
    visits=VISITS,
    courses=(FALLING, OUT),
    spend="$133.27 so far, over 2 visits: 53% of the $250.00 that a new one costs.",
    next_steps=REMINDER.tasks,
)
FOR_BUYER = replace(
    HISTORY,
    owner=None,
    owners=tuple(("", since, until) for _, since, until in HISTORY.owners),
    visits=tuple(replace(one, ticket="", complaint="", charged=None) for one in VISITS),
    spend="",
)
