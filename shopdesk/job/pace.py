"""The bench's pace: what it ticked off a week lately, or the hours a day that the shop has set."""

from dataclasses import dataclass
from datetime import date, timedelta
from decimal import ROUND_HALF_UP, Decimal

from shopdesk.job.options.rules import option_rules
from shopdesk.job.reports.period import Period
from shopdesk.job.shop import Shop
from shopdesk.job.standing import DECLINED
from shopdesk.pricing.money import show_quantity
from shopdesk.pricing.totals import LineKind
from shopdesk.records.fetch import answers
from shopdesk.records.fields import THOUSANDTHS
from shopdesk.records.tables import Line

WEEKS = 8
"""The pace is the mean of so many weeks, all of them with the work kept in these records."""
_TENTH = Decimal("0.1")

_DONE = """
SELECT coalesce(sum(CASE WHEN done_at >= ?1 THEN quantity END), 0), coalesce(min(done_at) < ?1, 0)
  FROM line WHERE kind = ?2 AND decision <> ?3 AND done_at < ?4
"""


@dataclass(frozen=True, slots=True)
class Pace:
    """The bench hours of a working day; ``weekly`` is what they come of, ``None`` if they are set.

    ``weekly`` is to a tenth of an hour.
    """

    a_day: Decimal
    weekly: Decimal | None = None

    @property
    def words(self) -> str:
        """The pace in words, and which it is: ``6 h a working day, as set for the shop``."""
        if self.weekly is None:
            return f"{show_quantity(self.a_day)} h a working day, as set for the shop"
        return f"{self.weekly} h a week, as ticked off over the last {WEEKS} weeks"


def pace_of(shop: Shop, today: date) -> Pace:
    """Return the pace to reckon with, inside a transaction.

    What was ticked off counts once it goes back over all those weeks: in a shop that keeps its work
    here for less, the weeks before would make the bench look idle. Nor does it count where it is
    less than half of what is set: then little came in, and the bench is not slow.
    """
    weeks = Period(today - timedelta(weeks=WEEKS), today - timedelta(days=1))
    begin, end = (Line.done_at.db_value(moment) for moment in weeks.moments(shop.zone))
    ((done, goes_back),) = answers(_DONE, begin, LineKind.LABOUR, DECLINED, end)
    weekly = (Decimal(done) / THOUSANDTHS / WEEKS).quantize(_TENTH, ROUND_HALF_UP)
    days = len(option_rules().working_days)
    if not goes_back or weekly < shop.bench_hours_per_day * days / 2:
        return Pace(shop.bench_hours_per_day)
    return Pace(weekly / days, weekly)
