from __future__ import annotations

from decimal import Decimal
from itertools import pairwise

import pytest

from shopdesk.bench.cause_book import SOMETHING_ELSE, CauseBook
from shopdesk.bench.causes import Case, Finding, weigh
from shopdesk.bench.checks import Catalogue, System
from shopdesk.bench.complaints import Complaints
from shopdesk.bench.evidence import Evidence, evidence_for
from shopdesk.bench.machines import Engine, Kind, Machine
from shopdesk.bench.next_step import NextSteps, Rates, Step, StepKind, next_steps

RATES = Rates(Decimal(75))


@pytest.fixture
def evidence(book: CauseBook, catalogue: Catalogue, trimmer: Machine) -> Evidence:
    return evidence_for(trimmer, book, catalogue)


def step(found: NextSteps, key: str) -> Step:
    return next(each for each in found.steps if each.key == key)


def keys(found: NextSteps) -> list[str]:
    return [each.key for each in found.steps]


@pytest.mark.parametrize("complaint", ["won't start", "bogs", "no power", "won't restart hot"])
def test_with_no_findings_the_four_first_looks_come_in_the_trades_order(
    evidence: Evidence, complaint: str
) -> None:
    first = next_steps(Case(complaint), evidence, RATES).steps[:4]
    assert [evidence.fitting[each.key].system for each in first] == [
        System.SPARK,
        System.COMPRESSION,
        System.FUEL,
        System.AIR,
    ]
    assert "one of the first looks" in first[0].why


def test_other_complaints_have_first_looks_of_their_own_the_most_worthwhile_first(
    book: CauseBook, catalogue: Catalogue
) -> None:
    mower = Machine("lawn mower", Engine.FOUR_STROKE)
    looks = next_steps(Case("vibrates"), evidence_for(mower, book, catalogue), RATES).steps[:4]
    assert {each.key for each in looks} == {"blade-balance", "mounts", "blade-height", "belt"}
    assert all("one of the first looks" in each.why for each in looks)
    expected = [each.expected for each in looks]
    assert expected == sorted(expected)


@pytest.mark.parametrize("complaint", ["won't start", "no power", "leaks fuel", "vibrates"])
def test_after_a_finding_the_cheapest_way_to_a_cure_comes_first(
    evidence: Evidence, complaint: str
) -> None:
    found = next_steps(Case(complaint, findings=(Finding("spark", "s"),)), evidence, RATES).steps
    for kind in StepKind:
        expected = [each.expected for each in found if each.kind is kind]
        assert expected == sorted(expected)
    minute = RATES.bench_hour / 60
    for first, second in pairwise(found):
        if (first.kind, second.kind) == (StepKind.CHECK, StepKind.FIX):
            assert second.expected - first.expected >= minute
        elif (first.kind, second.kind) == (StepKind.FIX, StepKind.CHECK):
            assert first.expected - second.expected <= minute


def test_a_check_that_saves_next_to_nothing_gives_way_to_the_fix(
    book: CauseBook, catalogue: Catalogue
) -> None:
    evidence = evidence_for(Machine("snow thrower", Engine.FOUR_STROKE), book, catalogue)
    looked = (Finding("belt", "g"), Finding("mounts", "g"))
    found = next_steps(Case("other", findings=looked), evidence, RATES).steps
    fix = next(place for place, each in enumerate(found) if each.kind is StepKind.FIX)
    assert found[fix].key == "auger-bolt"
    assert "tells little" not in "".join(each.why for each in found[:fix])


def test_no_spark_leads_to_the_stop_wire(evidence: Evidence) -> None:
    case = Case("won't start", "at once", (Finding("spark", "n"),))
    first = next_steps(case, evidence, RATES).steps[0]
    assert first.key == "stop-wire-off"
    assert first.why == (
        "6 minutes: if “spark comes back”, stop switch or its wire earths the coil "
        "is 2.2 times likelier."
    )


def test_when_the_cause_is_plain_the_fix_comes_first(evidence: Evidence) -> None:
    case = Case("won't start", "at once", (Finding("spark", "n"), Finding("stop-wire-off", "s")))
    first = next_steps(case, evidence, RATES).steps[0]
    assert (first.kind, first.key) == (StepKind.FIX, "stop-wire")
    assert first.title == "Mend the wire or renew the switch"


def test_checks_and_fixes_stand_in_one_list(evidence: Evidence) -> None:
    kinds = {each.kind for each in next_steps(Case("bogs"), evidence, RATES).steps}
    assert kinds == {StepKind.CHECK, StepKind.FIX}


def test_the_cost_of_a_check_is_its_minutes(evidence: Evidence) -> None:
    found = next_steps(Case("bogs"), evidence, Rates(Decimal(60)))
    assert step(found, "compression").cost == Decimal("4.00")


