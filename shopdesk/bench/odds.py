"""Words of probability and what each is worth, with the other figures behind the next step."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from pathlib import Path

from shopdesk.bench.entries import Entry, read_table


@dataclass(frozen=True, slots=True)
class Odds:
    """The figures of odds.toml. Probabilities are floats from 0 to 1, prices are in shop money.

    `unlisted_*`: what is meant where a cause doesn't speak of a complaint, onset or check.
    `other_*`: the cause "something else"; `other_minutes` is the search until a cause is certain.
    `*_tickets`: what the words weigh against closed tickets.
    `renewed_lately`: factor on a cause that was mended on this unit within the year.
    """

    words: Mapping[str, float]
    parts: Mapping[str, Decimal]
    unlisted_complaint: float
    unlisted_onset: float
    unlisted_check: float
    other_share: float
    other_check: float
    other_minutes: Decimal
    other_parts: str
    kind_tickets: float
    model_tickets: float
    renewed_lately: float

    def worth(self, entry: Entry, name: str, word: object) -> float:
        """Return the probability that a word stands for. Raises CatalogueError."""
        if not isinstance(word, str):
            raise entry.error(f'{name} must be a word of probability, such as "usually"')
        return self.words[entry.known(name, word, self.words)]

    def worths(self, entry: Entry, name: str) -> Mapping[str, float]:
        """Return a table of words as probabilities. Raises CatalogueError."""
        table = entry.table(name)
        return {key: self.worth(entry, f"{name} “{key}”", word) for key, word in table.items()}


def load_odds(folder: Path) -> Odds:
    """Read odds.toml of `folder`. Raises CatalogueError."""
    path = folder / "odds.toml"
    whole = Entry(path.name, "the file", read_table(path))
    words, unlisted, other, history, parts = (
        Entry(path.name, f"[{name}]", whole.table(name))
        for name in ("words", "unlisted", "something_else", "history", "parts")
    )
    whole.finish()
    worth = {word: _share(words, word) for word in words.fields}

    def named(entry: Entry, name: str) -> float:
        return worth[entry.known(name, entry.text(name), worth)]

    prices = {name: parts.needed_number(name) for name in parts.fields}
    odds = Odds(
        words=worth,
        parts=prices,
        unlisted_complaint=_share(unlisted, "complaint"),
        unlisted_onset=named(unlisted, "onset"),
        unlisted_check=named(unlisted, "check"),
        other_share=_share(other, "share"),
        other_check=named(other, "check"),
        other_minutes=other.needed_number("minutes"),
        other_parts=other.known("parts", other.text("parts"), prices),
        kind_tickets=float(history.needed_number("kind_tickets")),
        model_tickets=float(history.needed_number("model_tickets")),
        renewed_lately=named(history, "renewed_lately"),
    )
    for entry in (unlisted, other, history):
        entry.finish()
    return odds


def _share(entry: Entry, name: str) -> float:
    """Return a probability; never 0 or 1, which no finding could ever move."""
    value = float(entry.needed_number(name))
    if not 0 < value < 1:
        raise entry.error(f"{name} must lie between 0 and 1, and be neither")
    return value
