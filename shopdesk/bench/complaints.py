"""What owners come in with, how it came on, and which looks come first for it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from shopdesk.bench.checks import Catalogue
from shopdesk.bench.entries import CatalogueError, by_key, read_entries

NOT_KNOWN = "not known"
"""The onset of a trouble that nobody can date."""


@dataclass(frozen=True, slots=True)
class Complaint:
    """One complaint: its words, whether the machine runs, and the checks to begin with.

    Where `first_looks` is empty the trade's four first looks come first.
    """

    key: str
    words: str
    running: bool
    first_looks: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Complaints:
    """All complaints, and the words for how a trouble came on, by key, in the order shown."""

    by_key: Mapping[str, Complaint]
    onsets: Mapping[str, str]


def load_complaints(folder: Path, catalogue: Catalogue) -> Complaints:
    """Read complaints.toml and onsets.toml of `folder`. Raises CatalogueError."""
    complaints = []
    for entry in read_entries(folder / "complaints.toml", "complaint"):
        looks = entry.texts("first_looks")
        for key in looks:
            entry.known("first_looks", key, catalogue.by_key)
        running = entry.flag("running")
        complaint = Complaint(entry.text("key"), entry.text("words"), running, looks)
        entry.finish()
        complaints.append((entry, complaint))
    onsets = []
    for entry in read_entries(folder / "onsets.toml", "onset"):
        onsets.append((entry, entry.text("words")))
        entry.text("key")
        entry.finish()
    found = Complaints(by_key(complaints), by_key(onsets))
    for check in catalogue.by_key.values():
        for key in check.complaints - set(found.by_key):
            raise CatalogueError(f"The check “{check.key}” is for “{key}”, which is no complaint.")
    if NOT_KNOWN not in found.onsets:
        raise CatalogueError(f"onsets.toml: the onset “{NOT_KNOWN}” is missing; put it back.")
    return found
