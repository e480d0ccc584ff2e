"""The scenario as data: everything that it names is there, and the dice fall in season."""

from datetime import date
from itertools import pairwise
from pathlib import Path
from random import Random

import msgspec
import pytest

from shopdesk import places
from shopdesk.bench.cause_book import SOMETHING_ELSE
from shopdesk.bench.machines import Engine, Machine
from shopdesk.demo.calendar import APART, TICKETS, plan_visits
from shopdesk.demo.pictures import SKETCHES, draw_picture
from shopdesk.demo.scenario import Scenario, load_scenario
from shopdesk.demo.stories import Look, Story
from shopdesk.demo.telling import STEPS
from shopdesk.job.model_notes import KINDS
from shopdesk.job.reference import catalogue, cause_book, upkeep_tasks

SPRING = date(2027, 4, 10)


@pytest.fixture(scope="module")
def scenario() -> Scenario:
    return load_scenario(places.demo_folder())


@pytest.fixture(scope="module")
def stories(scenario: Scenario) -> list[Story]:
    return [*scenario.stories.values(), scenario.walk.story]


def _looks(story: Story) -> tuple[Look, ...]:
    return (*story.findings, *story.settings, *story.again)


def test_every_check_is_in_the_catalogue_and_fits_the_machines(
    scenario: Scenario, stories: list[Story]
) -> None:
    units = [scenario.walk.unit, *(unit for owner in scenario.owners for unit in owner.units)]
    for unit in units:
        machine = Machine(unit.kind, Engine(unit.engine), unit.make, unit.model)
        fitting = {check.key for check in catalogue().checks_for(machine)}
        routine = scenario.routine_for(unit)
        looks = [*routine.settings, *routine.proof]
        looks += [look for story in stories if story.fits(unit) for look in _looks(story)]
        assert {look.check for look in looks if look.check} <= fitting, unit.key


def test_lines_point_to_findings_and_tasks_that_exist(stories: list[Story]) -> None:
    tasks = {task.key for task in upkeep_tasks()}
    for story in stories:
        found = {look.id for look in story.findings}
        assert {line.finding for line in story.lines if line.finding} <= found, story.key
        assert {line.renews for line in story.lines if line.renews} <= tasks, story.key


def test_every_cause_is_one_that_the_storys_machines_can_have(
    scenario: Scenario, stories: list[Story]
) -> None:
    units = [scenario.walk.unit, *(unit for owner in scenario.owners for unit in owner.units)]
    for unit in units:
        machine = Machine(unit.kind, Engine(unit.engine), unit.make, unit.model)
        possible = {cause.key for cause in cause_book().causes_for(machine)}
        told = {story.key: story.cause for story in stories if story.fits(unit) and story.cause}
        assert set(told.values()) <= possible, told
    assert [story.key for story in stories if not story.cause] == ["nothing-found"]
    for story in stories:
        assert story.cause_words or story.cause != SOMETHING_ELSE, story.key


def test_what_goes_on_a_card_is_on_the_ticket(scenario: Scenario) -> None:
    carded = [(visit, scenario.stories[visit.story]) for visit in scenario.visits]
    carded.append((scenario.walk.visit, scenario.walk.story))
    units = {unit.key: unit for owner in scenario.owners for unit in owner.units}
    units[scenario.walk.unit.key] = scenario.walk.unit
    for visit, story in carded:
        settings = story.settings or scenario.routine_for(units[visit.unit]).settings
        assert set(visit.card.settings) <= {look.check for look in settings}, visit
        assert set(visit.card.parts) <= {line.number for line in story.lines}, visit
        assert {note.kind for note in visit.card.notes} <= set(KINDS), visit
    assert sum(bool(visit.card.parts) for visit, _ in carded) >= 4


def test_visits_name_steps_stories_and_machines_that_exist(scenario: Scenario) -> None:
    units = {unit.key: unit for owner in scenario.owners for unit in owner.units}
    owners = {owner.name for owner in scenario.owners}
    for visit in scenario.visits:
        assert scenario.stories[visit.story].fits(units[visit.unit])
        assert visit.until in ("", *STEPS)
        assert visit.owner in ("", *owners)


def test_who_is_written_to_was_here_before(scenario: Scenario) -> None:
    came = {
        owner.name: max((one.days_ago for one in scenario.visits if one.unit in units), default=0)
        for owner in scenario.owners
        for units in [{unit.key for unit in owner.units}]
    }
    for letter in scenario.letters:
        assert came[letter.owner] > letter.days_ago + 30, letter


def test_what_is_in_a_kit_on_a_line_or_at_a_supplier_is_written_down(scenario: Scenario) -> None:
    numbers = {good.number for good in scenario.goods}
    sellers = {seller.key for seller in scenario.sellers}
    for good in scenario.goods:
        assert set(good.holds) <= numbers, good.number
        assert {*good.offers, *(pack.seller for pack in good.packs)} <= sellers, good.number
        assert good.offers or good.packs, good.number
    for story in (*scenario.stories.values(), scenario.walk.story):
        for line in story.lines:
            assert not line.part or line.number in numbers or line.price, (story.key, line)


def test_every_machine_has_its_routine(scenario: Scenario) -> None:
    for owner in scenario.owners:
        for unit in owner.units:
            assert scenario.routine_for(unit).proof


def test_every_picture_can_be_drawn(
    scenario: Scenario, stories: list[Story], tmp_path: Path
) -> None:
    wanted = {look.photo for story in stories for look in _looks(story) if look.photo}
    wanted |= {off.photo for story in stories for off in story.apart if off.photo}
    assert wanted <= set(SKETCHES)
    for name in SKETCHES:
        assert draw_picture(tmp_path, name).stat().st_size > 2000


def test_a_misspelt_key_is_refused(tmp_path: Path) -> None:
    for file in places.demo_folder().glob("*.toml"):
        (tmp_path / file.name).write_bytes(file.read_bytes())
    visits = tmp_path / "visits.toml"
    visits.write_text(
        visits.read_text(encoding="utf-8").replace("\ndays_ago", "\ndaysago", 1), encoding="utf-8"
    )
    with pytest.raises(msgspec.ValidationError, match="daysago"):
        load_scenario(tmp_path)


def test_the_plan_is_in_order_in_season_and_leaves_machines_time(scenario: Scenario) -> None:
    plan = plan_visits(scenario, SPRING, Random(3))
    assert len(plan) == TICKETS
    assert [one.starts for one in plan] == sorted(one.starts for one in plan)
    named = list(scenario.visits)
    for one in plan:
        assert one.starts.weekday() != 6
        assert one.visit in named or one.starts.month in one.story.months
    for unit in {one.unit.key for one in plan}:
        for earlier, later in pairwise([one for one in plan if one.unit.key == unit]):
            if earlier.visit not in named or later.visit not in named:
                assert (later.starts - earlier.starts).days >= APART - 1


def test_another_seed_makes_another_past(scenario: Scenario) -> None:
    one, same, other = (
        [
            (visit.unit.key, visit.story.key, visit.starts)
            for visit in plan_visits(scenario, SPRING, Random(seed))
        ]
        for seed in (1, 1, 2)
    )
    assert one == same
    assert one != other
