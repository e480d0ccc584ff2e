"""The words that stand where the hands are about to go wrong, and what backs them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path

from shopdesk.bench.entries import CatalogueError, Entry, by_key, read_entries

STANDING = "standing"
"""The key of the line that stands on every page."""


@dataclass(frozen=True, slots=True)
class Caution:
    """One caution: its words, and the rule or practice that backs it."""

    key: str
    words: str
    backing: str


@dataclass(frozen=True, slots=True)
class Cautions:
    """All cautions by key; the standing line is always among them."""

    by_key: Mapping[str, Caution]

    @property
    def standing(self) -> Caution:
        """The line that comes before all others."""
        return self.by_key[STANDING]

    def named(self, keys: Iterable[str]) -> tuple[Caution, ...]:
        """Return the cautions of these keys, in their order."""
        return tuple(self.by_key[key] for key in keys)


def load_cautions(folder: Path) -> Cautions:
    """Read cautions.toml of `folder`. Raises CatalogueError."""
    path = folder / "cautions.toml"
    found = by_key((entry, _caution(entry)) for entry in read_entries(path, "caution"))
    if STANDING not in found:
        raise CatalogueError(f"{path.name}: the caution “{STANDING}” is missing; put it back.")
    return Cautions(found)


def _caution(entry: Entry) -> Caution:
    caution = Caution(entry.text("key"), entry.text("words"), entry.text("backing"))
    entry.finish()
    return caution
