from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal
from itertools import groupby, permutations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopdesk.bench.care import Care
from shopdesk.bench.checks import Verdict
from shopdesk.bench.fasteners import Fasteners, parse_all_fasteners
from shopdesk.bench.limits import Limit
from shopdesk.bench.reassembly import (
    INTO_PLASTIC,
    LENGTHS_DIFFER,
    Tick,
    left_over,
    reassembly,
)
from shopdesk.bench.teardown import Setting, TeardownStep, came_off_first

GASKET_M14 = Limit("lbf·ft", "plug maker's table", Decimal("18.0"), Decimal("21.6"))


def order(steps: Sequence[TeardownStep]) -> list[str]:
    return [each.step.key for each in reassembly(steps)]


def line(length: int) -> list[TeardownStep]:
    return [TeardownStep(str(number), f"part {number}") for number in range(1, length + 1)]


def test_the_last_off_is_the_first_on() -> None:
    assert order(line(4)) == ["4", "3", "2", "1"]
    assert reassembly([]) == ()


def test_sub_assemblies_come_back_whole_before_they_join() -> None:
    log = [
        TeardownStep("1", "cover"),
        TeardownStep("2", "engine"),
        TeardownStep("3", "diaphragm cover", "carburettor"),
        TeardownStep("4", "rope", "starter"),
        TeardownStep("5", "diaphragm", "carburettor"),
        TeardownStep("6", "pulley", "starter"),
        TeardownStep("7", "muffler"),
    ]
    assert order(log) == ["7", "6", "4", "5", "3", "2", "1"]


def test_a_forgotten_step_takes_its_place_by_what_it_comes_after() -> None:
    log = [
        TeardownStep("1", "cover"),
        TeardownStep("2", "flywheel", after=("3",)),
        TeardownStep("3", "flywheel nut", after=("1",)),
    ]
    assert order(log) == ["2", "3", "1"]


def test_a_log_of_a_thousand_steps_is_turned_round() -> None:
    assert order(line(1000))[:2] == ["1000", "999"]


@st.composite
def logs(draw: st.DrawFn, most: int) -> list[TeardownStep]:
    """Logs in which a step names earlier ones in a shuffled order, or none, or says nothing."""
    size = draw(st.integers(0, most))
    names = draw(st.permutations([str(number) for number in range(size)]))
    steps = []
    for place, key in enumerate(names):
        after = draw(st.none() | st.sets(st.sampled_from(names[:place] or ["-"]), max_size=3))
        named = None if after is None else tuple(sorted(after - {"-"}))
        lots = st.integers(1, 4).map(lambda count: Fasteners(count, "M5", "20"))
        steps.append(
            TeardownStep(
                key,
                f"part {key}",
                draw(st.sampled_from(["", "", "carburettor", "starter"])),
                named,
                tuple(draw(st.lists(lots, max_size=2))),
            )
        )
    return steps


def is_right(steps: Sequence[TeardownStep], keys: Sequence[str]) -> bool:
    """Say whether nothing goes back before what hangs on it."""
    place = {key: number for number, key in enumerate(keys)}
    firsts = came_off_first(steps)
    return all(place[key] < place[first] for key in keys for first in firsts[key])


@given(logs(12))
def test_it_is_every_step_once_in_a_right_order(steps: list[TeardownStep]) -> None:
    back = order(steps)
    assert sorted(back) == sorted(step.key for step in steps)
    assert is_right(steps, back)
    assert back == order(steps)


@given(logs(6))
def test_it_is_one_of_the_right_orders_found_by_trying_all(steps: list[TeardownStep]) -> None:
    keys = [step.key for step in steps]
    right = {tried for tried in permutations(keys) if is_right(steps, tried)}
    assert tuple(order(steps)) in right


@given(logs(12))
def test_fasteners_off_are_fasteners_on(steps: list[TeardownStep]) -> None:
    off = sum(each.count for step in steps for each in step.fasteners)
    back = sum(each.count for step in reassembly(steps) for each in step.step.fasteners)
    assert off == back
    counted = {step.key: tuple(each.count for each in step.fasteners) for step in steps}
    assert left_over(steps, {key: Tick(True, back) for key, back in counted.items()}) == ()


