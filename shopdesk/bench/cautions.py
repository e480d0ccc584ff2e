"""The words that stand where the hands are about to go wrong, and what backs them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path

from shopdesk.bench.entries import CatalogueError, Entry, by_key, read_entries
from shopdesk.bench.machines import EVERY_MACHINE, Fit, Machine

STANDING = "standing"
"""The key of the line that stands on every page."""


@dataclass(frozen=True, slots=True)
class Caution:
    """One caution: its words, the rule or practice that backs it, and the machines it is for."""

    key: str
    words: str
    backing: str
    fit: Fit = EVERY_MACHINE


@dataclass(frozen=True, slots=True)
class Cautions:
    """All cautions by key; the standing line is always among them."""

    by_key: Mapping[str, Caution]

    @property
    def standing(self) -> Caution:
        """The line that comes before all others."""
        return self.by_key[STANDING]

    def named(self, keys: Iterable[str], machine: Machine | None = None) -> tuple[Caution, ...]:
        """Return the cautions of these keys in their order; of a machine, those that it needs."""
        found = (self.by_key[key] for key in keys)
        return tuple(each for each in found if machine is None or each.fit.suits(machine))


def load_cautions(folder: Path) -> Cautions:
    """Read cautions.toml of `folder`. Raises CatalogueError."""
    path = folder / "cautions.toml"
    found = by_key((entry, _caution(entry)) for entry in read_entries(path, "caution"))
    if STANDING not in found:
        raise CatalogueError(f"{path.name}: the caution “{STANDING}” is missing; put it back.")
    return Cautions(found)


def _caution(entry: Entry) -> Caution:
    caution = Caution(entry.text("key"), entry.text("words"), entry.text("backing"), entry.fit())
    entry.finish()
    return caution
