"""A report asks the records as often for a year's tickets as for a day's."""

from datetime import date

import pytest

from shopdesk.job.reports.book import REPORTS
from shopdesk.job.reports.period import Period
from shopdesk.job.shift import Shift
from tests.job.reports.season import season
from tests.job.workshop import Clock

YEAR = Period(date(2031, 1, 1), date(2031, 12, 31))
NAMES = [kept.name for kept in REPORTS if kept.name != "hours"]
"""Hours go through the spells of each ticket."""


def _asked(shift: Shift, name: str) -> int:
    """Return how many queries the report of the year makes."""
    kept = next(one for one in REPORTS if one.name == name)
    queries: list[str] = []
    with shift.records.reading():
        connection = shift.records.engine.connection()
        connection.set_trace_callback(queries.append)
        try:
            kept.make(shift, YEAR)
        finally:
            connection.set_trace_callback(None)
    return sum("SELECT" in query for query in queries)


@pytest.mark.parametrize("name", NAMES)
def test_reports_do_not_ask_ticket_by_ticket(shift: Shift, clock: Clock, name: str) -> None:
    season(shift, clock, jobs=3)
    few = _asked(shift, name)
    season(shift, clock, jobs=9)
    assert _asked(shift, name) == few
    assert 0 < few <= 12
