"""The reports that there are, in the order in which they are offered."""

from collections.abc import Callable
from dataclasses import dataclass

from shopdesk.errors import JobError
from shopdesk.job.reports import (
    came_back,
    causes,
    day_close,
    estimates,
    hours,
    income,
    margin,
    open_balances,
    promises,
    queue_now,
    tax,
    turnaround,
)
from shopdesk.job.reports.period import Period
from shopdesk.job.reports.report import Report
from shopdesk.job.shift import Shift


@dataclass(frozen=True, slots=True)
class Kept:
    """A report by its name: what it tells, which period it is usually wanted for, what makes it."""

    name: str
    title: str
    tells: str
    usual: str
    make: Callable[[Shift, Period], Report]


REPORTS = (
    Kept(
        day_close.NAME,
        "Day close",
        "money by how it was paid, and the till",
        "today",
        day_close.report,
    ),
    Kept(tax.NAME, "Tax", "tax by rate and month, exempt sales", "last month", tax.report),
    Kept(income.NAME, "Income", "parts, labour, fees, month by month", "this year", income.report),
    Kept(
        open_balances.NAME,
        "Open balances",
        "who owes how much since when",
        "today",
        open_balances.report,
    ),
    Kept(margin.NAME, "Margin", "what is kept over the cost", "this year", margin.report),
    Kept(hours.NAME, "Hours", "who was at the bench, what was billed", "this month", hours.report),
    Kept(
        came_back.NAME,
        "What came back",
        "comebacks by cause, part and person",
        "this year",
        came_back.report,
    ),
    Kept(
        turnaround.NAME,
        "Turnaround",
        "from the counter to the door: half of them, and nine of ten",
        "this year",
        turnaround.report,
    ),
    Kept(
        promises.NAME,
        "Promises kept",
        "what was ready by the day promised, and how late the rest",
        "this year",
        promises.report,
    ),
    Kept(
        queue_now.NAME,
        "Queue",
        "what is open, and when a machine taken in today is ready",
        "today",
        queue_now.report,
    ),
    Kept(causes.NAME, "What fails", "causes by kind and season", "this year", causes.report),
    Kept(
        estimates.NAME,
        "Estimated and clocked",
        "hours as estimated against the clock",
        "this year",
        estimates.report,
    ),
)


def report_named(name: str) -> Kept:
    """Return the report of that name; raises ``JobError`` that names them all."""
    wanted = name.strip().casefold().replace(" ", "-")
    for kept in REPORTS:
        if wanted in (kept.name, kept.title.casefold().replace(" ", "-")):
            return kept
    names = ", ".join(kept.name for kept in REPORTS)
    raise JobError(f"There is no report “{name[:40]}”: ask for one of {names}.", "report")
