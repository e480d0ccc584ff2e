"""Ranks what to do next, a check or a fix, by the expected cost until the machine is cured.

One-step look-ahead (Heckerman, Breese and Rommelse, "Decision-theoretic troubleshooting", 1995): a
check is worth its minutes when, averaged over what it may show, the fixes that follow cost so much
less. Before anything has been found, the first looks come first: the trade's four in the trade's
order, those that belong to a complaint by what they are worth.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

from shopdesk.bench.cause_book import SOMETHING_ELSE, Cause
from shopdesk.bench.causes import Case, posterior, weights
from shopdesk.bench.checks import Check
from shopdesk.bench.evidence import Column, Evidence
from shopdesk.bench.fix_order import cost_to_cure
from shopdesk.bench.reasons import Trial, why_check, why_first_look, why_fix


@dataclass(frozen=True, slots=True)
class Rates:
    """What the bench costs an hour, and a wrong guess on top of its own work and parts."""

    bench_hour: Decimal
    wrong_guess: Decimal = Decimal(10)
    proof_minutes: Decimal = Decimal(3)


class StepKind(StrEnum):
    """A step is a check or a fix."""

    CHECK = "check"
    FIX = "fix"


@dataclass(frozen=True, slots=True)
class Step:
    """One thing to do next: `key` is that of the check, or of the cause that is fixed.

    `cost` is that of the step alone, `expected` the mean cost until cured when it is taken first
    (both in shop money). `why` is a sentence for the mechanic.
    """

    kind: StepKind
    key: str
    title: str
    minutes: Decimal
    cost: Decimal
    expected: Decimal
    why: str


@dataclass(frozen=True, slots=True)
class NextSteps:
    """The steps, best first, and every check for safety that is still to be made."""

    steps: tuple[Step, ...]
    safety: tuple[Check, ...]


def next_steps(case: Case, evidence: Evidence, rates: Rates) -> NextSteps:
    """Rank every check not made yet and every fix not ruled out."""
    made = {finding.check_key for finding in case.findings}
    bench = _Bench(evidence, rates, weights(case, evidence))
    open_checks = [check for check in evidence.fitting.values() if check.key not in made]
    checks = [
        bench.check_step(check)
        for check in open_checks
        if check.key in evidence.checks and can_be_made(check, case, evidence)
    ]
    fixes = [
        bench.fix_step(place)
        for place, cause in enumerate(evidence.causes)
        if cause.key not in case.ruled_out or cause.key == SOMETHING_ELSE
    ]
    ranked = sorted([*checks, *fixes], key=lambda step: _worth(step, rates))
    if not case.outcomes():
        ranked = _first_looks_first(case, evidence, ranked)
    return NextSteps(tuple(ranked), tuple(check for check in open_checks if check.safety))


def _worth(step: Step, rates: Rates) -> tuple[Decimal, Decimal]:
    """Rank by expected cost; a check that saves less than a minute's pay gives way to a fix."""
    bother = rates.bench_hour / 60 if step.kind is StepKind.CHECK else Decimal(0)
    return step.expected + bother, step.minutes


def can_be_made(check: Check, case: Case, evidence: Evidence) -> bool:
    """Say whether the machine runs where it must, and whether the check makes sense by now."""
    complaint = evidence.book.complaints.by_key.get(case.complaint)
    runs = complaint is None or complaint.running
    meant = not check.complaints or case.complaint in check.complaints
    found = case.outcomes()
    after = all(found.get(key) in allowed for key, allowed in check.only_after.items())
    return meant and after and (runs or not check.needs_running)


def first_looks(case: Case, evidence: Evidence) -> list[Check]:
    """Return the checks to begin with: the complaint's own, else the trade's; four at the most.

    Those that can't be made on this machine now are left out.
    """
    trade = (check for check in evidence.fitting.values() if check.first_look)
    looks = _own_looks(case, evidence) or sorted(trade, key=lambda check: check.first_look)
    return [look for look in looks[:4] if can_be_made(look, case, evidence)]


