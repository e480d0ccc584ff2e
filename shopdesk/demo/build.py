"""Builds the demo shop's records in a folder: the same shop for the same day and the same seed."""

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from functools import partial
from pathlib import Path
from random import Random
from tempfile import TemporaryDirectory

from shopdesk import places
from shopdesk.demo.calendar import DAYS_BACK, plan_visits
from shopdesk.demo.clock import Clock, eve_of, same_day_pace
from shopdesk.demo.errands import begin_errands, leave_clock_running
from shopdesk.demo.folder import RECORDS
from shopdesk.demo.pictures import draw_picture
from shopdesk.demo.scenario import Scenario, load_scenario
from shopdesk.demo.storeroom import open_storeroom
from shopdesk.demo.telling import Telling
from shopdesk.demo.told import Cast, Hearer, Told, nobody
from shopdesk.job.labour.flat_times import add_flat_time
from shopdesk.job.settings import set_up_shop
from shopdesk.job.shift import Shift
from shopdesk.job.views import TicketView
from shopdesk.records.store import Records, open_records

SEED = 1
UNSENT = timedelta(days=35)
"""For how long the letters about upkeep have been waiting to be sent."""
REMINDS = timedelta(days=760)
CLOCKS = timedelta(days=560)
"""For how long the shop has noted upkeep, and clocked its time."""
OPENING, LATE, CLOSING = time(8, 0), time(17, 40), time(18, 0)


@dataclass(frozen=True, slots=True)
class BuiltDemo:
    """The demo shop: a shift at its counter by the real clock, and the ticket that was followed.

    ``evening`` is the shift at the counter as the tale ended.
    """

    shift: Shift
    followed: TicketView
    evening: Shift


def build_demo(folder: Path, today: date, seed: int = SEED, hearer: Hearer = nobody) -> BuiltDemo:
    """Make the demo shop's records in ``folder`` as they stand on the morning of ``today``.

    ``hearer`` hears of the one ticket that goes through the whole job. The folder must hold no
    records yet. Raises ``RecordsError`` when they can't be written.
    """
    scenario = load_scenario(places.demo_folder())
    zone, eve = scenario.shop.zone, eve_of(today)
    clock = Clock(zone, datetime.combine(eve - timedelta(days=DAYS_BACK + 1), OPENING))
    records = open_records(folder / RECORDS, datetime.now(UTC))
    with TemporaryDirectory() as drawn, _in_haste(records):
        cast = _cast(scenario, records, clock, Path(drawn), eve)
        telling, told = Telling(clock), _visits(cast, seed)
        for one, at in told:
            telling.begin(one, at)
        begin_errands(telling, cast, DAYS_BACK, seed)
        telling.run(datetime.combine(eve, OPENING))
        followed = _followed(cast, Random(seed), hearer)
        telling.begin(followed, datetime.combine(eve, OPENING), same_day_pace)
        for one, _ in told:
            if one.visit.clock_runs:
                late = leave_clock_running(cast, one.id)
                telling.errand(late, datetime.combine(eve, LATE), one.luck)
        telling.run(datetime.combine(eve, CLOSING))
    return BuiltDemo(Shift(records, scenario.staff[0]), followed.now, cast.counter)


def _visits(cast: Cast, seed: int) -> list[tuple[Told, datetime]]:
    planned = plan_visits(cast.scenario, cast.today, Random(seed))
    return [
        (Told(cast, one.visit, one.story, one.unit, Random(f"{seed} {number}")), one.starts)
        for number, one in enumerate(planned)
    ]


def _cast(scenario: Scenario, records: Records, clock: Clock, drawn: Path, eve: date) -> Cast:
    counter, bench = (Shift(records, who, clock) for who in scenario.staff)
    set_up_shop(counter, scenario.shop_entry)
    flat_times = [add_flat_time(counter, entry) for entry in scenario.flat_times]
    return Cast(
        scenario,
        counter,
        bench,
        pictures=partial(draw_picture, drawn),
        owner_of={unit.key: owner for owner in scenario.owners for unit in owner.units},
        room=open_storeroom(counter, scenario.sellers, scenario.goods),
        flat_ids={one.name: one.id for one in flat_times},
        today=eve,
        no_letters_since=eve - UNSENT,
        clocked_since=eve - CLOCKS,
        reminds_since=eve - REMINDS,
        owners={owner.name: owner for owner in scenario.owners},
    )


def _followed(cast: Cast, luck: Random, hearer: Hearer) -> Told:
    walk = cast.scenario.walk
    cast.owner_of[walk.unit.key] = walk.owner
    return Told(cast, walk.visit, walk.story, walk.unit, luck, hearer)


@contextmanager
def _in_haste(records: Records) -> Iterator[None]:
    """Build in one transaction that need not survive the power cord: it is soon built again."""
    records.engine.execute_sql("PRAGMA synchronous = off")
    with records.writing():
        yield
    records.engine.execute_sql("PRAGMA synchronous = full")
