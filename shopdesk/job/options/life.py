"""How many hours of life a ticket's machine has left, and what a new one of its kind has."""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from shopdesk.job.options.rules import option_rules, useful_lives
from shopdesk.job.shop import Shop
from shopdesk.job.upkeep_plan import seasons_of, use_profile
from shopdesk.records.tables import Unit
from shopdesk.upkeep.life_left import life_left, rated_life

NO_LIFE = "No rated life is published for electric machines, so hours of life are left out."


@dataclass(frozen=True, slots=True)
class Life:
    """Hours left and hours of a new one, None for electric machines; ``words`` say why."""

    left: Decimal | None
    new: Decimal | None
    words: str


def life_of(unit: Unit, shop: Shop, today: date) -> Life:
    """Return the hours of life by 40 CFR 1054.107, the owner's use, age and hour meter.

    Inside a transaction.
    """
    rules = option_rules()
    engine = rules.engine_class(unit.kind, unit.engine)
    if engine is None:
        return Life(None, None, NO_LIFE)
    profile = use_profile(unit, shop).assuming(seasons_of(shop).get(unit.kind))
    rated = rated_life(useful_lives(), engine, profile)
    found = life_left(rated, profile, unit.bought_on, today, rules.life)
    words = f"Hours of life are a guide, no promise: {found.words} ({_in_short(found.source)})."
    return Life(found.hours, rated.hours, words)


def _in_short(source: str) -> str:
    """Return a source without what it says in brackets at its end."""
    return source.partition(" Table")[0].rstrip(",").partition(" (useful")[0]
