"""The upkeep tasks in the reference data, and what becomes of a spoilt file."""

from decimal import Decimal
from pathlib import Path

import pytest

from shopdesk.places import shared_folder
from shopdesk.upkeep.tasks import (
    SeasonPoint,
    Task,
    UpkeepDataError,
    each_use,
    load_seasons,
    load_tasks,
    tasks_reset_by,
)

TASKS = load_tasks(shared_folder())
BY_KEY = {task.key: task for task in TASKS}
FUELLED = {"two-stroke", "four-stroke"}
ENGINES = {
    "string trimmer": {*FUELLED, "corded", "cordless"},
    "chain saw": {"two-stroke", "corded", "cordless"},
    "leaf blower": {*FUELLED, "corded", "cordless"},
    "hedge trimmer": {*FUELLED, "corded", "cordless"},
    "tiller": FUELLED,
    "lawn mower": {*FUELLED, "corded", "cordless"},
    "pressure washer": {"four-stroke", "corded"},
    "generator": FUELLED,
    "snow thrower": FUELLED,
}
MACHINES = [(kind, engine) for kind, engines in ENGINES.items() for engine in sorted(engines)]


def keys_for(kind: str, engine: str) -> set[str]:
    return {task.key for task in TASKS if task.fits(kind, engine)}


@pytest.mark.parametrize("task", TASKS, ids=lambda task: task.key)
def test_every_task_is_complete_and_known_machines_only(task: Task) -> None:
    assert task.title.strip()
    assert task.why.endswith((".", "!"))
    assert task.source.strip()
    assert set(task.kinds) <= ENGINES.keys()
    assert set(task.engines) <= {"two-stroke", "four-stroke", "corded", "cordless"}
    assert all(name == name.casefold() for name in task.reset_by)
    assert task.uses or task.reset_by


def test_every_figure_without_a_published_source_says_so() -> None:
    published = ("CFR", "WAC", "University Extension", "Outdoor Power Equipment Institute")
    for task in TASKS:
        assert "common practice, no published source" in task.source or any(
            name in task.source for name in published
        )


@pytest.mark.parametrize(("kind", "engine"), MACHINES)
def test_every_machine_has_dated_tasks_that_suit_its_engine(kind: str, engine: str) -> None:
    keys = keys_for(kind, engine)
    assert any(BY_KEY[key].hours or BY_KEY[key].months for key in keys)
    assert ("spark-plug" in keys) == (engine in FUELLED)
    assert ("store-fuel" in keys) == (engine in FUELLED)
    assert bool(keys & {"engine-oil", "generator-oil"}) == (engine == "four-stroke")
    assert ("battery-store" in keys) == (engine == "cordless")
    assert ("brushes-and-cord" in keys) == (engine == "corded")


def test_the_jobs_of_the_trade_are_there() -> None:
    assert {"air-filter", "arrester-screen", "chain-sharpen", "guide-bar"} <= keys_for(
        "chain saw", "two-stroke"
    )
    assert {"mower-blade", "blade-stop", "valve-lash", "belt"} <= keys_for(
        "lawn mower", "four-stroke"
    )
    assert {"pump-oil", "pump-store"} <= keys_for("pressure washer", "corded")
    assert "air-filter" not in keys_for("snow thrower", "four-stroke")


@pytest.mark.parametrize("key", ["fuel-filter-and-lines", "store-fuel", "fresh-fuel"])
def test_work_on_fuel_carries_the_fuel_caution(key: str) -> None:
    assert any("Loosen the tank cap" in caution.words for caution in BY_KEY[key].cautions)
    assert all(caution.source for caution in BY_KEY[key].cautions)


@pytest.mark.parametrize(
    "key", ["mower-blade", "chain-sharpen", "guide-bar", "hedge-blades", "tines", "shear-pins"]
)
def test_work_on_cutting_gear_carries_the_blade_caution(key: str) -> None:
    assert any("gloves" in caution.words for caution in BY_KEY[key].cautions)


def test_every_use_tasks_have_no_date_and_are_listed_apart() -> None:
    assert [task.key for task in each_use(TASKS, "chain saw", "two-stroke")] == ["chain-check"]
    assert [task.key for task in each_use(TASKS, "lawn mower", "four-stroke")] == ["oil-level"]
    check = BY_KEY["chain-check"]
    assert (check.hours, check.months, check.season) == (None, None, None)