def _own_looks(case: Case, evidence: Evidence) -> list[Check]:
    """Return the first looks that the complaint names, as far as the machine has such things."""
    complaint = evidence.book.complaints.by_key.get(case.complaint)
    named = complaint.first_looks if complaint else ()
    return [evidence.fitting[key] for key in named if key in evidence.fitting]


def _first_looks_first(case: Case, evidence: Evidence, ranked: list[Step]) -> list[Step]:
    """Put the first looks in front: the trade's in its order, a complaint's own as ranked."""
    order = [look.key for look in first_looks(case, evidence)]
    looks = [step for step in ranked if step.kind is StepKind.CHECK and step.key in order]
    rest = [step for step in ranked if step.kind is StepKind.FIX or step.key not in order]
    if not _own_looks(case, evidence):
        looks.sort(key=lambda step: order.index(step.key))
    return [*(_as_first_look(step, evidence) for step in looks), *rest]


def _as_first_look(step: Step, evidence: Evidence) -> Step:
    why = why_first_look(evidence.fitting[step.key])
    return Step(step.kind, step.key, step.title, step.minutes, step.cost, step.expected, why)


class _Bench:
    """The costs and probabilities that every step of one ranking shares."""

    def __init__(self, evidence: Evidence, rates: Rates, shares: Column) -> None:
        self._evidence = evidence
        self._shares = shares
        self._minute = float(rates.bench_hour) / 60
        *known, other = evidence.causes
        self._costs = [self._fix_cost(cause, rates) for cause in known]
        self._search = float(other.minutes) * self._minute
        self._other = float(other.parts) + float(rates.proof_minutes) * self._minute
        # the price of a fix counts it as a wrong guess; the one that cures is none
        self._no_wrong_guess = float(rates.wrong_guess) * (1 - shares[-1])

    def check_step(self, check: Check) -> Step:
        cost = float(check.minutes) * self._minute
        trials = self._trials(check)
        expected = cost + sum(t.chance * self._to_cure(t.shares) for t in trials)
        why = why_check(check, trials, self._shares, self._evidence.causes)
        money = _money(cost), self._until_cured(expected)
        return Step(StepKind.CHECK, check.key, check.title, check.minutes, *money, why)

    def fix_step(self, place: int) -> Step:
        cause, share = self._evidence.causes[place], self._shares[place]
        if cause.key == SOMETHING_ELSE:
            cost = self._search
            expected = cost + self._mending(self._shares)
        else:
            cost = self._costs[place]
            without = [0.0 if i == place else p for i, p in enumerate(self._shares)]
            expected = cost + (1 - share) * self._to_cure(posterior(without, ()))
        why = why_fix(cause, share)
        money = _money(cost), self._until_cured(expected)
        return Step(StepKind.FIX, cause.key, cause.fix, cause.minutes, *money, why)

    def _trials(self, check: Check) -> list[Trial]:
        trials = []
        columns = self._evidence.checks[check.key]
        for outcome in self._evidence.outcomes[check.key]:
            joint = [p * q for p, q in zip(self._shares, columns[outcome.key], strict=True)]
            chance = sum(joint)
            trials.append(Trial(outcome, chance, tuple(p / chance for p in joint)))
        return trials

    def _to_cure(self, shares: Sequence[float]) -> float:
        """Return the expected cost from here on when no further check is made."""
        known = cost_to_cure(shares[:-1], self._costs, self._search)
        return known + shares[-1] * self._other

    def _mending(self, shares: Sequence[float]) -> float:
        """Return the expected cost of the right fix alone."""
        costs = [*self._costs, self._other]
        return sum(p * cost for p, cost in zip(shares, costs, strict=True))

    def _fix_cost(self, cause: Cause, rates: Rates) -> float:
        minutes = float(cause.minutes + rates.proof_minutes)
        return minutes * self._minute + float(cause.parts) + float(rates.wrong_guess)

    def _until_cured(self, expected: float) -> Decimal:
        return _money(expected - self._no_wrong_guess)


def _money(amount: float) -> Decimal:
    return Decimal(amount).quantize(Decimal("0.01"))
