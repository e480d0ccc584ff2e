"""What stands on the bench, and where the bench stands, as far as a check or limit asks."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum


class Engine(StrEnum):
    """What drives the machine."""

    TWO_STROKE = "two-stroke"
    FOUR_STROKE = "four-stroke"
    CORDED = "corded"
    CORDLESS = "cordless"


class Kind(StrEnum):
    """The kinds of machine that the reference data tells apart."""

    STRING_TRIMMER = "string trimmer"
    CHAIN_SAW = "chain saw"
    LEAF_BLOWER = "leaf blower"
    HEDGE_TRIMMER = "hedge trimmer"
    TILLER = "tiller"
    LAWN_MOWER = "lawn mower"
    PRESSURE_WASHER = "pressure washer"
    GENERATOR = "generator"
    SNOW_THROWER = "snow thrower"


@dataclass(frozen=True, slots=True)
class Machine:
    """One machine: its kind (a `Kind`, or another word of the shop's), engine, make and model."""

    kind: str
    engine: Engine
    make: str = ""
    model: str = ""


@dataclass(frozen=True, slots=True)
class Place:
    """Where the readings are taken: metres above the sea."""

    altitude_m: Decimal = Decimal(0)


@dataclass(frozen=True, slots=True)
class Fit:
    """Which machines something is for: these kinds and these engines, an empty set meaning all."""

    kinds: frozenset[str] = frozenset()
    engines: frozenset[Engine] = frozenset()

    def suits(self, machine: Machine) -> bool:
        """Say whether it is for this machine."""
        return (not self.kinds or machine.kind in self.kinds) and (
            not self.engines or machine.engine in self.engines
        )

    @property
    def narrowness(self) -> int:
        """Rank a rule for a kind of machine above one for an engine, and that above one for all."""
        return 2 * bool(self.kinds) + bool(self.engines)


EVERY_MACHINE = Fit()
"""Suits any machine."""
