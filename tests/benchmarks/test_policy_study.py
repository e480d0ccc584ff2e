"""The next step costs at most 5 % more than the best, and 15 % less than the trade's order.

A small, fixed sample of what `python -m tests.benchmarks.policy_study` works out in full. A goal is
held against the far end of the figure's 95 % interval, not against the figure itself.
"""

from __future__ import annotations

import json
import math
import random
from collections.abc import Callable
from dataclasses import replace
from decimal import Decimal
from itertools import permutations
from pathlib import Path
from statistics import fmean

import pytest
from PIL import Image
from pypdf import PdfReader

from shopdesk.bench.cause_book import SOMETHING_ELSE
from shopdesk.bench.causes import Case, Finding, weights
from shopdesk.bench.evidence import Evidence
from shopdesk.bench.machines import Engine, Machine
from shopdesk.bench.next_step import Rates, next_steps
from tests.benchmarks.policy_figures import mean_of, ratio_of_means
from tests.benchmarks.policy_rivals import (
    KIT,
    by_chance,
    kit_at_once,
    our_next_step,
    thrifty_trade_order,
    trade_order,
)
from tests.benchmarks.policy_search import Search, SmallModel, drawn_part
from tests.benchmarks.policy_study import (
    MACHINES,
    RATES,
    TRADE,
    MachineStudy,
    evidence_of,
    run,
    study,
    table,
)
from tests.benchmarks.policy_world import Drawn, Move, Policy, Prices, draw_machines, mend

TRIMMER = MACHINES[0]
# machines without an engine have few causes: there a large sample costs little, and is needed more
COUNTS = {Engine.TWO_STROKE: 100, Engine.FOUR_STROKE: 100, Engine.CORDED: 1500}
MOST_OF_BEST = 1.05
MOST_OF_TRADE = 0.85
NO_DICE = random.Random(0)


@pytest.fixture(scope="module", params=MACHINES, ids=lambda machine: str(machine.kind))
def found(request: pytest.FixtureRequest) -> MachineStudy:
    machine: Machine = request.param
    result = study(machine, COUNTS.get(machine.engine, 500), [(4, 4)] * 20, seed=2)
    print(f"\n{table(result)}")
    return result


@pytest.fixture(scope="module")
def small() -> SmallModel:
    return drawn_part(evidence_of(TRIMMER), "bogs", 4, 4, random.Random(5))


def test_it_costs_at_most_a_twentieth_more_than_the_best_there_is(found: MachineStudy) -> None:
    assert found.ours_to_best.high <= MOST_OF_BEST


def test_it_costs_at_least_15_in_100_less_than_the_trades_order(found: MachineStudy) -> None:
    assert found.standing(TRADE).ours_to_it.high <= MOST_OF_TRADE


@pytest.mark.parametrize("policy", ["trade order, then thrift", "kit at once", "by chance"])
def test_it_costs_less_than_every_other_way(found: MachineStudy, policy: str) -> None:
    assert found.standing(policy).ours_to_it.high < 1


def test_no_policy_is_cheaper_than_the_best_or_than_the_right_fix(found: MachineStudy) -> None:
    for each in found.small:
        assert each.best <= min(each.ours, each.trade) + 1e-9
    assert all(each.cost.value > found.right_fix.value for each in found.standings)


def test_the_search_without_checks_is_the_best_of_all_orders(small: SmallModel) -> None:
    evidence = replace(small.evidence, fitting={}, outcomes={}, checks={})
    prices = Prices(evidence, RATES)
    shares = dict(
        zip((c.key for c in evidence.causes), weights(Case("bogs"), evidence), strict=True)
    )
    fixes = [key for key in shares if key != SOMETHING_ELSE]

    def cost_of(order: tuple[str, ...]) -> float:
        total = 0.0
        for cause, share in shares.items():
            in_vain = order[: order.index(cause)] if cause in order else order
            searched = 0.0 if cause in order else prices.search
            wasted = sum(prices.fixing([fix]) + prices.wrong_guess for fix in in_vain)
            total += share * (wasted + searched + prices.fixing([cause]))
        return total

    orders = [order for n in range(len(fixes) + 1) for order in permutations(fixes, n)]
    best = Search(SmallModel("bogs", evidence), RATES).best()
    assert best == pytest.approx(min(map(cost_of, orders)))


def test_what_the_bench_expects_without_checks_is_what_it_costs(small: SmallModel) -> None:
    evidence = replace(small.evidence, fitting={}, outcomes={}, checks={})
    expected = next_steps(Case("bogs"), evidence, RATES).steps[0].expected
    best = Search(SmallModel("bogs", evidence), RATES).best()
    assert float(expected) == pytest.approx(best, abs=0.005)


def test_a_perfect_check_is_made_when_it_pays_and_only_then(small: SmallModel) -> None:
    causes = small.evidence.causes
    name = next(iter(small.evidence.checks))
    tells = {f"o{n}": tuple(float(n == place) for place in range(len(causes))) for n in range(4)}
    searched = weights(Case("bogs"), small.evidence)[-1] * Prices(small.evidence, RATES).search
    for minutes, is_made in ((1, True), (400, False)):
        check = replace(small.evidence.fitting[name], minutes=Decimal(minutes))
        evidence = replace(small.evidence, fitting={name: check}, checks={name: tells})
        search = Search(SmallModel("bogs", evidence), RATES)
        told = search.right_fix + minutes * float(RATES.bench_hour) / 60 + searched
        assert (search.best() == pytest.approx(told)) is is_made
        assert search.best() <= told + 1e-9


