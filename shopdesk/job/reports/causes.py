"""What usually fails: causes by kind of machine and by season, and the parts that go into them."""

from collections import Counter, defaultdict
from collections.abc import Sequence
from decimal import Decimal
from enum import StrEnum

from shopdesk.bench.cause_book import SOMETHING_ELSE
from shopdesk.dates import local_day
from shopdesk.job.reference import cause_title
from shopdesk.job.reports.period import Period
from shopdesk.job.reports.report import (
    Kind,
    Picture,
    Report,
    Row,
    Strip,
    Strips,
    Table,
    columns,
)
from shopdesk.job.reports.stage_times import Course, taken_in_in
from shopdesk.job.shift import Shift
from shopdesk.job.shop import Shop
from shopdesk.job.standing import DECLINED
from shopdesk.pricing.totals import LineKind
from shopdesk.records.fetch import answers
from shopdesk.records.fields import THOUSANDTHS
from shopdesk.records.tables import Ticket

NAME = "causes"
BASIS = "Tickets taken in on those days whose cause was said, by the season they came in."
_MOST_CAUSES, _MOST_PARTS, _MOST_DRAWN = 5, 12, 3

_PARTS = """
SELECT line.description, sum(line.quantity), count(DISTINCT ticket.id)
  FROM line JOIN ticket ON ticket.id = line.ticket_id
 WHERE line.kind = ? AND line.decision <> ? AND line.done_at IS NOT NULL
   AND ticket.taken_in_at >= ? AND ticket.taken_in_at < ?
 GROUP BY line.description ORDER BY 3 DESC, 2 DESC, 1 LIMIT ?
"""


class Quarter(StrEnum):
    """A season of the year, as the calendar's months have it."""

    SPRING = "Spring"
    SUMMER = "Summer"
    AUTUMN = "Autumn"
    WINTER = "Winter"


def season_of(month: int, shop: Shop) -> Quarter:
    """Return the season of a month: March to May is spring, in the south autumn."""
    place = (month - 3) % 12 // 3
    return tuple(Quarter)[(place + 2) % 4 if shop.southern else place]


def report(shift: Shift, period: Period) -> Report:
    """Return what was found on those days, and which parts went into it."""
    shop = shift.shop
    with shift.records.reading():
        courses = [course for course in taken_in_in(period) if course.cause]
        parts = _parts(period, shop)
    by_kind: defaultdict[str, list[Course]] = defaultdict(list)
    for course in courses:
        by_kind[course.kind].append(course)
    kinds = sorted(by_kind.items(), key=lambda each: (-len(each[1]), each[0]))
    return Report(
        name=NAME,
        title="What fails",
        period=period,
        basis=BASIS,
        tables=(*(_of_kind(kind, ones, shop) for kind, ones in kinds), parts),
        pictures=_pictures(courses, shop),
        notes=() if courses else ("No ticket of those days has a cause: say it on Diagnosis.",),
    )


def _title(course: Course) -> str:
    words = course.cause_words if course.cause == SOMETHING_ELSE else ""
    return cause_title(course.cause, words)


def _of_kind(kind: str, courses: Sequence[Course], shop: Shop) -> Table:
    counts = Counter((_title(course), _season(course, shop)) for course in courses)
    titles = Counter(_title(course) for course in courses).most_common(_MOST_CAUSES)
    rows = [
        Row((title, *(counts[title, season] or None for season in Quarter), total))
        for title, total in titles
    ]
    rest = len(courses) - sum(total for _, total in titles)
    if rest:
        rows.append(Row(("other causes", None, None, None, None, rest)))
    heads = columns(
        "Cause", *((str(season), Kind.COUNT) for season in Quarter), ("All", Kind.COUNT)
    )
    return Table(kind.capitalize(), heads, tuple(rows))


def _season(course: Course, shop: Shop) -> Quarter:
    return season_of(local_day(course.taken_in_at, shop.zone).month, shop)


def _parts(period: Period, shop: Shop) -> Table:
    begin, end = (Ticket.taken_in_at.db_value(moment) for moment in period.moments(shop.zone))
    found = answers(_PARTS, LineKind.PART, DECLINED, begin, end, _MOST_PARTS)
    rows = tuple(
        Row((name, Decimal(quantity) / THOUSANDTHS, tickets)) for name, quantity, tickets in found
    )
    heads = columns("Part", ("Pieces", Kind.COUNT), ("Tickets", Kind.COUNT))
    return Table("Parts that went in most", heads, rows, "No part was fitted.")


def _pictures(courses: Sequence[Course], shop: Shop) -> tuple[Picture, ...]:
    top = Counter(_title(course) for course in courses).most_common(_MOST_DRAWN)
    if not top:
        return ()
    counts = Counter((_title(course), _season(course, shop)) for course in courses)
    strips = tuple(
        Strip(title, tuple(Decimal(counts[title, season]) for season in Quarter))
        for title, _ in top
    )
    return (Strips("The commonest, by season", tuple(map(str, Quarter)), strips, Kind.COUNT),)
