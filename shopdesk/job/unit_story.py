"""All that is remembered of one machine: owners, visits, readings, and what it has cost so far."""

from dataclasses import dataclass
from datetime import date
from decimal import ROUND_HALF_UP, Decimal

from shopdesk.job.history import OwnedFor, owners_of, visits_where
from shopdesk.job.readings_over_time import ReadingCourse, courses_of
from shopdesk.job.shift import Shift, load_shop
from shopdesk.job.shop import Shop
from shopdesk.job.units import find_unit, unit_view
from shopdesk.job.views import UnitView, VisitView
from shopdesk.pricing.money import show_money
from shopdesk.pricing.totals import ZERO
from shopdesk.records.tables import Ticket, Unit


@dataclass(frozen=True, slots=True)
class Spend:
    """What a machine was invoiced for here, and what one like it costs new, if that is known."""

    total: Decimal
    visits: int
    """Visits that were charged for."""
    price_new: Decimal | None
    words: str
    """The two beside each other, in a sentence."""


@dataclass(frozen=True, slots=True)
class UnitStory:
    """A machine's life with us, on one day."""

    unit: UnitView
    on: date
    gone_on: date | None
    gone_how: str
    owners: tuple[OwnedFor, ...]
    visits: tuple[VisitView, ...]
    """Over all its owners, newest first."""
    courses: tuple[ReadingCourse, ...]
    spend: Spend
    hours: Decimal
    """At the bench, over all visits."""


def unit_story(shift: Shift, unit_id: int) -> UnitStory:
    """Return a machine's story; raises ``JobError`` if there is none of that id."""
    with shift.records.reading():
        shop, unit = load_shop(), find_unit(unit_id)
        visits = visits_where(Ticket.unit == unit.id, shop)
        return UnitStory(
            unit=unit_view(unit),
            on=shift.today_in(shop),
            gone_on=unit.gone_on,
            gone_how=unit.gone_how,
            owners=owners_of(unit),
            visits=visits,
            courses=courses_of(unit, shop),
            spend=_spend(unit, visits, shop),
            hours=sum((visit.hours for visit in visits), Decimal(0)),
        )


def _spend(unit: Unit, visits: tuple[VisitView, ...], shop: Shop) -> Spend:
    charged = [visit.charged for visit in visits if visit.charged]
    total = sum(charged, ZERO)
    new = shop.prices_new.get(unit.kind) if unit.price_new is None else unit.price_new
    return Spend(total, len(charged), new, _spend_words(total, len(charged), new, unit, shop))


def _spend_words(total: Decimal, visits: int, new: Decimal | None, unit: Unit, shop: Shop) -> str:
    if not visits:
        return "Nothing was charged for it here yet."
    times = "one visit" if visits == 1 else f"{visits} visits"
    spent = f"{show_money(total, shop.currency)} so far, over {times}"
    if not new:
        return f"{spent}; what a new one costs is not written down."
    share = (total * 100 / new).quantize(Decimal(1), ROUND_HALF_UP)
    price = show_money(new, shop.currency)
    whose = f"a new {unit.kind} costs by our guide" if unit.price_new is None else "a new one costs"
    return f"{spent}: {share}% of the {price} that {whose}."
