from __future__ import annotations

from decimal import Decimal

import pytest

from shopdesk.bench.judging import judge
from shopdesk.bench.limits import Limit
from shopdesk.bench.machines import Machine, Place
from shopdesk.bench.teardown import TeardownError, TeardownStep, came_off_first, own_check
from shopdesk.bench.units import Quantity


def test_a_step_follows_the_one_before_it_in_its_sub_assembly() -> None:
    log = [
        TeardownStep("1", "cover"),
        TeardownStep("2", "carburettor"),
        TeardownStep("3", "diaphragm cover", "carburettor"),
        TeardownStep("4", "starter housing", "starter"),
        TeardownStep("5", "diaphragm", "Carburettor"),
        TeardownStep("6", "muffler"),
    ]
    assert came_off_first(log) == {
        "1": (),
        "2": ("1",),
        "3": ("2",),
        "4": ("2",),
        "5": ("3",),
        "6": ("2",),
    }


def test_a_step_may_say_what_it_comes_after() -> None:
    log = [
        TeardownStep("1", "bar"),
        TeardownStep("2", "cover", after=()),
        TeardownStep("3", "clutch", after=("1", "2")),
    ]
    assert came_off_first(log) == {"1": (), "2": (), "3": ("1", "2")}


def test_a_sub_assembly_that_nothing_was_taken_off_for_hangs_on_nothing() -> None:
    assert came_off_first([TeardownStep("1", "cap", "tank"), TeardownStep("2", "cover")]) == {
        "1": (),
        "2": (),
    }


@pytest.mark.parametrize(
    ("log", "words"),
    [
        ([TeardownStep("1", "a"), TeardownStep("1", "b")], "Step 1 is there twice"),
        ([TeardownStep("1", "a", after=("7",))], "step 7, which is not in the log"),
        ([TeardownStep("1", "a", after=("1",))], "step 1 after 1"),
        (
            [TeardownStep("1", "a", after=("2",)), TeardownStep("2", "b", after=("1",))],
            "wait for each other",
        ),
        (
            [
                TeardownStep("1", "a", after=("3",)),
                TeardownStep("2", "b"),
                TeardownStep("3", "c"),
            ],
            "wait for each other",
        ),
    ],
)
def test_a_log_without_an_order_is_refused(log: list[TeardownStep], words: str) -> None:
    with pytest.raises(TeardownError, match=words) as caught:
        came_off_first(log)
    assert str(caught.value).endswith(".")


def test_a_setting_of_the_shops_own_is_judged_like_a_check(
    trimmer: Machine, sea_level: Place
) -> None:
    check = own_check("clutch nut", Quantity.TORQUE, "N·m")
    limit = Limit("N·m", "the maker's manual", Decimal(18), Decimal(22))
    judged = judge(check, "15 lbf ft", trimmer, sea_level, {check.key: limit})
    assert judged.verdict == "pass"
    assert "13 to 16 lbf·ft" in judged.limit
    assert judge(check, "30", trimmer, sea_level, {check.key: limit}).verdict == "fail"
    assert judge(check, "30", trimmer, sea_level).verdict == "noted"
