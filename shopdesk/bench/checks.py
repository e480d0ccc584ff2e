"""The catalogue of checks: what to do at the bench, with which tools, and what a result means."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from decimal import Decimal
from enum import StrEnum
from itertools import chain
from pathlib import Path

from shopdesk.bench.cautions import load_cautions
from shopdesk.bench.entries import CatalogueError, Entry, by_key, read_entries
from shopdesk.bench.limits import Limit, LimitRule, limit_for, read_limits
from shopdesk.bench.machines import EVERY_MACHINE, Fit, Machine
from shopdesk.bench.units import SCALES, Quantity

__all__ = [
    "Catalogue",
    "CatalogueError",
    "Check",
    "SeenChoice",
    "System",
    "Verdict",
    "load_catalogue",
]


class System(StrEnum):
    """The systems of a machine, in the order in which they are looked at."""

    SPARK = "spark"
    COMPRESSION = "compression"
    FUEL = "fuel"
    AIR = "air"
    EXHAUST = "exhaust"
    CONTROLS = "controls"
    CUTTING_GEAR = "cutting gear"
    STARTER = "starter"
    ELECTRICAL = "electrical"
    SAFETY = "safety"


class Verdict(StrEnum):
    """What a result comes to; `noted` is kept as said, without a limit to hold it against."""

    PASS = "pass"
    MARGINAL = "marginal"
    FAIL = "fail"
    NOTED = "noted"

    @property
    def is_off(self) -> bool:
        """Say whether something is not as it should be: worn or wrong, a little or wholly."""
        return self in (Verdict.MARGINAL, Verdict.FAIL)


@dataclass(frozen=True, slots=True)
class SeenChoice:
    """One thing that can be seen or tried: the `key` letter to press, its words and verdict.

    `means` is what it points to, `rules_out` what it clears, where the check's own words don't do.
    """

    key: str
    words: str
    verdict: Verdict
    means: str = ""
    rules_out: str = ""

    @property
    def is_telling(self) -> bool:
        """Say whether the causes can be weighed by it: "not known" tells nothing."""
        return self.verdict is not Verdict.NOTED or bool(self.means or self.rules_out)

    @property
    def is_clear(self) -> bool:
        """Say whether it is what a sound machine shows."""
        return self.verdict is Verdict.PASS or (
            self.verdict is Verdict.NOTED and bool(self.rules_out)
        )


@dataclass(frozen=True, slots=True)
class Check:
    """One check. Read in a `quantity` (typed without a unit: `usual_unit`), or by what is `seen`.

    A check with both takes a number, or one of the letters where there is none to read.
    `rules_out` is what a pass says, `points_to` what a failure says. `needs_running`: only on a
    machine that runs. `first_look`: 1 to 4 for the trade's four first looks, 0 for others.
    `only_after`: makes sense only when these other checks have come out as one of these, and
    `complaints`: only for one of these (empty: for all).
    """

    key: str
    title: str
    system: System
    how: str
    minutes: Decimal
    source: str
    rules_out: str
    points_to: str
    tools: tuple[str, ...] = ()
    quantity: Quantity | None = None
    usual_unit: str = ""
    seen: tuple[SeenChoice, ...] = ()
    fit: Fit = EVERY_MACHINE
    cautions: tuple[str, ...] = ()
    limits: tuple[LimitRule, ...] = ()
    safety: bool = False
    needs_running: bool = False
    first_look: int = 0
    only_after: Mapping[str, frozenset[str]] = field(default_factory=dict)
    complaints: frozenset[str] = frozenset()

    def limit_for(self, machine: Machine) -> Limit | None:
        """Return the reference limit for this machine, or None where none is known."""
        return limit_for(self.limits, machine)


@dataclass(frozen=True, slots=True)
class Catalogue:
    """All checks by key, in the order of their systems."""

    by_key: Mapping[str, Check]

    def check(self, key: str) -> Check:
        """Return one check. Raises CatalogueError."""
        if key not in self.by_key:
            raise CatalogueError(f"There is no check “{key}” in the catalogue (any more).")
        return self.by_key[key]

    def checks_for(self, machine: Machine) -> tuple[Check, ...]:
        """Return the checks that fit the machine."""
        return tuple(check for check in self.by_key.values() if check.fit.suits(machine))


def load_catalogue(folder: Path) -> Catalogue:
    """Read checks*.toml, limits.toml and cautions.toml of `folder`. Raises CatalogueError."""
    cautions = load_cautions(folder).by_key
    rules = read_limits(folder / "limits.toml")
    files = sorted(folder.glob("checks*.toml"))
    entries = chain.from_iterable(read_entries(path, "check") for path in files)
    found = by_key((entry, _check(entry, rules, cautions)) for entry in entries)
    if not found:
        raise CatalogueError(f"No check was found in {folder}: put the checks*.toml files back.")
    for rule in rules:
        _refuse_unfitting(rule, found)
    for check in found.values():
        for other in check.only_after:
            if other not in found:
                raise CatalogueError(f"“{check.key}” comes after “{other}”, which is no check.")
    order = list(System)
    return Catalogue(dict(sorted(found.items(), key=lambda pair: order.index(pair[1].system))))


def _check(entry: Entry, rules: tuple[LimitRule, ...], cautions: Mapping[str, object]) -> Check:
    key = entry.text("key")
    check = Check(
        key=key,
        title=entry.text("title"),
        system=entry.one_of("system", System),
        how=entry.text("how"),
        minutes=entry.needed_number("minutes"),
        source=entry.text("source"),
        rules_out=entry.text("rules_out"),
        points_to=entry.text("points_to"),
        tools=entry.texts("tools"),
        quantity=entry.one_of("quantity", Quantity) if entry.has("quantity") else None,
        usual_unit=entry.text_or_none("usual_unit"),
        seen=_choices(entry),
        fit=entry.fit(),
        cautions=tuple(entry.known("cautions", c, cautions) for c in entry.texts("cautions")),
        limits=tuple(rule for rule in rules if rule.check == key),
        safety=entry.flag("safety"),
        needs_running=entry.flag("needs_running"),
        first_look=int(entry.number("first_look") or 0),
        only_after=_only_after(entry),
        complaints=frozenset(entry.texts("complaints")),
    )
    entry.finish()
    _refuse_unreadable(entry, check)
    return check


def _only_after(entry: Entry) -> Mapping[str, frozenset[str]]:
    after = Entry(entry.file, f"{entry.label} only_after", entry.table("only_after"))
    return {key: frozenset(after.texts(key)) for key in after.fields}


def _choices(entry: Entry) -> tuple[SeenChoice, ...]:
    choices = []
    for inner in entry.inner("seen"):
        letter = inner.text("key")
        choices.append(
            SeenChoice(
                letter,
                inner.text("words"),
                inner.one_of("verdict", Verdict),
                inner.text_or_none("means"),
                inner.text_or_none("rules_out"),
            )
        )
        inner.finish()
        if len(letter) != 1 or not letter.isalpha() or not letter.islower():
            raise inner.error("key must be one small letter")
    if len({choice.key for choice in choices}) < len(choices):
        raise entry.error("two choices have the same letter; give each its own")
    return tuple(choices)


def _refuse_unreadable(entry: Entry, check: Check) -> None:
    """Refuse a check that nobody could answer."""
    if check.quantity is None:
        if check.usual_unit:
            raise entry.error("usual_unit without a quantity; say what is read")
        if not check.seen:
            raise entry.error("give a quantity to read, or the seen choices")
    elif SCALES[check.quantity].named(check.usual_unit) is None:
        raise entry.error(f"“{check.usual_unit}” is not a unit of {check.quantity}")


def _refuse_unfitting(rule: LimitRule, checks: Mapping[str, Check]) -> None:
    """Refuse a limit of no check, or in a unit that its check is not read in."""
    for key in filter(None, (rule.check, rule.limit.times_of)):
        if key not in checks:
            raise CatalogueError(f"limits.toml: there is no check “{key}”; correct its key.")
    quantity = Quantity.RATIO if rule.limit.times_of else checks[rule.check].quantity
    if quantity is None:
        raise CatalogueError(
            f"limits.toml: “{rule.check}” is seen, not measured; give the check a quantity."
        )
    if SCALES[quantity].named(rule.limit.unit) is None:
        raise CatalogueError(
            f"limits.toml, “{rule.check}”: “{rule.limit.unit}” is not a unit of {quantity}."
        )
