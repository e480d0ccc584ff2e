"""Says in one sentence why a step is worth its minutes, so that a mechanic accepts it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from shopdesk.bench.cause_book import SOMETHING_ELSE, Cause
from shopdesk.bench.checks import Check
from shopdesk.bench.outcomes import Outcome

WORTH_NAMING = 0.05
"""A cause below this probability is not named as what a check may bring out."""

WORTH_SAYING = 0.01
"""A fault that moves a cause by less than this on average is not named."""


@dataclass(frozen=True, slots=True)
class Trial:
    """One way that a check may come out: its chance, and the causes' probabilities after it."""

    outcome: Outcome
    chance: float
    shares: Sequence[float]


def why_first_look(check: Check) -> str:
    """Say why a check is among the first looks."""
    return (
        f"{_minutes(check.minutes)}, one of the first looks. A pass says: {_lower(check.rules_out)}"
    )


ALMOST_SURE = 0.99


def why_fix(cause: Cause, share: float) -> str:
    """Say why a fix may be tried without another check."""
    if cause.key == SOMETHING_ELSE:
        return f"{_minutes(cause.minutes)}: when no single fix is worth trying any more."
    return f"{_minutes(cause.minutes)}: {cause.title} is the cause {_in_a_hundred(share)}."


def why_check(
    check: Check, trials: Sequence[Trial], shares: Sequence[float], causes: Sequence[Cause]
) -> str:
    """Say what a check tells apart, and which outcome would move which cause most."""
    trial, place = _most_moved(trials, shares)
    before, after = shares[place], trial.shares[place]
    if abs(after - before) < WORTH_NAMING:
        return f"{_minutes(check.minutes)}, but it tells little now."
    told_apart = _told_apart(trial, shares, causes)
    moved = f"{causes[place].title} {_grows(before, after)}"
    return f"{_minutes(check.minutes)}{told_apart}: if {trial.outcome.words}, {moved}."


def _most_moved(trials: Sequence[Trial], shares: Sequence[float]) -> tuple[Trial, int]:
    """Return the outcome and the cause (never "something else") whose probability rises most.

    What a fault shows is easier to picture than what a pass leaves over, so it is named if it can.
    """
    candidates = [
        (trial.chance * (after - shares[place]), position, place)
        for position, trial in enumerate(trials)
        for place, after in enumerate(trial.shares[:-1])
        if after >= WORTH_NAMING
    ]
    faults = [c for c in candidates if not trials[c[1]].outcome.clear and c[0] >= WORTH_SAYING]
    if not candidates:
        return trials[0], 0
    _, position, place = max(faults or candidates)
    return trials[position], place


def _told_apart(trial: Trial, shares: Sequence[float], causes: Sequence[Cause]) -> str:
    """Name the system that gains most by an outcome and the one that loses most."""
    moved: dict[str, float] = {}
    for cause, before, after in zip(causes, shares, trial.shares, strict=True):
        if cause.system:
            moved[cause.system] = moved.get(cause.system, 0.0) + after - before
    if not moved:
        return ""
    up, down = max(moved, key=moved.__getitem__), min(moved, key=moved.__getitem__)
    return f", splits {up} from {down}" if moved[up] >= 0.05 and moved[down] <= -0.05 else ""


def _grows(before: float, after: float) -> str:
    ratio = after / before
    if ratio >= 10:
        return f"is {ratio:.0f} times likelier"
    if ratio >= 1.95:
        return f"is {ratio:.1f} times likelier".replace(".0 times", " times")
    return f"goes from {before:.0%} to {after:.0%}"


def _in_a_hundred(share: float) -> str:
    if share < 0.01:
        return "less than once in 100"
    if share > ALMOST_SURE:
        return "more than 99 times in 100"
    return f"{share * 100:.0f} times in 100"


def _minutes(minutes: Decimal) -> str:
    return "1 minute" if minutes == 1 else f"{minutes:f} minutes"


def _lower(sentence: str) -> str:
    return sentence[:1].lower() + sentence[1:]
