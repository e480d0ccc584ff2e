from datetime import date
from decimal import Decimal

import pytest

from shopdesk.places import shared_folder
from shopdesk.upkeep.life_left import LifeLeft, LifeRules, hours_a_year, life_left, rated_life
from shopdesk.upkeep.use import UseProfile
from shopdesk.upkeep.useful_life import EngineClass, load_useful_life

TODAY = date(2027, 3, 15)
RULES = LifeRules(floor=Decimal("0.2"), unknown_used=Decimal("0.5"))
TABLE = load_useful_life(shared_folder())
HANDHELD = EngineClass.HANDHELD


def use(hours: str | None = None, meter: str | None = None, *, severe: bool = False) -> UseProfile:
    return UseProfile(
        Decimal(hours) if hours else None,
        4,
        10,
        severe,
        Decimal(meter) if meter else None,
    )


def left(profile: UseProfile, bought: date | None) -> LifeLeft:
    return life_left(rated_life(TABLE, HANDHELD, profile), profile, bought, TODAY, RULES)


@pytest.mark.parametrize(
    ("hours", "rated"), [("0.3", 50), ("0.8", 125), ("1.9", 300), ("20", 300), (None, 125)]
)
def test_the_row_is_the_lowest_that_five_years_of_this_use_fit_into(
    hours: str | None, rated: int
) -> None:
    assert rated_life(TABLE, HANDHELD, use(hours)).hours == rated


def test_hard_use_takes_the_highest_row() -> None:
    assert rated_life(TABLE, EngineClass.CLASS_1, use("0.5", severe=True)).hours == 500


def test_hours_a_year_are_those_of_the_season() -> None:
    assert hours_a_year(use("1")) == Decimal(364) / 12
    assert hours_a_year(UseProfile(Decimal(1))) == 52
    assert hours_a_year(UseProfile()) == 0


def test_the_meter_counts_before_all_else() -> None:
    found = left(use("0.8", "59"), date(2020, 4, 1))
    assert found.hours == 66
    assert found.words == "59 h on the meter, of 125 h that such an engine is rated for"
    assert "40 CFR 1054.107" in found.source
    assert not found.past


def test_hours_a_week_add_up_since_it_was_bought() -> None:
    found = left(use("0.8"), date(2025, 3, 15))
    assert found.hours == 76
    assert found.words.startswith("about 49 h used since 2025, of 125 h")


def test_past_its_rated_life_a_small_share_is_counted_and_said_to_be_a_guess() -> None:
    found = left(use("0.8", "180"), None)
    assert found.hours == 25
    assert found.past
    assert found.words.endswith("past its rated life, so 25 h are counted, a guess")


def test_shortly_before_its_rated_life_ends_it_is_not_past_it() -> None:
    found = left(use("0.8", "120"), None)
    assert found.hours == 25
    assert not found.past


def test_without_hours_its_age_counts() -> None:
    found = left(use(), date(2024, 3, 15))
    assert found.hours == 50
    assert found.words.startswith("hours not known: 3 years old, 5 years being its rated life")
    assert left(use(), date(2012, 3, 15)).past
    assert left(use(), date(2027, 1, 1)).words.startswith("hours not known: under a year old")
    assert left(use(), date(2026, 3, 1)).words.startswith("hours not known: 1 year old")


def test_where_nothing_is_known_half_is_taken_as_used() -> None:
    found = left(use(), None)
    assert found.hours == 63
    assert found.words.startswith("age and hours not known: about 63 h taken as used")
