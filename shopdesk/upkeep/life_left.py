"""How many hours may still be in an engine: a guide from its rated life and its use so far."""

from dataclasses import dataclass
from datetime import date
from decimal import ROUND_HALF_UP, Decimal

from shopdesk.upkeep.because import hours_words
from shopdesk.upkeep.use import UseProfile
from shopdesk.upkeep.useful_life import EngineClass, UseCategory, UsefulLife, UsefulLifeTable

_DAYS_IN_YEAR = Decimal("365.25")
_CATEGORIES = {
    EngineClass.HANDHELD: (UseCategory.LIGHT, UseCategory.MEDIUM, UseCategory.HEAVY),
    EngineClass.CLASS_1: (UseCategory.RESIDENTIAL, UseCategory.EXTENDED, UseCategory.COMMERCIAL),
    EngineClass.CLASS_2: (UseCategory.RESIDENTIAL, UseCategory.EXTENDED, UseCategory.COMMERCIAL),
}


@dataclass(frozen=True, slots=True)
class LifeRules:
    """Guesses where the rated life leaves off, as shares of it.

    `floor` is what an engine past its rated life still counts for, `unknown_used` what is counted
    as used where neither hours nor age are known.
    """

    floor: Decimal
    unknown_used: Decimal


@dataclass(frozen=True, slots=True)
class LifeLeft:
    """Hours left of `rated` ones; `past` the rated life they are a guess. `words` say why."""

    hours: Decimal
    rated: Decimal
    past: bool
    words: str
    source: str


def rated_life(table: UsefulLifeTable, engine: EngineClass, profile: UseProfile) -> UsefulLife:
    """Return the row of the table that suits the use.

    The table says "five years or these hours", and which category an engine is built for is its
    maker's to say: taken is the lowest whose hours five years of this use fit into, the highest
    for hard use, the middle one where use is not known.
    """
    rows = [table.useful_life(engine, category) for category in _CATEGORIES[engine]]
    if profile.severe:
        return rows[-1]
    if profile.hours_per_week is None:
        return rows[1]
    yearly = hours_a_year(profile)
    return next((row for row in rows if row.hours >= yearly * row.years), rows[-1])


def life_left(
    rated: UsefulLife,
    profile: UseProfile,
    bought: date | None,
    today: date,
    rules: LifeRules,
) -> LifeLeft:
    """Return the hours left of a rated life.

    The hour meter counts before hours a week since the day it was bought; where neither says
    anything, the years of the rated life do.
    """
    used, how = _used(rated, profile, bought, today, rules)
    left = _whole(rated.hours - used)
    floor = _whole(rated.hours * rules.floor)
    past = left < floor and used >= rated.hours
    rests_on = f"{how}, of {_whole(rated.hours)} h that such an engine is rated for"
    if past:
        rests_on += f": past its rated life, so {floor} h are counted, a guess"
    return LifeLeft(max(left, floor), rated.hours, past, rests_on, rated.source)


def hours_a_year(profile: UseProfile) -> Decimal:
    """Return the hours of use in a year of 52 weeks, in the months of the season only."""
    months = len(profile.season.months) if profile.season else 12
    return (profile.hours_per_week or Decimal(0)) * 52 * months / 12


def _used(
    rated: UsefulLife, profile: UseProfile, bought: date | None, today: date, rules: LifeRules
) -> tuple[Decimal, str]:
    if profile.meter_hours is not None:
        return profile.meter_hours, f"{hours_words(profile.meter_hours)} h on the meter"
    if bought is None:
        guess = rated.hours * rules.unknown_used
        return guess, f"age and hours not known: about {_whole(guess)} h taken as used"
    if profile.hours_per_week is not None:
        hours = profile.hours_between(bought, today)
        return hours, f"about {hours_words(hours)} h used since {bought.year}"
    years = (today - bought).days / _DAYS_IN_YEAR
    spent = rated.hours * min(years / rated.years, Decimal(1))
    return spent, f"hours not known: {_years(years)} old, {rated.years} years being its rated life"


def _years(years: Decimal) -> str:
    whole = _whole(years)
    return "under a year" if years < 1 else "1 year" if whole == 1 else f"{whole} years"


def _whole(number: Decimal) -> Decimal:
    return number.quantize(Decimal(1), ROUND_HALF_UP)
