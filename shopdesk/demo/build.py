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
from shopdesk.demo.folder import RECORDS
from shopdesk.demo.pictures import draw_picture
from shopdesk.demo.scenario import Scenario, load_scenario
from shopdesk.demo.telling import Telling
from shopdesk.demo.told import Cast, Hearer, Told, nobody
from shopdesk.job.shift import Shift, save_shop
from shopdesk.job.views import TicketView
from shopdesk.records.store import Records, open_records

SEED = 1
UNSENT = timedelta(days=35)
"""For how long the letters about upkeep have been waiting to be sent."""
OPENING, CLOSING = time(8, 0), time(18, 0)


@dataclass(frozen=True, slots=True)
class BuiltDemo:
    """The demo shop: a shift at its counter by the real clock, and the ticket that was followed."""

    shift: Shift
    followed: TicketView


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
        cast = _cast(scenario, records, clock, Path(drawn), eve - UNSENT)
        telling = Telling(clock)
        for number, one in enumerate(plan_visits(scenario, eve, Random(seed))):
            luck = Random(f"{seed} {number}")
            telling.begin(Told(cast, one.visit, one.story, one.unit, luck), one.starts)
        telling.run(datetime.combine(eve, OPENING))
        followed = _followed(cast, Random(seed), hearer)
        telling.begin(followed, datetime.combine(eve, OPENING), same_day_pace)
        telling.run(datetime.combine(eve, CLOSING))
    return BuiltDemo(Shift(records, scenario.staff[0]), followed.now)


def _cast(
    scenario: Scenario, records: Records, clock: Clock, drawn: Path, no_letters_since: date
) -> Cast:
    counter, bench = (Shift(records, who, clock) for who in scenario.staff)
    save_shop(counter, scenario.shop)
    return Cast(
        scenario,
        counter,
        bench,
        pictures=partial(draw_picture, drawn),
        owner_of={unit.key: owner for owner in scenario.owners for unit in owner.units},
        no_letters_since=no_letters_since,
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
