"""Machines drawn from the model of causes, and what it costs to mend each of them by a policy.

What a cure costs, in shop money, is counted as it happens at the bench:

- a check costs its minutes at the bench rate, whatever it shows;
- a fix costs its minutes and those of one proof run at the bench rate, and its parts; if it does
  not cure the machine, the price of a wrong guess comes on top;
- several fixes made in one go cost all their minutes and parts, but one proof run, and at most one
  wrong guess;
- the search costs the minutes of "something else"; it finds the cause for certain, and then that
  cause's own fix is paid for (of "something else" its parts and a proof run).

Nothing else is counted: checks for safety are made on every machine, whoever mends it.
"""

from __future__ import annotations

import random
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace

from shopdesk.bench.cause_book import SOMETHING_ELSE
from shopdesk.bench.causes import Case, Finding
from shopdesk.bench.complaints import NOT_KNOWN
from shopdesk.bench.evidence import Column, Evidence
from shopdesk.bench.next_step import Rates


@dataclass(frozen=True, slots=True)
class Move:
    """What a policy does next: one check, or one or more fixes and a proof run."""

    check: str = ""
    fixes: tuple[str, ...] = ()


Policy = Callable[[Case, random.Random], Move]
"""Says the next move from what is known; the dice are the machine's own, for who goes by chance."""


@dataclass(frozen=True, slots=True)
class Drawn:
    """A machine: what ails it, what its owner says, and what every check would show on it."""

    number: int
    cause: str
    complaint: str
    onset: str
    shows: Mapping[str, str]


@dataclass(frozen=True, slots=True)
class Bill:
    """What a cure took: its cost in shop money, checks made, and fixes tried in vain."""

    cost: float
    checks: int
    wrong_guesses: int


def draw_machines(evidence: Evidence, count: int, seed: int) -> list[Drawn]:
    """Draw machines from the model: the cause by its share, all else as likely under the cause."""
    dice = random.Random(seed)
    return [_draw(dice, evidence, number) for number in range(count)]


def _draw(dice: random.Random, evidence: Evidence, number: int) -> Drawn:
    place = dice.choices(range(len(evidence.causes)), evidence.common)[0]
    onsets = {key: column for key, column in evidence.onsets.items() if key != NOT_KNOWN}
    return Drawn(
        number=number,
        cause=evidence.causes[place].key,
        complaint=_pick(dice, evidence.complaints, place),
        onset=_pick(dice, onsets, place),
        shows={key: _pick(dice, columns, place) for key, columns in evidence.checks.items()},
    )


def _pick(dice: random.Random, columns: Mapping[str, Column], place: int) -> str:
    return dice.choices(list(columns), [column[place] for column in columns.values()])[0]


class Prices:
    """What each move costs on the machines of one kind."""

    def __init__(self, evidence: Evidence, rates: Rates) -> None:
        minute = float(rates.bench_hour) / 60
        self._proof = float(rates.proof_minutes) * minute
        self._work = {c.key: float(c.minutes) * minute + float(c.parts) for c in evidence.causes}
        self.wrong_guess = float(rates.wrong_guess)
        self.checks = {
            key: float(check.minutes) * minute for key, check in evidence.fitting.items()
        }
        self.search = float(evidence.causes[-1].minutes) * minute
        self._work[SOMETHING_ELSE] -= self.search

    def fixing(self, causes: Sequence[str]) -> float:
        """Return the cost of fixing these causes in one go, with one proof run."""
        return sum(self._work[cause] for cause in causes) + self._proof


def mend(machine: Drawn, policy: Policy, prices: Prices) -> Bill:
    """Let a policy mend a machine, and return what it took."""
    case = Case(machine.complaint, machine.onset)
    dice = random.Random(machine.number)
    spent, wrong = 0.0, 0
    while True:
        move = policy(case, dice)
        if move.check:
            spent += prices.checks[move.check]
            finding = Finding(move.check, machine.shows[move.check])
            case = replace(case, findings=(*case.findings, finding))
        elif SOMETHING_ELSE in move.fixes:
            spent += prices.search + prices.fixing([machine.cause])
            return Bill(spent, len(case.findings), wrong)
        elif machine.cause in move.fixes:
            return Bill(spent + prices.fixing(move.fixes), len(case.findings), wrong)
        else:
            spent += prices.fixing(move.fixes) + prices.wrong_guess
            wrong += 1
            case = replace(case, ruled_out=case.ruled_out | set(move.fixes))
