"""How many hours and years an engine is built to last at the least: a yardstick for its age."""

from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum
from pathlib import Path

from shopdesk.upkeep.tasks import UpkeepDataError, read_toml

_CLASS_2_FROM_CC = 225


class EngineClass(StrEnum):
    """The engine classes of 40 CFR part 1054; all handheld ones share one row of its table."""

    HANDHELD = "handheld"
    CLASS_1 = "class-1"
    CLASS_2 = "class-2"


class UseCategory(StrEnum):
    """How hard an engine is meant to be used: the first three handheld, the others not."""

    LIGHT = "light"
    MEDIUM = "medium"
    HEAVY = "heavy"
    RESIDENTIAL = "residential"
    EXTENDED = "extended"
    COMMERCIAL = "commercial"


@dataclass(frozen=True, slots=True)
class UsefulLife:
    """Useful life: hours at work or years, whichever comes first, with its source."""

    hours: Decimal
    years: int
    source: str


@dataclass(frozen=True, slots=True)
class UsefulLifeTable:
    """The useful life of every engine class and use category."""

    rows: dict[tuple[EngineClass, UseCategory], UsefulLife]

    def useful_life(self, engine: EngineClass, use: UseCategory) -> UsefulLife:
        """Return the row for an engine class and a use category.

        Raises ValueError where the class has no such category, naming those that it has.
        """
        try:
            return self.rows[engine, use]
        except KeyError:
            known = ", ".join(category for of, category in self.rows if of is engine)
            raise ValueError(
                f"{engine} engines have no {use} use; choose one of: {known}."
            ) from None


def load_useful_life(folder: Path) -> UsefulLifeTable:
    """Return the table in useful_life.toml of the reference data folder.

    Raises UpkeepDataError when it can't be read or a row can't be used.
    """
    path = folder / "useful_life.toml"
    data = read_toml(path)
    try:
        return UsefulLifeTable(
            {
                (engine, UseCategory(use)): UsefulLife(
                    Decimal(hours), data["years"], data["source"]
                )
                for engine in EngineClass
                for use, hours in data[engine].items()
            }
        )
    except (AttributeError, KeyError, TypeError, ValueError, ArithmeticError) as wrong:
        raise UpkeepDataError(f"{path}: the table can't be used: {wrong}.") from wrong


def engine_class(displacement_cc: Decimal, *, handheld: bool) -> EngineClass:
    """Return the class of an engine of that displacement.

    Not handheld: class II from 225 cc, in whole cubic centimetres (40 CFR 90.116(a) and (b)).
    """
    if handheld:
        return EngineClass.HANDHELD
    whole_cc = displacement_cc.to_integral_value()
    return EngineClass.CLASS_1 if whole_cc < _CLASS_2_FROM_CC else EngineClass.CLASS_2
