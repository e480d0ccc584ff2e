"""Useful life of small engines.

Sources: 40 CFR 1054.107(a)(1), Table 1; engine classes: 40 CFR 90.116(a) and (b).
"""

from decimal import Decimal

import pytest

from shopdesk.places import shared_folder
from shopdesk.upkeep.useful_life import (
    EngineClass,
    UseCategory,
    engine_class,
    load_useful_life,
)

TABLE_1 = [
    ("handheld", "light", 50),
    ("handheld", "medium", 125),
    ("handheld", "heavy", 300),
    ("class-1", "residential", 125),
    ("class-1", "extended", 250),
    ("class-1", "commercial", 500),
    ("class-2", "residential", 250),
    ("class-2", "extended", 500),
    ("class-2", "commercial", 1000),
]


@pytest.mark.parametrize(("engine", "use", "hours"), TABLE_1)
def test_useful_life_is_five_years_or_the_hours_of_the_table(
    engine: str, use: str, hours: int
) -> None:
    table = load_useful_life(shared_folder())
    life = table.useful_life(EngineClass(engine), UseCategory(use))
    assert (life.hours, life.years) == (Decimal(hours), 5)
    assert "40 CFR 1054.107" in life.source


def test_the_table_has_no_other_rows() -> None:
    rows = load_useful_life(shared_folder()).rows
    assert {(str(engine), str(use)) for engine, use in rows} == {row[:2] for row in TABLE_1}


@pytest.mark.parametrize(
    ("displacement_cc", "engine"),
    [("98.4", "class-1"), ("224.4", "class-1"), ("225", "class-2"), ("224.6", "class-2")],
)
def test_the_class_turns_at_225_whole_cubic_centimetres(displacement_cc: str, engine: str) -> None:
    assert engine_class(Decimal(displacement_cc), handheld=False) == EngineClass(engine)


def test_handheld_engines_of_any_size_share_one_row() -> None:
    assert engine_class(Decimal(25), handheld=True) is EngineClass.HANDHELD
    assert engine_class(Decimal(90), handheld=True) is EngineClass.HANDHELD
