"""A report asks the records as often for a year's tickets as for a day's."""

from datetime import date

from shopdesk.job.reports.book import REPORTS
from shopdesk.job.reports.period import Period
from shopdesk.job.shift import Shift
from tests.job.reports.season import season
from tests.job.workshop import Clock

YEAR = Period(date(2031, 1, 1), date(2031, 12, 31))
NAMES = ("day-close", "tax", "income", "open-balances", "margin", "came-back")
MOST = 12


def _asked(shift: Shift) -> dict[str, int]:
    """Return how many queries each report of the year makes."""
    with shift.records.reading():
        connection = shift.records.engine.connection()
        found = {}
        for kept in REPORTS:
            if kept.name in NAMES:
                queries: list[str] = []
                connection.set_trace_callback(queries.append)
                kept.make(shift, YEAR)
                found[kept.name] = sum("SELECT" in query for query in queries)
        connection.set_trace_callback(None)
    return found


def test_reports_do_not_ask_ticket_by_ticket(shift: Shift, clock: Clock) -> None:
    season(shift, clock, jobs=3)
    few = _asked(shift)
    season(shift, clock, jobs=9)
    assert _asked(shift) == few
    assert few.keys() == set(NAMES)
    assert all(0 < queries <= MOST for queries in few.values())
