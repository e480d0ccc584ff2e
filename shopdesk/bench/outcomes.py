"""What a check can come out as, and how likely each outcome is when a cause is there."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from shopdesk.bench.checks import Check
from shopdesk.bench.limits import Limit

PASS = "pass"
MARGINAL = "marginal"
LOW = "low"
HIGH = "high"
READ = "read"
"""Outcomes of a reading; `READ` is a number without a limit, where having one tells something."""

SIDES = frozenset({PASS, MARGINAL, LOW, HIGH, READ})

# Of the readings that are not clean, this share is only marginal, and of the clean ones this share
# falls into the marginal band; so marginal leans to a fault, by a factor of 2 at the most.
MARGINAL_OF_FAULTS = 0.2
MARGINAL_OF_CLEAN = 0.1


@dataclass(frozen=True, slots=True)
class Outcome:
    """One way for a check to come out: its key, whether a sound machine shows it, and its words."""

    key: str
    clear: bool
    words: str

    @property
    def is_marginal(self) -> bool:
        """Say whether it is a reading between good and bad."""
        return self.key == MARGINAL

    @property
    def is_fault(self) -> bool:
        """Say whether it is plainly bad."""
        return not self.clear and not self.is_marginal


def outcomes(check: Check, limit: Limit | None) -> tuple[Outcome, ...]:
    """Return how the check can come out with this limit; fewer than two ways tell nothing."""
    seen = [Outcome(c.key, c.is_clear, f"“{c.words}”") for c in check.seen if c.is_telling]
    read = _readings(check, limit)
    if check.quantity and not limit and any(not each.clear for each in seen):
        read = [Outcome(READ, True, "there is a reading")]
    return (*read, *seen)


def _readings(check: Check, limit: Limit | None) -> list[Outcome]:
    if check.quantity is None or limit is None:
        return []
    found = [Outcome(PASS, True, "it passes")]
    if limit.fail_under is not None or limit.fail_over is not None:
        found.append(Outcome(MARGINAL, False, "it is marginal"))
    if limit.pass_from is not None:
        found.append(Outcome(LOW, False, "it reads low"))
    if limit.pass_to is not None:
        found.append(Outcome(HIGH, False, "it reads high"))
    return found


Shown = float | Mapping[str, float]
"""How often a check is not clear; or how often it comes out as each of some outcomes."""


def likelihoods(
    possible: tuple[Outcome, ...], shown: Shown, usual: Shown, least: float
) -> dict[str, float]:
    """Return the probability of each possible outcome, summing to 1.

    `shown` is what the cause says of this check, `usual` what the check shows without a cause.
    Where a table leaves some room, the rest falls as usual. No outcome gets less than `least` ÷ 4,
    so that one odd finding never rules a cause out for good.
    """
    base = _spread(possible, usual) if isinstance(usual, float) else _fill(possible, usual, None)
    got = _spread(possible, shown) if isinstance(shown, float) else _fill(possible, shown, base)
    floored = {key: max(value, least / 4) for key, value in got.items()}
    whole = sum(floored.values())
    return {key: value / whole for key, value in floored.items()}


def _spread(possible: tuple[Outcome, ...], fault: float) -> dict[str, float]:
    """Share `fault` out over the outcomes that are not clear, the rest over the clear ones."""
    clear = [o.key for o in possible if o.clear]
    faults = [o.key for o in possible if o.is_fault]
    marginal = [o.key for o in possible if o.is_marginal]
    between = (MARGINAL_OF_FAULTS * fault + MARGINAL_OF_CLEAN * (1 - fault)) if marginal else 0.0
    bad = fault * (1 - MARGINAL_OF_FAULTS) if marginal else fault
    good = (1 - fault) * (1 - MARGINAL_OF_CLEAN) if marginal else 1 - fault
    shares = dict.fromkeys(marginal, between)
    shares |= {key: bad / len(faults) for key in faults}
    return shares | {key: good / len(clear) for key in clear}


def _fill(
    possible: tuple[Outcome, ...], table: Mapping[str, float], base: Mapping[str, float] | None
) -> dict[str, float]:
    """Take the outcomes of the table; let the rest fall as in `base`, or on the clear ones."""
    named = {o.key: table[o.key] for o in possible if o.key in table}
    rest = [o for o in possible if o.key not in named]
    weights = {o.key: base[o.key] if base else float(o.clear) for o in rest}
    room = max(0.0, 1.0 - sum(named.values()))
    whole = sum(weights.values())
    if whole == 0:
        return named
    return named | {key: room * weight / whole for key, weight in weights.items()}
