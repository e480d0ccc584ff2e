"""Does the next step pay? Ours against the best there is, the trade's habits, and chance.

    python -m tests.benchmarks.policy_study [--machines 2000] [--folder test-output/policy-study]

For one machine of each drive, machines are drawn from the model of causes (`policy_world` says how,
and what a cure costs), and every policy of `policy_rivals` mends the same ones. The best there is
is found by full search on small parts of the model (`policy_search`). What it shows: whether the
rule for the next step is good, if the odds are. It does not show that the odds are right; that is
for the shop's own closed tickets.
"""

from __future__ import annotations

import argparse
import json
import random
from collections.abc import Callable, Mapping, Sequence
from dataclasses import asdict, dataclass
from decimal import Decimal
from pathlib import Path

from shopdesk.bench.cause_book import load_causes
from shopdesk.bench.checks import load_catalogue
from shopdesk.bench.complaints import load_complaints
from shopdesk.bench.evidence import Evidence, evidence_for
from shopdesk.bench.machines import Engine, Machine
from shopdesk.bench.next_step import Rates
from tests.benchmarks.policy_chart import draw_chart
from tests.benchmarks.policy_figures import (
    WIDTH,
    ComplaintStanding,
    Figure,
    Standing,
    by_complaint,
    mean_of,
    ratio_of_means,
    standing,
)
from tests.benchmarks.policy_rivals import (
    by_chance,
    kit_at_once,
    our_next_step,
    thrifty_trade_order,
    trade_order,
)
from tests.benchmarks.policy_search import Search, drawn_part
from tests.benchmarks.policy_world import Policy, Prices, draw_machines, mend

TOP = Path(__file__).parents[2]
RATES = Rates(Decimal(75))
MACHINES = (
    Machine("string trimmer", Engine.TWO_STROKE),
    Machine("lawn mower", Engine.FOUR_STROKE),
    Machine("hedge trimmer", Engine.CORDED),
    Machine("chain saw", Engine.CORDLESS),
)
Sizes = Sequence[tuple[int, int]]
"""How many causes and checks each small model keeps."""

FULL_SIZES: Sizes = [(5, 5)] * 16 + [(6, 6)] * 3

OURS = "our next step"
TRADE = "trade order"
POLICIES: Mapping[str, Callable[[Evidence, Rates], Policy]] = {
    OURS: our_next_step,
    "trade order, then thrift": thrifty_trade_order,
    TRADE: trade_order,
    "kit at once": kit_at_once,
    "by chance": by_chance,
}


@dataclass(frozen=True, slots=True)
class SmallStanding:
    """One small model: mean costs of the best there is, of ours and of the trade's order."""

    complaint: str
    causes: tuple[str, ...]
    checks: tuple[str, ...]
    states: int
    best: float
    ours: float
    trade: float


@dataclass(frozen=True, slots=True)
class MachineStudy:
    """What was found for one kind of machine; `right_fix` is what the true fix alone costs."""

    name: str
    machines: int
    right_fix: Figure
    standings: tuple[Standing, ...]
    complaints: tuple[ComplaintStanding, ...]
    small: tuple[SmallStanding, ...]
    ours_to_best: Figure

    def standing(self, policy: str) -> Standing:
        """Return how a policy did."""
        return next(each for each in self.standings if each.policy == policy)


def evidence_of(machine: Machine) -> Evidence:
    """Return the evidence of a machine from the shipped data."""
    shared = TOP / "shared"
    catalogue = load_catalogue(shared)
    book = load_causes(shared, catalogue, load_complaints(shared, catalogue))
    return evidence_for(machine, book, catalogue)


