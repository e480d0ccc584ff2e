"""What is done in the demo's shop beside its tickets: bins, price lists, letters, the till."""

from collections.abc import Iterator, Sequence
from datetime import date, datetime, time, timedelta
from decimal import Decimal
from random import Random

from shopdesk.demo.clock import Wait, open_day
from shopdesk.demo.open_orders import count_bins, write_open_orders
from shopdesk.demo.reminding import write_letter, write_to_all
from shopdesk.demo.storeroom import EVERY, keep_filled, price_lists
from shopdesk.demo.telling import Telling
from shopdesk.demo.told import Cast
from shopdesk.demo.visits import OwnEvery
from shopdesk.job.labour.clock import start_clock
from shopdesk.job.own_intervals import IntervalEntry, set_model_interval
from shopdesk.job.reports.till import CountEntry, count_till, till
from shopdesk.job.shift import Shift

OPENS, EVENING = time(8, 1), time(17, 40)
PRICE_LISTS = 330
TILL_DAYS = 12
FLOAT = Decimal("100.00")
"""What stays in the till over night."""
SHORT = {4: Decimal("-5.00"), 9: Decimal("0.35")}
"""On which evenings the till was out, counted back from the last one."""


def begin_errands(telling: Telling, cast: Cast, days_back: int, seed: int) -> None:
    """Have all of them begin at their time."""
    eve, counter = cast.today, cast.counter
    luck = Random(f"{seed} errands")
    rounds = days_back // (EVERY + 2)
    start = eve - timedelta(days=days_back)
    telling.errand(keep_filled(counter, cast.room, rounds, luck), _at(start), luck)
    lists = price_lists(counter, cast.scenario.goods, cast.room)
    telling.errand(lists, _at(eve - timedelta(days=PRICE_LISTS)), luck)
    telling.errand(count_bins(cast), _at(eve - timedelta(days=4)), luck)
    telling.errand(write_open_orders(cast), _at(eve - timedelta(days=30)), luck)
    telling.errand(_own_words(counter, cast.scenario.own_intervals), _at(start), luck)
    mailing = write_to_all(cast, cast.scenario.round)
    telling.errand(mailing, _at(eve - timedelta(days=cast.scenario.round.days_ago)), luck)
    for letter in cast.scenario.letters:
        day = open_day(eve - timedelta(days=letter.days_ago))
        telling.errand(write_letter(cast, letter), _at(day), luck)
    for back in reversed(range(1, TILL_DAYS + 1)):
        day = eve - timedelta(days=back)
        if open_day(day) == day:
            telling.errand(_count_till(counter, day, SHORT.get(back)), _evening(day), luck)


def leave_clock_running(cast: Cast, ticket_id: int) -> Iterator[Wait]:
    """In the evening the bench starts its clock on a ticket, and nobody stops it."""
    yield Wait(minutes=1)
    start_clock(cast.bench, ticket_id)


def _own_words(counter: Shift, intervals: Sequence[OwnEvery]) -> Iterator[Wait]:
    yield Wait(minutes=1)
    for one in intervals:
        entry = IntervalEntry(one.task, one.every, one.named_by)
        set_model_interval(counter, one.make, one.model, entry)


def _count_till(counter: Shift, day: date, out: Decimal | None) -> Iterator[Wait]:
    yield Wait(minutes=1)
    now = till(counter, day)
    opening = FLOAT if now.opening is None else now.opening
    counted = opening + now.taken - now.given_back + (out or Decimal(0))
    note = "looked twice: a five must have gone out as change" if out and out < 0 else ""
    taken_out = max(counted - FLOAT, Decimal(0))
    typed_opening = str(FLOAT) if now.opening is None else ""
    count_till(counter, day, CountEntry(str(counted), typed_opening, str(taken_out), note))


def _at(day: date) -> datetime:
    return datetime.combine(day, OPENS)


def _evening(day: date) -> datetime:
    return datetime.combine(day, EVENING)
