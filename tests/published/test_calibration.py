"""Honest odds: of tickets drawn from the model, what is given 30 in 100 comes true 30 in 100.

Calibration in the sense of A. P. Dawid, "The well-calibrated Bayesian" (1982).
"""

from __future__ import annotations

import math
import random
from collections.abc import Mapping, Sequence
from pathlib import Path

import pytest

from shopdesk.bench.cause_book import CauseBook, load_causes
from shopdesk.bench.causes import Case, Finding, weigh, weights
from shopdesk.bench.checks import Catalogue, load_catalogue
from shopdesk.bench.complaints import NOT_KNOWN, load_complaints
from shopdesk.bench.evidence import Column, Evidence, evidence_for
from shopdesk.bench.machines import Engine, Machine

SHARED = Path(__file__).parents[2] / "shared"
MACHINES = [
    Machine("string trimmer", Engine.TWO_STROKE),
    Machine("lawn mower", Engine.FOUR_STROKE),
    Machine("hedge trimmer", Engine.CORDED),
    Machine("chain saw", Engine.CORDLESS),
]
TICKETS = 1500


@pytest.fixture(scope="module")
def catalogue() -> Catalogue:
    return load_catalogue(SHARED)


@pytest.fixture(scope="module")
def book(catalogue: Catalogue) -> CauseBook:
    return load_causes(SHARED, catalogue, load_complaints(SHARED, catalogue))


def pick(dice: random.Random, columns: Mapping[str, Column], cause: int) -> str:
    return dice.choices(list(columns), [column[cause] for column in columns.values()])[0]


def draw(dice: random.Random, evidence: Evidence, checks: int) -> tuple[int, Case]:
    """Draw a machine's true cause, and what its owner and the first few checks would say."""
    cause = dice.choices(range(len(evidence.causes)), evidence.common)[0]
    onsets = {key: column for key, column in evidence.onsets.items() if key != NOT_KNOWN}
    complaint = pick(dice, evidence.complaints, cause)
    onset = pick(dice, onsets, cause)
    made = dice.sample(list(evidence.checks), checks)
    findings = (Finding(key, pick(dice, evidence.checks[key], cause)) for key in made)
    return cause, Case(complaint, onset, tuple(findings))


def gap_in_errors(said: Sequence[float], came_true: Sequence[bool]) -> float:
    """Return how far what came true lies from what was said, in standard errors."""
    variance = math.fsum(p * (1 - p) for p in said)
    return abs(sum(came_true) - math.fsum(said)) / math.sqrt(variance) if variance else 0.0


@pytest.mark.parametrize("machine", MACHINES, ids=lambda m: f"{m.engine} {m.kind}")
def test_what_is_said_comes_true_as_often_as_said(
    book: CauseBook, catalogue: Catalogue, machine: Machine
) -> None:
    evidence = evidence_for(machine, book, catalogue)
    dice = random.Random(20)
    said: list[list[float]] = [[] for _ in range(10)]
    came_true: list[list[bool]] = [[] for _ in range(10)]
    for _ in range(TICKETS):
        cause, case = draw(dice, evidence, dice.randint(0, 6))
        for place, probability in enumerate(weights(case, evidence)):
            bin_ = min(int(probability * 10), 9)
            said[bin_].append(probability)
            came_true[bin_].append(place == cause)
    filled = [(s, t) for s, t in zip(said, came_true, strict=True) if len(s) >= 20]
    assert len(filled) >= 8
    # ten groups: one beyond 3.5 standard errors by chance in about 200 such tests
    assert max(gap_in_errors(s, t) for s, t in filled) < 3.5


@pytest.mark.parametrize("machine", MACHINES, ids=lambda m: f"{m.engine} {m.kind}")
def test_more_findings_put_more_on_the_true_cause(
    book: CauseBook, catalogue: Catalogue, machine: Machine
) -> None:
    evidence = evidence_for(machine, book, catalogue)

    def mean_log_score(checks: int) -> float:
        dice = random.Random(7)
        drawn = (draw(dice, evidence, checks) for _ in range(300))
        return sum(math.log(weights(case, evidence)[cause]) for cause, case in drawn) / 300

    assert mean_log_score(0) < mean_log_score(4) < mean_log_score(9)


@pytest.mark.parametrize("machine", MACHINES[:2], ids=lambda m: f"{m.engine} {m.kind}")
def test_honest_tickets_are_seldom_said_to_contradict_themselves(
    book: CauseBook, catalogue: Catalogue, machine: Machine
) -> None:
    evidence = evidence_for(machine, book, catalogue)
    dice = random.Random(3)
    odd = [bool(weigh(draw(dice, evidence, 6)[1], evidence).odd_finding) for _ in range(600)]
    assert sum(odd) / len(odd) < 0.03
