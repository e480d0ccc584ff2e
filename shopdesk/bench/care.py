"""What to mind with a part, known by its name: cautions as it comes off, care as it goes back."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from shopdesk.bench.cautions import load_cautions
from shopdesk.bench.entries import Entry, by_key, read_entries
from shopdesk.bench.teardown import TeardownStep


@dataclass(frozen=True, slots=True)
class Care:
    """Shown at a step where one of `words` came off; `back` is said as it goes back, or ""."""

    key: str
    words: tuple[str, ...]
    source: str
    cautions: tuple[str, ...] = ()
    back: str = ""

    def is_for(self, step: TeardownStep) -> bool:
        """Say whether it came off at this step; a plural counts as well."""
        return bool(_naming(self.words).search(step.off))


@cache
def _naming(words: tuple[str, ...]) -> re.Pattern[str]:
    named = "|".join(re.escape(word) for word in words)
    return re.compile(rf"\b(?:{named})(?:e?s)?\b", re.IGNORECASE)


def cautions_at(step: TeardownStep, cares: Sequence[Care]) -> tuple[str, ...]:
    """Return a step's caution keys: those noted with it, then those of its words, each once."""
    of_words = (key for care in cares if care.is_for(step) for key in care.cautions)
    return tuple(dict.fromkeys((*step.cautions, *of_words)))


def load_cares(folder: Path) -> tuple[Care, ...]:
    """Read care.toml of `folder`, naming cautions of cautions.toml. Raises CatalogueError."""
    known = load_cautions(folder).by_key
    entries = read_entries(folder / "care.toml", "care")
    return tuple(by_key((entry, _care(entry, tuple(known))) for entry in entries).values())


def _care(entry: Entry, known: tuple[str, ...]) -> Care:
    care = Care(
        key=entry.text("key"),
        words=entry.texts("words"),
        source=entry.text("source"),
        cautions=tuple(entry.known("cautions", key, known) for key in entry.texts("cautions")),
        back=entry.text_or_none("back"),
    )
    entry.finish()
    if not all(word.strip() for word in care.words) or not care.words:
        raise entry.error('words must name what comes off; write words = ["starter", "..."]')
    if not care.cautions and not care.back:
        raise entry.error("give cautions, or say in back what to mind as it goes back")
    return care
