"""The best way there is, by full search, on parts of the model that are small enough for it.

A small model keeps the complaint, some of the shipped causes ("something else" always among them)
with their shares made to sum to 1 again, and some of the shipped checks with all their likelihoods.
What is known of a machine is which checks were made, what they showed, and which fixes did not cure
it. From the last such state back to the first, the cheapest move is worked out exactly (dynamic
programming over belief states; Smallwood and Sondik, "The optimal control of partially observable
Markov processes over a finite horizon", 1973). A policy is followed through the same states, so
that both costs are exact means, without any chance in them.
"""

from __future__ import annotations

import math
import operator
import random
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from shopdesk.bench.cause_book import SOMETHING_ELSE
from shopdesk.bench.causes import Case, Finding, weights
from shopdesk.bench.evidence import Column, Evidence
from shopdesk.bench.next_step import Rates, can_be_made
from tests.benchmarks.policy_world import Move, Policy, Prices


@dataclass(frozen=True, slots=True)
class SmallModel:
    """A complaint, and the part of a machine's evidence that is kept for it."""

    complaint: str
    evidence: Evidence


def drawn_part(
    evidence: Evidence, complaint: str, causes: int, checks: int, dice: random.Random
) -> SmallModel:
    """Keep causes drawn by their share under a complaint, and the checks that tell most of them.

    Checks that wait for what another has shown are left out.
    """
    case = Case(complaint)
    # the smallest of waiting times with these rates: a draw without putting back
    waits = [dice.expovariate(share) for share in weights(case, evidence)[:-1]]
    drawn = sorted(range(len(waits)), key=waits.__getitem__)[: causes - 1]
    part = _with_causes(evidence, [*sorted(drawn), len(waits)])
    shares = weights(case, part)
    can_be = [key for key in part.checks if can_be_made(part.fitting[key], case, part)]
    telling = sorted(can_be, key=lambda key: -_bits(shares, part.checks[key]))
    return SmallModel(complaint, _with_checks(part, telling[:checks]))


def _with_causes(evidence: Evidence, places: Sequence[int]) -> Evidence:
    def kept(column: Column) -> Column:
        return tuple(column[place] for place in places)

    def table(columns: Mapping[str, Column]) -> dict[str, Column]:
        return {key: kept(column) for key, column in columns.items()}

    common = kept(evidence.common)
    whole = math.fsum(common)
    return replace(
        evidence,
        causes=tuple(evidence.causes[place] for place in places),
        common=tuple(share / whole for share in common),
        complaints=table(evidence.complaints),
        onsets=table(evidence.onsets),
        checks={key: table(columns) for key, columns in evidence.checks.items()},
    )


def _with_checks(evidence: Evidence, keys: Sequence[str]) -> Evidence:
    return replace(
        evidence,
        fitting={key: evidence.fitting[key] for key in keys},
        outcomes={key: evidence.outcomes[key] for key in keys},
        checks={key: evidence.checks[key] for key in keys},
    )


def _bits(shares: Column, columns: Mapping[str, Column]) -> float:
    """Return how much a check tells about the cause: their mutual information, in bits."""
    bits = 0.0
    for column in columns.values():
        chance = math.fsum(p * q for p, q in zip(shares, column, strict=True))
        bits += math.fsum(
            p * q * math.log2(q / chance) for p, q in zip(shares, column, strict=True)
        )
    return bits


_Known = tuple[frozenset[Finding], frozenset[str]]


class Search:
    """All states that a machine of a small model can come to, and what a cure wastes from there.

    Wasted is all that is spent beside the fix of the true cause, which no policy gets round. It is
    weighed by the chance of coming to a state at all: `joint` holds for each cause that was not
    fixed in vain the chance of the cause together with the findings.
    """

    def __init__(self, model: SmallModel, rates: Rates) -> None:
        self._evidence = model.evidence
        self._case = Case(model.complaint)
        self._joint = weights(self._case, model.evidence)
        self._prices = Prices(model.evidence, rates)
        self._causes = [cause.key for cause in model.evidence.causes]
        self._right = [self._prices.fixing([key]) for key in self._causes]
        self._least: dict[_Known, float] = {}

    @property
    def right_fix(self) -> float:
        """The mean cost of the fix of the true cause alone."""
        return math.fsum(p * cost for p, cost in zip(self._joint, self._right, strict=True))

    @property
    def states(self) -> int:
        """How many states the search for the best has looked into."""
        return len(self._least)

    def best(self) -> float:
        """Return the mean cost to cure of the best policy there is."""
        return self.right_fix + self._least_waste(self._case, self._joint)

    def following(self, policy: Policy) -> float:
        """Return the mean cost to cure of a policy that takes nothing to chance."""
        return self.right_fix + self._waste_of(policy, self._case, self._joint, {})

    def _least_waste(self, case: Case, joint: Column) -> float:
        known = _known(case)
        if known not in self._least:
            least = math.inf
            for move in self._moves(case, joint):
                least = min(least, self._waste_by(move, case, joint, least))
            self._least[known] = least
        return self._least[known]

    def _waste_by(self, move: Move, case: Case, joint: Column, least: float) -> float:
        """Return what is wasted when this move comes first; cut short once it is not the least."""
        waste = self._wasted(move, joint)
        for state in self._after(move, case, joint):
            if waste >= least:
                break
            waste += self._least_waste(*state)
        return waste

    def _waste_of(
        self, policy: Policy, case: Case, joint: Column, seen: dict[_Known, float]
    ) -> float:
        known = _known(case)
        if known not in seen:
            move = policy(case, random.Random(0))
            after = self._after(move, case, joint)
            rest = sum(self._waste_of(policy, *state, seen) for state in after)
            seen[known] = self._wasted(move, joint) + rest
        return seen[known]

    def _moves(self, case: Case, joint: Column) -> list[Move]:
        """Return the search, every fix that is left, and every check that can be made."""
        fixes = [key for key, share in zip(self._causes, joint, strict=True) if share]
        made = case.outcomes()
        checks = [
            key
            for key, check in self._evidence.fitting.items()
            if key not in made and can_be_made(check, case, self._evidence)
        ]
        return [
            *(Move(fixes=(key,)) for key in reversed(fixes)),
            *(Move(check=key) for key in checks),
        ]

    def _wasted(self, move: Move, joint: Column) -> float:
        if move.check:
            return self._prices.checks[move.check] * sum(joint)
        (fix,) = move.fixes
        if fix == SOMETHING_ELSE:
            return self._prices.search * sum(joint)
        place = self._causes.index(fix)
        in_vain = sum(joint) - joint[place]
        return (self._right[place] + self._prices.wrong_guess) * in_vain

    def _after(self, move: Move, case: Case, joint: Column) -> Iterator[tuple[Case, Column]]:
        """Yield what can be known after a move that does not cure it, with the joint chances."""
        if move.check:
            for outcome, column in self._evidence.checks[move.check].items():
                found = replace(case, findings=(*case.findings, Finding(move.check, outcome)))
                yield found, tuple(map(operator.mul, joint, column))
        elif SOMETHING_ELSE not in move.fixes:
            (fix,) = move.fixes
            place = self._causes.index(fix)
            left = (*joint[:place], 0.0, *joint[place + 1 :])
            if any(left):
                yield replace(case, ruled_out=case.ruled_out | {fix}), left


def _known(case: Case) -> _Known:
    return frozenset(case.findings), case.ruled_out
