"""What the ways out are judged by, read once from the shared folder."""

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from functools import cache

from shopdesk import places
from shopdesk.bench.machines import Engine
from shopdesk.upkeep.life_left import LifeRules
from shopdesk.upkeep.useful_life import EngineClass, UsefulLifeTable, engine_class, load_useful_life

SMALL_CC = Decimal(190)
"""Taken for the size of an engine that is not handheld: it is not recorded."""


@dataclass(frozen=True, slots=True)
class OptionRules:
    """The yardsticks of options.toml. Chances and shares are from 0 to 1."""

    fair_chance: Decimal
    worst_from: Decimal
    named_cause: Decimal
    further_job: Decimal
    wear_minutes: Decimal
    unpriced_hours: Decimal
    working_days: frozenset[int]
    """1 is Monday."""
    handheld_kinds: frozenset[str]
    handheld_two_strokes: frozenset[str]
    life: LifeRules
    shows_worn: Mapping[str, frozenset[str]]
    """By upkeep task the checks that show its part worn."""

    def engine_class(self, kind: str, engine: str) -> EngineClass | None:
        """Return the class of such a machine's engine; None for an electric one."""
        if engine not in (Engine.TWO_STROKE, Engine.FOUR_STROKE):
            return None
        small = engine == Engine.TWO_STROKE and kind in self.handheld_two_strokes
        return engine_class(SMALL_CC, handheld=small or kind in self.handheld_kinds)


@cache
def option_rules() -> OptionRules:
    """Return the yardsticks of the reference data."""
    content = (places.shared_folder() / "options.toml").read_text(encoding="utf-8")
    data = tomllib.loads(content, parse_float=Decimal)
    life = data["life"]
    return OptionRules(
        fair_chance=Decimal(data["fair_chance"]),
        worst_from=Decimal(data["worst_from"]),
        named_cause=Decimal(data["named_cause"]),
        further_job=Decimal(data["further_job"]),
        wear_minutes=Decimal(data["wear_minutes"]),
        unpriced_hours=Decimal(data["unpriced_hours"]),
        working_days=frozenset(data["working_days"]),
        handheld_kinds=frozenset(life["handheld_kinds"]),
        handheld_two_strokes=frozenset(life["handheld_two_strokes"]),
        life=LifeRules(Decimal(life["floor"]), Decimal(life["unknown_used"])),
        shows_worn={task: frozenset(keys) for task, keys in data["shows_worn"].items()},
    )


@cache
def useful_lives() -> UsefulLifeTable:
    """Return how long engines are rated for."""
    return load_useful_life(places.shared_folder())
