"""The book of causes: what goes wrong with which machines, how it shows, what puts it right."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from pathlib import Path

from shopdesk.bench.checks import Catalogue, Check, System
from shopdesk.bench.complaints import Complaints
from shopdesk.bench.entries import CatalogueError, Entry, by_key, parse_entries, read_table
from shopdesk.bench.machines import Engine, Fit, Kind, Machine
from shopdesk.bench.odds import Odds, load_odds
from shopdesk.bench.outcomes import SIDES, Shown

SOMETHING_ELSE = "something-else"
"""The key of the cause that is always among them."""


@dataclass(frozen=True, slots=True)
class Cause:
    """One cause. Probabilities are floats from 0 to 1; `parts` is the price of the parts.

    `common` weighs it against other causes: by kind or engine, else `otherwise`.
    `complaints` and `onset` say how often it is met with as such, `shows` what the checks show.
    """

    key: str
    title: str
    system: System | None
    fit: Fit
    common: Mapping[str, float]
    complaints: Mapping[str, float]
    onset: Mapping[str, float]
    shows: Mapping[str, Shown]
    fix: str
    minutes: Decimal
    parts: Decimal

    def weight(self, machine: Machine) -> float:
        """Return how common it is for such machines."""
        common = self.common
        return common.get(machine.kind, common.get(machine.engine, common["otherwise"]))


@dataclass(frozen=True, slots=True)
class CauseBook:
    """All causes by key, what checks show without a cause, and the figures behind them."""

    by_key: Mapping[str, Cause]
    otherwise: Mapping[str, Shown]
    odds: Odds
    complaints: Complaints

    def causes_for(self, machine: Machine) -> tuple[Cause, ...]:
        """Return the causes that this machine can have, "something else" last."""
        fitting = [cause for cause in self.by_key.values() if cause.fit.suits(machine)]
        return (*fitting, self._something_else())

    def _something_else(self) -> Cause:
        return Cause(
            key=SOMETHING_ELSE,
            title="something else",
            system=None,
            fit=Fit(),
            common={"otherwise": 0.0},
            complaints=dict.fromkeys(self.complaints.by_key, 1.0),
            onset=dict.fromkeys(self.complaints.onsets, 1.0),
            shows={},
            fix="Take it further apart until it is found",
            minutes=self.odds.other_minutes,
            parts=self.odds.parts[self.odds.other_parts],
        )


def load_causes(folder: Path, catalogue: Catalogue, complaints: Complaints) -> CauseBook:
    """Read causes.toml and odds.toml of `folder`. Raises CatalogueError."""
    odds = load_odds(folder)
    path = folder / "causes.toml"
    content = read_table(path)
    otherwise = Entry(path.name, "[otherwise]", {"shows": content.pop("otherwise", {})})
    reader = _Reader(catalogue, complaints, odds)
    entries = parse_entries(path.name, content, "cause")
    found = by_key((entry, reader.cause(entry)) for entry in entries)
    if SOMETHING_ELSE in found:
        raise CatalogueError(f"{path.name}: “{SOMETHING_ELSE}” is always there; leave it out.")
    return CauseBook(found, reader.shows(otherwise), odds, complaints)


@dataclass(frozen=True, slots=True)
class _Reader:
    """Reads causes, holding each name in them against what it refers to."""

    catalogue: Catalogue
    complaints: Complaints
    odds: Odds

    def cause(self, entry: Entry) -> Cause:
        odds = self.odds
        cause = Cause(
            key=entry.text("key"),
            title=entry.text("title"),
            system=entry.one_of("system", System) if entry.has("system") else None,
            fit=entry.fit(),
            common=self._common(entry),
            complaints=odds.worths(entry, "complaints"),
            onset=odds.worths(entry, "onset"),
            shows=self.shows(entry),
            fix=entry.text("fix"),
            minutes=entry.needed_number("minutes"),
            parts=odds.parts[entry.known("parts", entry.text("parts"), odds.parts)],
        )
        for name in cause.complaints:
            entry.known("complaints", name, self.complaints.by_key)
        for name in cause.onset:
            entry.known("onset", name, self.complaints.onsets)
        entry.finish()
        return cause

    def _common(self, entry: Entry) -> Mapping[str, float]:
        if not isinstance(entry.fields.get("common"), dict):
            return {"otherwise": self.odds.worth(entry, "common", entry.text("common"))}
        common = self.odds.worths(entry, "common")
        for name in common:
            entry.known("common", name, [*Kind, *Engine, "otherwise"])
        if "otherwise" not in common:
            raise entry.error('common must say what holds otherwise; add otherwise = "..."')
        return common

    def shows(self, entry: Entry) -> Mapping[str, Shown]:
        return {
            key: self._shown(
                entry, self.catalogue.check(entry.known("shows", key, self._keys())), shown
            )
            for key, shown in entry.table("shows").items()
        }

    def _keys(self) -> list[str]:
        return list(self.catalogue.by_key)

    def _shown(self, entry: Entry, check: Check, shown: object) -> Shown:
        if not isinstance(shown, dict):
            return self.odds.worth(entry, f"shows “{check.key}”", shown)
        letters = [choice.key for choice in check.seen if choice.is_telling]
        allowed = [*letters, *sorted(SIDES)] if check.quantity else letters
        return {
            entry.known(f"shows “{check.key}”", outcome, allowed): self.odds.worth(
                entry, f"shows “{check.key}”", word
            )
            for outcome, word in shown.items()
        }
