"""A machine's readings over the years beside their limit, and where each of them is heading."""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from fractions import Fraction

from shopdesk.bench.checks import Check, Verdict
from shopdesk.bench.judging import limit_in_force
from shopdesk.bench.limits import Limit
from shopdesk.bench.machines import Place
from shopdesk.bench.readings import with_unit
from shopdesk.bench.trend import Point, Trend, fit
from shopdesk.bench.units import SCALES
from shopdesk.dates import MONTH_NAMES, local_day
from shopdesk.job.limits import own_limits
from shopdesk.job.opened import tag_of
from shopdesk.job.reference import catalogue
from shopdesk.job.shift import Shift, load_shop
from shopdesk.job.shop import Shop
from shopdesk.job.units import find_unit, machine_of
from shopdesk.records.tables import Finding, Ticket, Unit

_VISITS_NAMED = 4


@dataclass(frozen=True, slots=True)
class ReadingPoint:
    """One reading: its value in the check's usual unit, and as it was shown and judged then."""

    on: date
    value: Decimal
    shown: str
    verdict: Verdict
    limit: str
    """In words, as it was in force then."""
    ticket_id: int
    tag: str
    after_repair: bool
    """Read again once the work was done."""


@dataclass(frozen=True, slots=True)
class ReadingCourse:
    """All readings of one check, first to last, and where they are heading."""

    check_key: str
    title: str
    unit: str
    points: tuple[ReadingPoint, ...]
    low: Decimal | None
    """The least that is good by today's limit, in ``unit``; ``None`` without such a bound."""
    high: Decimal | None
    limit: str
    """Today's limit in words, or empty."""
    heading: str
    """A sentence on where it is heading, or empty where nothing can be said."""
    crosses_on: date | None
    """The day on which it will have reached its limit at this pace."""


def readings_over_time(shift: Shift, unit_id: int) -> tuple[ReadingCourse, ...]:
    """Return the courses of a machine's readings, those with the most readings first.

    Raises ``JobError`` if there is no such machine.
    """
    with shift.records.reading():
        return courses_of(find_unit(unit_id), load_shop())


def courses_of(unit: Unit, shop: Shop) -> tuple[ReadingCourse, ...]:
    """Do what ``readings_over_time`` does, inside a transaction."""
    found: defaultdict[str, list[ReadingPoint]] = defaultdict(list)
    for row in _readings(unit):
        check = catalogue().by_key.get(row.check_key)
        if check is not None and check.quantity is not None and row.si_unit:
            found[check.key].append(_point(row, check, shop))
    limits = own_limits(unit)
    courses = [
        _course(catalogue().by_key[key], points, _limit(key, unit, shop, limits.get(key)))
        for key, points in found.items()
    ]
    return tuple(sorted(courses, key=lambda one: (-len(one.points), one.title)))


def _readings(unit: Unit) -> Sequence[Finding]:
    query = (
        Finding.select(Finding, Ticket)
        .join(Ticket)
        .where((Ticket.unit == unit.id) & (Finding.number != ""))
        .order_by(Finding.found_at, Finding.id)
    )
    return list(query)


def _point(row: Finding, check: Check, shop: Shop) -> ReadingPoint:
    assert check.quantity is not None
    unit = SCALES[check.quantity].named(check.usual_unit)
    assert unit is not None, f"{check.usual_unit} is the usual unit of {check.key}"
    value = (Decimal(row.si_value) - unit.offset) / unit.factor
    return ReadingPoint(
        on=local_day(row.found_at, shop.zone),
        value=value.quantize(Decimal("0.0001")).normalize(),
        shown=row.shown,
        verdict=Verdict(row.verdict),
        limit=row.limit_words,
        ticket_id=row.ticket_id,
        tag=tag_of(row.ticket.number),
        after_repair=row.phase != "diagnosis",
    )


def _limit(key: str, unit: Unit, shop: Shop, own: Limit | None) -> Limit | None:
    """Return today's limit in the check's usual unit; none where it hangs on another reading."""
    check = catalogue().by_key[key]
    limit = own or check.limit_for(machine_of(unit))
    if limit is None or limit.times_of or check.quantity is None:
        return None
    held, _ = limit_in_force(limit, Place(shop.altitude_m))
    return held.in_unit(check.usual_unit, check.quantity, 4)


def _course(check: Check, points: Sequence[ReadingPoint], limit: Limit | None) -> ReadingCourse:
    trend = fit([Point(one.on, Fraction(one.value)) for one in _since_mended(points)])
    bound = _bound_ahead(trend, limit)
    crosses = trend.crosses(Fraction(bound)) if trend and bound is not None else None
    return ReadingCourse(
        check_key=check.key,
        title=check.title,
        unit=check.usual_unit,
        points=tuple(points),
        low=limit.pass_from if limit else None,
        high=limit.pass_to if limit else None,
        limit=limit.words() if limit else "",
        heading=_heading(points, trend, bound, check.usual_unit) if limit else "",
        crosses_on=crosses,
    )


def _since_mended(points: Sequence[ReadingPoint]) -> Sequence[ReadingPoint]:
    """Return the readings from the last repair on that put this one right.

    That is a visit on which it was off as the machine came, and good once the work was done.
    """
    for place in range(len(points) - 1, 0, -1):
        after = points[place]
        came = [one for one in points[:place] if one.ticket_id == after.ticket_id]
        if after.verdict is Verdict.PASS and any(one.verdict.is_off for one in came):
            return points[place:]
    return points


def _bound_ahead(trend: Trend | None, limit: Limit | None) -> Decimal | None:
    if trend is None or limit is None:
        return None
    return limit.pass_from if trend.slope < 0 else limit.pass_to


def _heading(
    points: Sequence[ReadingPoint], trend: Trend | None, bound: Decimal | None, unit: str
) -> str:
    if points[-1].verdict.is_off:
        return f"It was out of its limit when last read: {points[-1].shown}."
    if trend is None:
        return ""
    if trend.slope == 0:
        return "It stays where it is."
    if not trend.clear:
        return "The readings scatter too much to say where they are heading."
    pace = f"{_pace(trend, unit)} since {_month(trend.start)}"
    day = trend.crosses(Fraction(bound)) if bound is not None else None
    visit = trend.visit_crossing(Fraction(bound)) if bound is not None else None
    if bound is None or day is None or visit is None:
        return f"{pace}; no limit within ten years that way."
    reached = f"at this pace it reaches {with_unit(f'{bound:,f}', unit)} about {_month(day)}"
    return f"{pace}: {reached}, {_visit(visit)}. A guide only."


def _pace(trend: Trend, unit: str) -> str:
    a_year = abs(trend.per_year)
    number = Decimal(a_year.numerator) / Decimal(a_year.denominator)
    rounded = number.quantize(Decimal(1).scaleb(number.adjusted() - 1)).normalize()
    verb = "Falling" if trend.slope < 0 else "Rising"
    return f"{verb} about {with_unit(f'{rounded:,f}', unit)} a year"


def _visit(number: int) -> str:
    if number == 1:
        return "that is by the next visit"
    if number <= _VISITS_NAMED:
        return f"that is by the {('second', 'third', 'fourth')[number - 2]} visit from now"
    return f"that is some {number} visits from now"


def _month(day: date) -> str:
    return f"{MONTH_NAMES[day.month - 1]} {day.year}"
