"""The policies held against each other: ours, a bench's habits, and going by chance."""

from __future__ import annotations

import random
from collections.abc import Callable
from dataclasses import replace

from shopdesk.bench.cause_book import SOMETHING_ELSE, Cause
from shopdesk.bench.causes import Case, weights
from shopdesk.bench.evidence import Evidence
from shopdesk.bench.next_step import Rates, Step, StepKind, can_be_made, first_looks, next_steps
from tests.benchmarks.policy_world import Move, Policy

KIT = 5
"""So many fixes are made in one go by who renews by habit."""


def our_next_step(evidence: Evidence, rates: Rates) -> Policy:
    """Take the first step that the bench suggests."""
    return _remembering(lambda case: _as_move(next_steps(case, evidence, rates).steps[0]))


def trade_order(evidence: Evidence, rates: Rates) -> Policy:
    """Make all the first looks that the complaint calls for, then fix what is likeliest.

    The likelihood is the true one, from complaint, onset and looks: a mechanic whose feel for the
    odds is perfect. When "something else" is the likeliest, the search begins.
    """

    def chosen(case: Case) -> Move:
        return _next_look(case, evidence) or _fix(_likeliest(case, evidence)[0])

    return _remembering(chosen)


def thrifty_trade_order(evidence: Evidence, rates: Rates) -> Policy:
    """Make the same first looks, then fix in the cheapest order, and search as soon as that pays.

    No habit gets this far: it is the best that can be done without a further check.
    """
    no_further_checks = replace(evidence, fitting={})

    def chosen(case: Case) -> Move:
        look = _next_look(case, evidence)
        return look or _as_move(next_steps(case, no_further_checks, rates).steps[0])

    return _remembering(chosen)


def kit_at_once(evidence: Evidence, rates: Rates) -> Policy:
    """Renew by habit: the likeliest causes of such a complaint in one go, whatever the looks say.

    The kit holds the five likeliest causes whose parts are not dearer than the usual class of
    "something else" (medium). If that does not cure it, go on in the trade's order.
    """
    usual = evidence.causes[-1].parts
    go_on = trade_order(evidence, rates)

    def policy(case: Case, dice: random.Random) -> Move:
        if case.findings or case.ruled_out:
            return go_on(case, dice)
        likeliest = [c for c in _likeliest(case, evidence) if c.parts <= usual]
        return Move(fixes=tuple(c.key for c in likeliest if c.key != SOMETHING_ELSE)[:KIT])

    return policy


def by_chance(evidence: Evidence, rates: Rates) -> Policy:
    """Take any check that can be made, or any fix not tried yet, each as likely as the other."""

    def policy(case: Case, dice: random.Random) -> Move:
        made = case.outcomes()
        checks = [
            Move(check=key)
            for key in evidence.checks
            if key not in made and can_be_made(evidence.fitting[key], case, evidence)
        ]
        fixes = [_fix(cause) for cause in evidence.causes if cause.key not in case.ruled_out]
        return dice.choice([*checks, *fixes])

    return policy


def _next_look(case: Case, evidence: Evidence) -> Move | None:
    made = case.outcomes()
    looks = [look.key for look in first_looks(case, evidence) if look.key in evidence.checks]
    return next((Move(check=key) for key in looks if key not in made), None)


def _likeliest(case: Case, evidence: Evidence) -> list[Cause]:
    shares = zip(weights(case, evidence), evidence.causes, strict=True)
    return [cause for _, cause in sorted(shares, key=lambda pair: -pair[0])]


def _fix(cause: Cause) -> Move:
    return Move(fixes=(cause.key,))


def _as_move(step: Step) -> Move:
    return Move(check=step.key) if step.kind is StepKind.CHECK else Move(fixes=(step.key,))


def _remembering(chosen: Callable[[Case], Move]) -> Policy:
    """Work each case out once; what is known is the same in whatever order it was found out."""
    moves: dict[object, Move] = {}

    def policy(case: Case, dice: random.Random) -> Move:
        known = (case.complaint, case.onset, frozenset(case.findings), case.ruled_out)
        if known not in moves:
            moves[known] = chosen(case)
        return moves[known]

    return policy