def test_the_cost_of_a_fix_counts_proof_parts_and_a_wrong_guess(evidence: Evidence) -> None:
    rates = Rates(Decimal(60), wrong_guess=Decimal(10), proof_minutes=Decimal(3))
    plug = step(next_steps(Case("bogs"), evidence, rates), "bad-plug")
    assert plug.cost == Decimal(4 + 3 + 8 + 10)


def test_a_dearer_hour_favours_the_quick_checks(evidence: Evidence) -> None:
    case = Case("no power", "crept in", (Finding("air-filter", "c"),))

    def first_minutes(hour: int) -> Decimal:
        rates = Rates(Decimal(hour), wrong_guess=Decimal(0))
        return next_steps(case, evidence, rates).steps[0].minutes

    assert first_minutes(400) <= first_minutes(20)


def test_a_check_once_made_is_not_asked_for_again(evidence: Evidence) -> None:
    case = Case("won't start", findings=(Finding("spark", "s"), Finding("full-speed", "")))
    found = keys(next_steps(case, evidence, RATES))
    assert "spark" not in found
    assert "full-speed" not in found


def test_a_machine_that_does_not_run_is_not_asked_to(evidence: Evidence) -> None:
    dead = keys(next_steps(Case("won't start"), evidence, RATES))
    running = keys(next_steps(Case("bogs"), evidence, RATES))
    assert "mixture-run" not in dead
    assert "mixture-run" in running
    assert "plug-wet" in dead
    assert "plug-wet" not in running


def test_some_checks_wait_for_another(evidence: Evidence) -> None:
    before = keys(next_steps(Case("no power"), evidence, RATES))
    low = Case("no power", findings=(Finding("compression", "low"),))
    assert "compression-wet" not in before
    assert "compression-wet" in keys(next_steps(low, evidence, RATES))


def test_a_check_for_safety_is_never_hidden(book: CauseBook, catalogue: Catalogue) -> None:
    for kind in Kind:
        for engine in Engine:
            machine = Machine(kind, engine)
            evidence = evidence_for(machine, book, catalogue)
            wanted = {c.key for c in catalogue.checks_for(machine) if c.safety}
            found = next_steps(Case("won't start", "at once"), evidence, RATES)
            assert {check.key for check in found.safety} == wanted


def test_a_check_for_safety_goes_only_when_it_was_made(evidence: Evidence) -> None:
    case = Case("won't start", findings=(Finding("guard", "g"),))
    safety = {check.key for check in next_steps(case, evidence, RATES).safety}
    assert "guard" not in safety
    assert "stop-switch" in safety


def test_an_overruled_cause_is_not_fixed(evidence: Evidence) -> None:
    case = Case("won't start", ruled_out=frozenset({"stale-fuel", SOMETHING_ELSE}))
    found = keys(next_steps(case, evidence, RATES))
    assert "stale-fuel" not in found
    assert SOMETHING_ELSE in found


def test_a_check_that_moves_nothing_says_so(evidence: Evidence) -> None:
    case = Case("won't start", "at once", (Finding("spark", "n"),))
    assert step(next_steps(case, evidence, RATES), "throttle").why == (
        "3 minutes, but it tells little now."
    )


def test_a_check_says_what_it_splits_and_what_it_would_bring_out(evidence: Evidence) -> None:
    case = Case("won't start", "after storage", (Finding("spark", "s"),))
    why = step(next_steps(case, evidence, RATES), "primer").why
    assert why == (
        "1 minute, splits fuel from spark: if “stays dry”, split primer bulb is 3.4 times likelier."
    )


def test_a_fix_says_how_often_it_is_the_cause(evidence: Evidence) -> None:
    case = Case("won't start", "at once", (Finding("spark", "n"),))
    found = next_steps(case, evidence, RATES)
    share = weigh(case, evidence).probability("stop-wire")
    assert step(found, "stop-wire").why == (
        f"15 minutes: stop switch or its wire earths the coil is the cause {share * 100:.0f} "
        "times in 100."
    )
    assert step(found, "worn-rings").why.endswith("is the cause less than once in 100.")
    assert step(found, SOMETHING_ELSE).why == (
        "120 minutes: when no single fix is worth trying any more."
    )


def test_every_step_has_a_sentence(
    book: CauseBook, catalogue: Catalogue, complaints: Complaints
) -> None:
    for engine in Engine:
        machine = Machine("chain saw", engine)
        evidence = evidence_for(machine, book, catalogue)
        for complaint in complaints.by_key:
            for each in next_steps(Case(complaint), evidence, RATES).steps:
                assert each.why.endswith("."), each
                assert "nan" not in each.why
                assert each.expected > 0