@pytest.mark.parametrize("made", [our_next_step, trade_order, thrifty_trade_order])
def test_followed_through_all_states_a_policy_costs_what_it_does_on_drawn_machines(
    small: SmallModel, made: Callable[[Evidence, Rates], Policy]
) -> None:
    everywhere = (1.0,) * len(small.evidence.causes)
    evidence = replace(
        small.evidence,
        common=weights(Case("bogs"), small.evidence),
        complaints={"bogs": everywhere},
        onsets=dict.fromkeys(small.evidence.onsets, everywhere),
    )
    policy, prices = made(evidence, RATES), Prices(evidence, RATES)
    machines = draw_machines(evidence, 4000, seed=9)
    drawn = mean_of([mend(each, policy, prices).cost for each in machines])
    exact = Search(SmallModel("bogs", evidence), RATES).following(policy)
    assert abs(drawn.value - exact) < 3.5 * drawn.error


def test_what_a_cure_costs() -> None:
    evidence = evidence_of(TRIMMER)
    prices = Prices(evidence, RATES)
    shows = {"spark": "s"}
    machine = Drawn(0, "fuel-filter", "bogs", "crept in", shows)
    moves = iter(
        [Move(check="spark"), Move(fixes=("bad-plug", "air-filter")), Move(fixes=("fuel-filter",))]
    )
    bill = mend(machine, lambda case, dice: next(moves), prices)
    minute, proof = 75 / 60, 3
    spark, strip = float(evidence.fitting["spark"].minutes), float(evidence.causes[-1].minutes)
    # plug 4 minutes and air filter 4, fuel filter 8, each with small parts at 8.00
    in_vain = (4 + 4 + proof) * minute + 8 + 8 + 10
    assert bill.cost == pytest.approx(spark * minute + in_vain + (8 + proof) * minute + 8)
    assert (bill.checks, bill.wrong_guesses) == (1, 1)
    search = Move(fixes=(SOMETHING_ELSE,))
    searched = mend(machine, lambda case, dice: search, prices)
    assert searched.cost == pytest.approx((strip + 8 + proof) * minute + 8)
    unknown = mend(replace(machine, cause=SOMETHING_ELSE), lambda case, dice: search, prices)
    assert unknown.cost == pytest.approx((strip + proof) * minute + 30)


def test_machines_are_drawn_as_the_model_has_them() -> None:
    evidence = evidence_of(MACHINES[2])
    machines = draw_machines(evidence, 4000, seed=3)
    assert machines == draw_machines(evidence, 4000, seed=3)
    for cause, share in zip(evidence.causes, evidence.common, strict=True):
        drawn = fmean(each.cause == cause.key for each in machines)
        assert abs(drawn - share) < 4 * math.sqrt(share * (1 - share) / len(machines))


def test_what_each_habit_does_first() -> None:
    evidence = evidence_of(TRIMMER)
    case = Case("won't start", "after storage")
    trade, kit = trade_order(evidence, RATES), kit_at_once(evidence, RATES)
    looks: list[str] = []
    while (move := trade(case, NO_DICE)).check:
        looks.append(move.check)
        case = replace(case, findings=(*case.findings, Finding(move.check, "pass")))
    assert looks == ["spark", "compression", "primer", "air-filter"]
    shares = dict(zip((c.key for c in evidence.causes), weights(case, evidence), strict=True))
    assert move.fixes == (max(shares, key=shares.__getitem__),)
    renewed = kit(Case("won't start", "after storage"), NO_DICE).fixes
    assert len(renewed) == KIT
    assert "gummed-carburettor" in renewed
    chance = by_chance(evidence, RATES)
    taken = {chance(Case("bogs"), random.Random(n)) for n in range(60)}
    assert {bool(move.check) for move in taken} == {True, False}
    assert len(taken) > 20


def test_a_ratio_knows_how_sure_it_is() -> None:
    even = ratio_of_means([1.0, 2.0, 3.0], [2.0, 4.0, 6.0])
    assert (even.value, even.error) == pytest.approx((0.5, 0.0))
    # by hand: ratio 6/12, off by 0, -1, 1; 1 / sqrt(3) / 4
    uneven = ratio_of_means([2.0, 1.0, 3.0], [4.0, 4.0, 4.0])
    assert (uneven.value, uneven.error) == pytest.approx((0.5, 1 / math.sqrt(3) / 4))
    assert uneven.low < 0.5 < uneven.high


def test_the_study_prints_and_leaves_its_figures_and_a_chart(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    folder = tmp_path / "made" / "for it"
    found = run(3, [(3, 3)] * 2, seed=1, folder=folder)
    assert capsys.readouterr().out.startswith(table(found[0]))
    written = json.loads((folder / "policy-study.json").read_text(encoding="utf-8"))
    assert [each["machines"] for each in written] == [3] * len(MACHINES)
    words = PdfReader(folder / "policy-study.pdf").pages[0].extract_text()
    for each in found:
        assert each.name in words
        assert f"{each.standing(TRADE).cost.value:.0f}" in words
    with Image.open(folder / "policy-study.png") as picture:
        assert picture.width > picture.height > 900