@given(st.lists(st.sampled_from(["", "carburettor", "starter", "clutch"]), max_size=12))
def test_without_a_word_on_order_each_sub_assembly_is_one_run(groups: list[str]) -> None:
    steps = [TeardownStep(str(n), f"part {n}", group) for n, group in enumerate(groups)]
    back = [each.step.sub_assembly for each in reassembly(steps)]
    runs = [group for group, _ in groupby(back) if group]
    assert len(runs) == len(set(runs))


def test_the_words_are_turned_round() -> None:
    step = TeardownStep(
        "1",
        "muffler",
        fasteners=parse_all_fasteners("2 M5 x 20 T27 in cup 3"),
        mark="arrow towards the exhaust",
        routing="lead behind the post",
    )
    (back,) = reassembly([step])
    assert back.words == (
        "Fit: muffler, 2 × M5 x 20 T27 from cup 3, mark: arrow towards the exhaust, "
        "routing: lead behind the post"
    )
    assert back.care == ()


def test_what_is_to_be_set_stands_with_its_limit() -> None:
    plug = TeardownStep("1", "spark plug", setting=Setting("plug torque", GASKET_M14))
    bare = TeardownStep("2", "coil", setting=Setting("air gap"))
    gap, torque = reassembly([plug, bare])
    assert torque.words == "Fit: spark plug, set and enter: plug torque (18.0 to 21.6 lbf·ft)"
    assert gap.words == "Fit: coil, set and enter: air gap"


def test_care_comes_from_the_fasteners_and_the_parts_name() -> None:
    starter = Care("starter", ("starter",), "common practice", ("recoil-spring",), "Pull it.")
    step = TeardownStep(
        "1",
        "Starter cover",
        fasteners=parse_all_fasteners("2 4 x 16 into plastic\n2 4 x 25 into plastic"),
        cautions=("sharp-edges",),
    )
    (back,) = reassembly([step], [starter])
    assert back.care == (INTO_PLASTIC, LENGTHS_DIFFER, "Pull it.")
    assert back.cautions == ("sharp-edges", "recoil-spring")


SCREWED = TeardownStep(
    "3", "muffler", fasteners=parse_all_fasteners("2 M5 x 20 in cup 3\n1 M6 nut")
)
PLUG = TeardownStep("4", "spark plug", setting=Setting("plug torque", GASKET_M14))


@pytest.mark.parametrize(
    ("step", "tick", "words"),
    [
        (SCREWED, None, "step 3, muffler: not ticked as back"),
        (SCREWED, Tick(), "step 3, muffler: not ticked as back"),
        (SCREWED, Tick(True, (2, 1)), ""),
        (SCREWED, Tick(True, (1, 1)), "step 3, muffler: 1 of 2 M5 x 20 (in cup 3) not put back"),
        (
            SCREWED,
            Tick(True),
            "step 3, muffler: 2 of 2 M5 x 20 (in cup 3) not put back "
            "and 1 of 1 M6 nut not put back",
        ),
        (SCREWED, Tick(True, (2, 2)), "step 3, muffler: 2 M6 nut put back where 1 came off"),
        (PLUG, Tick(True), "step 4, spark plug: plug torque not entered"),
        (PLUG, Tick(True, (), Verdict.FAIL), "step 4, spark plug: plug torque failed"),
        (PLUG, Tick(True, (), Verdict.MARGINAL), ""),
        (PLUG, Tick(True, (), Verdict.PASS), ""),
        (PLUG, Tick(True, (), Verdict.NOTED), ""),
    ],
)
def test_what_is_left_over_is_said(step: TeardownStep, tick: Tick | None, words: str) -> None:
    over = left_over([step], {} if tick is None else {step.key: tick})
    assert "".join(each.words for each in over) == words


def test_what_is_explained_stays_in_sight_with_its_reason() -> None:
    tick = Tick(True, (1, 1), explained="stripped; M5 x 25 put in")
    (over,) = left_over([SCREWED], {"3": tick})
    assert over.explained == "stripped; M5 x 25 put in"
