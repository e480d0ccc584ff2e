"""Spreads visits over the seasons: what the scenario names, and what the dice add to it."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from random import Random

from shopdesk.demo.clock import open_day, some_time_on
from shopdesk.demo.owners import Machine
from shopdesk.demo.scenario import Scenario
from shopdesk.demo.stories import Story
from shopdesk.demo.visits import Visit

DAYS_BACK = 1480
"""How far back the shop's records reach."""
TICKETS = 152
APART = 100
"""Fewest days between two unconnected visits of a machine: longer than the warranty."""
AS_BEFORE = 330
"""Fewest days before the same thing happens to a machine again."""
RUSH = (5, 5, 9, 10, 10, 8, 6, 5, 6, 7, 7, 6)
"""How busy the months are beside each other, January first."""


@dataclass(frozen=True, slots=True)
class Planned:
    """A visit with its day."""

    starts: datetime
    visit: Visit
    story: Story
    unit: Machine


def plan_visits(scenario: Scenario, today: date, luck: Random) -> list[Planned]:
    """Return the scenario's visits, and others by lot until there are ``TICKETS``.

    They are in the order of time, and each machine comes at least once.
    """
    units = {unit.key: unit for owner in scenario.owners for unit in owner.units}
    planned = [
        _planned(today, visit, scenario.stories[visit.story], units[visit.unit], luck)
        for visit in scenario.visits
    ]
    came = {one.unit.key for one in planned}
    for key, unit in units.items():
        if key not in came:
            planned.append(_by_lot(scenario, [unit], planned, today, luck))
    spoken_for = {visit.unit for visit in scenario.visits if visit.explained}
    others = [unit for key, unit in units.items() if key not in spoken_for]
    while len(planned) < TICKETS:
        planned.append(_by_lot(scenario, others, planned, today, luck))
    return sorted(planned, key=lambda one: one.starts)


def _planned(today: date, visit: Visit, story: Story, unit: Machine, luck: Random) -> Planned:
    day = open_day(today - timedelta(days=visit.days_ago))
    return Planned(some_time_on(day, luck), visit, story, unit)


def _by_lot(
    scenario: Scenario, units: list[Machine], planned: Iterable[Planned], today: date, luck: Random
) -> Planned:
    """Draw machines, stories and days until one goes with what is planned already."""
    earlier = list(planned)
    while True:
        unit = luck.choice(units)
        stories = [one for one in scenario.stories.values() if one.weight and one.fits(unit)]
        (story,) = luck.choices(stories, [one.weight for one in stories])
        days_ago = luck.randint(2, DAYS_BACK)
        visit = Visit(unit=unit.key, story=story.key, days_ago=days_ago, waits_its_turn=True)
        drawn = _planned(today, visit, story, unit, luck)
        owned = days_ago < 365 * unit.years - 20
        in_season = drawn.starts.month in story.months
        wanted = luck.random() * max(RUSH) < RUSH[drawn.starts.month - 1]
        if owned and in_season and wanted and not any(_too_near(drawn, one) for one in earlier):
            return drawn


def _too_near(drawn: Planned, other: Planned) -> bool:
    if drawn.unit.key != other.unit.key:
        return False
    same = drawn.story.key == other.story.key
    return abs((drawn.starts - other.starts).days) < (AS_BEFORE if same else APART)
