"""The figures of the policy study: mean costs, their ratios, and how sure each of them is."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from statistics import fmean, stdev

from tests.benchmarks.policy_world import Bill, Drawn

WIDTH = 1.96
"""So many standard errors on either side hold 95 in 100."""


@dataclass(frozen=True, slots=True)
class Figure:
    """A figure worked out from a sample, and its standard error."""

    value: float
    error: float

    @property
    def low(self) -> float:
        """The lower end of the 95 % interval."""
        return self.value - WIDTH * self.error

    @property
    def high(self) -> float:
        """The upper end of the 95 % interval."""
        return self.value + WIDTH * self.error


def mean_of(costs: Sequence[float]) -> Figure:
    """Return the mean of a sample."""
    return Figure(fmean(costs), stdev(costs) / math.sqrt(len(costs)))


def ratio_of_means(ours: Sequence[float], theirs: Sequence[float]) -> Figure:
    """Return mean by mean of two samples on the same machines.

    Its error is that of the paired differences from the ratio (Cochran, "Sampling Techniques",
    third edition 1977, section 2.11).
    """
    ratio = fmean(ours) / fmean(theirs)
    off = [one - ratio * other for one, other in zip(ours, theirs, strict=True)]
    return Figure(ratio, stdev(off) / math.sqrt(len(off)) / fmean(theirs))


@dataclass(frozen=True, slots=True)
class Standing:
    """How one policy did: costs in shop money, and what ours costs as a part of its cost."""

    policy: str
    cost: Figure
    checks: float
    wrong_guesses: float
    ours_to_it: Figure


def standing(policy: str, bills: Sequence[Bill], ours: Sequence[Bill]) -> Standing:
    """Sum up a policy's bills beside ours for the same machines."""
    costs = [bill.cost for bill in bills]
    return Standing(
        policy=policy,
        cost=mean_of(costs),
        checks=fmean(bill.checks for bill in bills),
        wrong_guesses=fmean(bill.wrong_guesses for bill in bills),
        ours_to_it=ratio_of_means([bill.cost for bill in ours], costs),
    )


@dataclass(frozen=True, slots=True)
class ComplaintStanding:
    """How ours and another policy did on the machines that came in with one complaint."""

    complaint: str
    machines: int
    ours: float
    theirs: float


def by_complaint(
    machines: Sequence[Drawn], ours: Sequence[Bill], theirs: Sequence[Bill]
) -> list[ComplaintStanding]:
    """Sort two policies' bills by complaint, the most frequent first."""
    sorted_out: dict[str, list[tuple[float, float]]] = defaultdict(list)
    for machine, one, other in zip(machines, ours, theirs, strict=True):
        sorted_out[machine.complaint].append((one.cost, other.cost))
    return [
        ComplaintStanding(
            complaint, len(pairs), fmean(o for o, _ in pairs), fmean(t for _, t in pairs)
        )
        for complaint, pairs in sorted(sorted_out.items(), key=lambda item: -len(item[1]))
    ]