def study(machine: Machine, count: int, sizes: Sizes, seed: int) -> MachineStudy:
    """Let every policy mend `count` machines, and hold ours against the best on small models."""
    evidence = evidence_of(machine)
    prices = Prices(evidence, RATES)
    drawn = draw_machines(evidence, count, seed)
    bills = {
        name: [mend(each, policy, prices) for each in drawn]
        for name, policy in ((name, made(evidence, RATES)) for name, made in POLICIES.items())
    }
    dice = random.Random(seed)
    small = tuple(_small(evidence, dice, *size) for size in sizes)
    return MachineStudy(
        name=f"{machine.engine} {machine.kind}",
        machines=count,
        right_fix=mean_of([prices.fixing([each.cause]) for each in drawn]),
        standings=tuple(standing(name, of, bills[OURS]) for name, of in bills.items()),
        complaints=tuple(by_complaint(drawn, bills[OURS], bills[TRADE])),
        small=small,
        ours_to_best=ratio_of_means([each.ours for each in small], [each.best for each in small]),
    )


def _small(evidence: Evidence, dice: random.Random, causes: int, checks: int) -> SmallStanding:
    """Draw a complaint by its share, then a small model for it, and search that through."""
    shares = {
        complaint: sum(p * q for p, q in zip(evidence.common, column, strict=True))
        for complaint, column in evidence.complaints.items()
    }
    complaint = dice.choices(list(shares), list(shares.values()))[0]
    model = drawn_part(evidence, complaint, causes, checks, dice)
    search = Search(model, RATES)
    best = search.best()
    return SmallStanding(
        complaint=complaint,
        causes=tuple(cause.key for cause in model.evidence.causes),
        checks=tuple(model.evidence.checks),
        states=search.states,
        best=best,
        ours=search.following(our_next_step(model.evidence, RATES)),
        trade=search.following(trade_order(model.evidence, RATES)),
    )


def table(found: MachineStudy) -> str:
    """Return the figures of one kind of machine in words and columns."""
    lines = [
        f"{found.name}: {found.machines} machines; the right fix alone {found.right_fix.value:.1f}",
        f"  {'policy':26}{'mean cost':>16}{'ours to it':>18}{'checks':>9}{'wrong':>8}",
    ]
    for each in found.standings:
        cost, ratio = each.cost, each.ours_to_it
        lines.append(
            f"  {each.policy:26}{cost.value:>8.1f} ± {WIDTH * cost.error:<5.1f}"
            f"{ratio.value:>10.3f} ± {WIDTH * ratio.error:.3f}"
            f"{each.checks:>9.1f}{each.wrong_guesses:>8.2f}"
        )
    ratios = [each.ours / each.best for each in found.small]
    best = found.ours_to_best
    lines.append(
        f"  {len(ratios)} small models: ours costs {best.value:.3f} ± {WIDTH * best.error:.3f} "
        f"of the best there is; from {min(ratios):.3f} to {max(ratios):.3f}"
    )
    dearer = [c for c in found.complaints if c.machines >= 20 and c.ours > c.theirs]
    for one in dearer:
        lines.append(
            f"  dearer than the trade's order: “{one.complaint}” ({one.machines} machines), "
            f"{one.ours:.1f} against {one.theirs:.1f}"
        )
    return "\n".join(lines)


def run(count: int, sizes: Sizes, seed: int, folder: Path) -> list[MachineStudy]:
    """Run and print the study for every kind of machine; leave chart and figures in a folder."""
    found = []
    for machine in MACHINES:
        found.append(study(machine, count, sizes, seed))
        print(table(found[-1]), flush=True)
    folder.mkdir(parents=True, exist_ok=True)
    figures = json.dumps([asdict(each) for each in found], indent=1)
    (folder / "policy-study.json").write_text(figures, encoding="utf-8")
    draw_chart(found, folder)
    return found


def main() -> None:
    """Run the study at full length: five minutes of one core."""
    parser = argparse.ArgumentParser(description="Hold the next step against other policies.")
    parser.add_argument("--machines", type=int, default=2000, help="drawn of each kind")
    parser.add_argument("--folder", type=Path, default=TOP / "test-output" / "policy-study")
    parser.add_argument("--seed", type=int, default=1)
    chosen = parser.parse_args()
    run(chosen.machines, FULL_SIZES, chosen.seed, chosen.folder)
    print(f"Chart and figures: {chosen.folder}")


if __name__ == "__main__":
    main()