def test_a_repair_resets_the_tasks_that_it_did() -> None:
    assert tasks_reset_by(TASKS, ["Air  Filter"]) == {"air-filter"}
    assert tasks_reset_by(TASKS, ["tune-up kit"]) == {
        "air-filter",
        "spark-plug",
        "fuel-filter-and-lines",
    }
    assert tasks_reset_by(TASKS, ["saw chain", "guide bar"]) == {"chain-sharpen", "guide-bar"}
    assert tasks_reset_by(TASKS, ["oil change"]) == {"engine-oil", "generator-oil"}
    assert tasks_reset_by(TASKS, ["carburettor", ""]) == frozenset()
    assert tasks_reset_by(TASKS, []) == frozenset()


def test_every_kind_of_machine_has_its_usual_season() -> None:
    seasons = load_seasons(shared_folder())
    assert seasons.keys() == ENGINES.keys()
    assert seasons["snow thrower"].months == (11, 12, 1, 2, 3)
    assert seasons["generator"].all_year


ENTRY = """
[[task]]
key = "air-filter"
title = "Clean the air filter"
why = "It chokes."
owner_can = true
source = "common practice, no published source"
months = 12
"""
HEAD = '[severe]\nfactor = 0.5\n[caution.hot]\nwords = "Hot."\nsource = "known"\n'


def load(tmp_path: Path, text: str) -> tuple[Task, ...]:
    (tmp_path / "upkeep.toml").write_text(text, encoding="utf-8")
    return load_tasks(tmp_path)


def test_a_task_is_read_as_it_is_written(tmp_path: Path) -> None:
    more = 'hours = 12.5\nsevere = true\nseason = "before storage"\ncautions = ["hot"]\n'
    (task,) = load(tmp_path, HEAD + ENTRY + more)
    assert (task.hours, task.months, task.severe_factor) == (Decimal("12.5"), 12, Decimal("0.5"))
    assert task.season is SeasonPoint.STORAGE
    assert task.cautions[0].words == "Hot."
    assert task.fits("anything", "any engine")


@pytest.mark.parametrize(
    ("change", "complaint"),
    [
        (('title = "Clean the air filter"', ""), "“title” is missing"),
        (("months = 12", ""), "say how often"),
        (("months = 12", "hours = 25"), "hours need months or a season too"),
        (("months = 12", 'months = "a year"'), "“months” has the wrong type of value: 'a year'"),
        (("months = 12", "months = true"), "“months” has the wrong type of value: True"),
        (("months = 12", "months = 0"), "“months” must be more than 0, not 0"),
        (("months = 12", "months = 12\nhours = -2.5"), "“hours” must be more than 0, not -2.5"),
        (("months = 12", "month = 12"), "“month” is not a field of a task"),
        (("months = 12", 'season = "in May"'), "not “in May”"),
        (("months = 12", 'months = 12\ncautions = ["cold"]'), "there is no caution cold"),
        (("months = 12", "months = 12\nkinds = [1]"), "“kinds” must be a list of words"),
        (("months = 12", "months = "), "can't be read"),
        (("factor = 0.5", "factor = 2.0"), "severe factor must lie between 0 and 1, not 2.0"),
        (("factor = 0.5", 'factor = "half"'), "cautions or severe factor"),
        (('source = "known"', ""), "cautions or severe factor"),
    ],
)
def test_a_spoilt_entry_is_named_with_what_is_wrong(
    tmp_path: Path, change: tuple[str, str], complaint: str
) -> None:
    text = HEAD + ENTRY
    assert change[0] in text
    with pytest.raises(UpkeepDataError) as refused:
        load(tmp_path, text.replace(*change))
    assert complaint in str(refused.value)
    assert "upkeep.toml" in str(refused.value)


def test_two_tasks_cannot_share_a_key(tmp_path: Path) -> None:
    with pytest.raises(UpkeepDataError, match="two tasks have the same key"):
        load(tmp_path, HEAD + ENTRY + ENTRY)


def test_a_missing_file_is_named(tmp_path: Path) -> None:
    with pytest.raises(UpkeepDataError, match=r"upkeep\.toml can't be read"):
        load_tasks(tmp_path)


def test_a_spoilt_season_is_named(tmp_path: Path) -> None:
    text = '[[season]]\nkinds = ["tiller"]\nfirst_month = 13\nlast_month = 2\n'
    (tmp_path / "seasons.toml").write_text(text, encoding="utf-8")
    with pytest.raises(UpkeepDataError, match=r"seasons\.toml.*There is no month 13"):
        load_seasons(tmp_path)
