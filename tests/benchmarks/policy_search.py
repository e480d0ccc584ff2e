"""The best way there is, by full search, on parts of the model that are small enough for it.

A small model keeps the complaint, some of the shipped causes ("something else" always among them)
with their shares made to sum to 1 again, and some of the shipped checks with all their likelihoods.
What is known of a machine is which checks were made, what they showed, and which fixes did not cure
it. From the last such state back to the first, the cheapest move is worked out exactly (dynamic
programming over belief states; Smallwood and Sondik, "The optimal control of partially observable
Markov processes over a finite horizon", 1973). A policy is followed through the same states, so that
both costs are means without any chance in them.
"""

from __future__ import annotations

import math
import random
from collections.abc import Mapping, Sequence
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


def likeliest_part(evidence: Evidence, complaint: str, causes: int, checks: int) -> SmallModel:
    """Keep the likeliest causes of a complaint, and the checks that tell most about these."""
    shares = weights(Case(complaint), evidence)
    order = sorted(range(len(shares) - 1), key=lambda place: -shares[place])
    return _part(evidence, complaint, order[: causes - 1], checks)


def drawn_part(
    evidence: Evidence, complaint: str, causes: int, checks: int, dice: random.Random
) -> SmallModel:
    """Keep causes drawn by their share under a complaint, and the checks that tell most of them."""
    shares = weights(Case(complaint), evidence)[:-1]
    # the smallest of waiting times with these rates: a draw without putting back
    waits = [dice.expovariate(share) for share in shares]
    order = sorted(range(len(shares)), key=lambda place: waits[place])
    return _part(evidence, complaint, order[: causes - 1], checks)


def _part(evidence: Evidence, complaint: str, places: Sequence[int], checks: int) -> SmallModel:
    whole = _with_causes(evidence, [*sorted(places), len(evidence.causes) - 1])
    case = Case(complaint)
    shares = weights(case, whole)
    can_be = [key for key in whole.checks if can_be_made(whole.fitting[key], case, whole)]
    telling = sorted(can_be, key=lambda key: -_bits(shares, whole.checks[key]))[:checks]
    return SmallModel(complaint, _with_checks(whole, telling))


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
        bits += math.fsum(p * q * math.log2(q / chance) for p, q in zip(shares, column, strict=True))
    return bits


_State = tuple[frozenset[Finding], frozenset[str]]


class Search:
    """All states that a machine of a small model can come to, and what a cure costs from each.

    Costs are weighed by the chance of coming to the state at all: `joint` holds, for each cause not
    yet fixed in vain, the chance of the cause and the findings together.
    """

    def __init__(self, model: SmallModel, rates: Rates) -> None:
        self._evidence = model.evidence
        self._case = Case(model.complaint)
        self._prices = Prices(model.evidence, rates)
        self._right = [self._prices.fixing([cause.key]) for cause in model.evidence.causes]
        self._places = {cause.key: place for place, cause in enumerate(model.evidence.causes)}
        self._best: dict[_State, float] = {}

    def best(self) -> float:
        """Return the mean cost to cure of the best policy."""
        return self._best_from(self._case, weights(self._case, self._evidence))

    def following(self, policy: Policy) -> float:
        """Return the mean cost to cure of a policy that goes by no chance."""
        known: dict[_State, float] = {}
        return self._following(policy, self._case, weights(self._case, self._evidence), known)

    def _best_from(self, case: Case, joint: Column) -> float:
        state = _state(case)
        if state not in self._best:
            self._best[state] = self._cheapest(case, joint)
        return self._best[state]

    def _cheapest(self, case: Case, joint: Column) -> float:
        chance = sum(joint)
        right = sum(p * cost for p, cost in zip(joint, self._right, strict=True))
        found = self._prices.search * chance + right
        for fix, place in self._places.items():
            if fix == SOMETHING_ELSE or not joint[place]:
                continue
            # never less than the right fixes of all causes: a move that costs more is left unread
            failing = chance - joint[place]
            spent = (self._right[place] + self._prices.wrong_guess) * failing
            if spent + right < found:
                found = min(found, self._after_fix(case, joint, fix, self._best_from))
        for key, check in self._evidence.fitting.items():
            spent = self._prices.checks[key] * chance
            if spent + right < found and can_be_made(check, case, self._evidence):
                pass
        return found
