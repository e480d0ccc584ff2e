"""Weighs the causes: from complaint, onset, history and findings to a probability for each.

Naive Bayes with a single fault: findings are taken as independent once the cause is known. The
shop's closed tickets move the shares before the findings as Dirichlet counts, first those of other
models of the kind, then those of the model itself.
"""

from __future__ import annotations

import math
import operator
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field

from shopdesk.bench.cause_book import SOMETHING_ELSE, Cause
from shopdesk.bench.complaints import NOT_KNOWN
from shopdesk.bench.evidence import Column, Evidence

ODD_BITS = 1.0
"""A finding is odd when the others make it this many bits less likely (1: half as likely)."""
FITS_BETTER = 5.0
"""A fault is unexplained when some cause shows it so many times oftener than the likely ones do."""


@dataclass(frozen=True, slots=True)
class Finding:
    """What a check came out as: its key and outcome, as `Judged` has them."""

    check_key: str
    outcome: str


@dataclass(frozen=True, slots=True)
class ShopCounts:
    """Closed tickets by confirmed cause: of this model, and of all other models of the kind."""

    model: Mapping[str, int] = field(default_factory=dict)
    rest_of_kind: Mapping[str, int] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Case:
    """What is known of the trouble so far.

    `ruled_out`: causes that the mechanic has overruled, or whose fix did not cure it.
    `renewed_lately`: causes that were mended on this unit within the year.
    """

    complaint: str
    onset: str = NOT_KNOWN
    findings: tuple[Finding, ...] = ()
    ruled_out: frozenset[str] = frozenset()
    renewed_lately: frozenset[str] = frozenset()
    counts: ShopCounts = field(default_factory=ShopCounts)

    def outcomes(self) -> dict[str, str]:
        """Return what each check came out as; of two findings of one check the later holds."""
        return {each.check_key: each.outcome for each in self.findings if each.outcome}


@dataclass(frozen=True, slots=True)
class Share:
    """A cause, and its probability from 0 to 1."""

    cause: Cause
    probability: float


@dataclass(frozen=True, slots=True)
class Weighed:
    """The causes, likeliest first, summing to 1.

    `odd_finding` is the check whose finding does not go with the others, or "" where they agree.
    `unexplained` are the checks that found a fault which the likely causes hardly show: the
    probabilities are for one fault, but there may be more.
    """

    shares: tuple[Share, ...]
    odd_finding: str
    unexplained: tuple[str, ...] = ()

    def probability(self, key: str) -> float:
        """Return the probability of a cause; 0 for one that this machine can't have."""
        return next((s.probability for s in self.shares if s.cause.key == key), 0.0)


def weigh(case: Case, evidence: Evidence) -> Weighed:
    """Weigh the causes of a machine for this case."""
    column = weights(case, evidence)
    shares = [Share(c, p) for c, p in zip(evidence.causes, column, strict=True)]
    shares.sort(key=lambda share: -share.probability)
    return Weighed(
        tuple(shares), _odd_finding(case, evidence), _unexplained(case, evidence, column)
    )


def weights(case: Case, evidence: Evidence) -> Column:
    """Return the probabilities in the order of the evidence's causes."""
    return posterior(_before_findings(case, evidence), _found(case, evidence).values())


def posterior(prior: Sequence[float], likelihoods: Iterable[Sequence[float]]) -> Column:
    """Multiply a prior by columns of likelihood and make it sum to 1 (Bayes's rule).

    Raises ZeroDivisionError where nothing is left possible.
    """
    column = list(prior)
    for likelihood in likelihoods:
        column = [p * q for p, q in zip(column, likelihood, strict=True)]
    whole = math.fsum(column)
    return tuple(p / whole for p in column)


def prior_shares(common: Column, counts: Sequence[int], tickets: float) -> Column:
    """Return the mean of a Dirichlet distribution after some tickets have been counted.

    `common` are the shares before, taken to be worth so many `tickets`.
    """
    whole = tickets + sum(counts)
    return tuple((tickets * p + n) / whole for p, n in zip(common, counts, strict=True))


def _before_findings(case: Case, evidence: Evidence) -> Column:
    """Return the probabilities from machine, shop history, unit history, complaint and onset."""
    odds, keys = evidence.book.odds, [cause.key for cause in evidence.causes]
    kind = [case.counts.rest_of_kind.get(key, 0) for key in keys]
    model = [case.counts.model.get(key, 0) for key in keys]
    shares = prior_shares(evidence.common, kind, odds.kind_tickets)
    shares = prior_shares(shares, model, odds.model_tickets)
    ruled_out = case.ruled_out - {SOMETHING_ELSE}
    kept = [0.0 if key in ruled_out else 1.0 for key in keys]
    unit = [odds.renewed_lately if key in case.renewed_lately else 1.0 for key in keys]
    said = [kept, unit]
    if case.complaint in evidence.complaints:
        said.append(list(evidence.complaints[case.complaint]))
    if case.onset in evidence.onsets and case.onset != NOT_KNOWN:
        said.append(list(evidence.onsets[case.onset]))
    return posterior(shares, said)


def _found(case: Case, evidence: Evidence) -> dict[str, Column]:
    """Return a column for each finding that tells something."""
    return {
        key: evidence.checks[key][outcome]
        for key, outcome in case.outcomes().items()
        if key in evidence.checks and outcome in evidence.checks[key]
    }


def _odd_finding(case: Case, evidence: Evidence) -> str:
    """Return the check whose finding the others make least likely, or "" if none stands out.

    After Jensen and others, "Analysis in HUGIN of data conflict" (1990): findings that come from
    one cause are likelier together than apart.
    """
    prior, found = _before_findings(case, evidence), _found(case, evidence)
    whole = joint_bits(prior, list(found.values()))

    def bits_against(key: str) -> float:
        rest = [column for other, column in found.items() if other != key]
        return joint_bits(prior, [found[key]]) + joint_bits(prior, rest) - whole

    oddest = max(found, key=bits_against, default="")
    return oddest if oddest and bits_against(oddest) >= ODD_BITS else ""


def _unexplained(case: Case, evidence: Evidence, shares: Column) -> tuple[str, ...]:
    """Return the checks that found a fault which hardly comes from what is likely by now."""
    outcomes = case.outcomes()
    return tuple(
        key
        for key, column in _found(case, evidence).items()
        if any(each.is_fault for each in evidence.outcomes[key] if each.key == outcomes[key])
        and max(column) >= FITS_BETTER * math.fsum(map(operator.mul, shares, column))
    )


def joint_bits(prior: Sequence[float], likelihoods: Iterable[Sequence[float]]) -> float:
    """Return the log2 of the probability of meeting all these findings together."""
    column = list(prior)
    for likelihood in likelihoods:
        column = [p * q for p, q in zip(column, likelihood, strict=True)]
    return math.log2(math.fsum(column))
