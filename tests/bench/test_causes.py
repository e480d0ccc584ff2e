from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopdesk.bench.cause_book import SOMETHING_ELSE, CauseBook
from shopdesk.bench.causes import Case, Finding, ShopCounts, posterior, prior_shares, weigh
from shopdesk.bench.checks import Catalogue
from shopdesk.bench.evidence import Evidence, evidence_for
from shopdesk.bench.judging import judge
from shopdesk.bench.machines import Engine, Machine, Place


@pytest.fixture
def evidence(book: CauseBook, catalogue: Catalogue, trimmer: Machine) -> Evidence:
    return evidence_for(trimmer, book, catalogue)


def likeliest(case: Case, evidence: Evidence) -> str:
    return weigh(case, evidence).shares[0].cause.key


def test_probabilities_sum_to_one_and_something_else_is_among_them(evidence: Evidence) -> None:
    weighed = weigh(Case("won't start"), evidence)
    assert sum(share.probability for share in weighed.shares) == pytest.approx(1)
    assert weighed.probability(SOMETHING_ELSE) > 0


@pytest.mark.parametrize(
    ("case", "cause"),
    [
        (Case("won't start", "after storage"), "stale-fuel"),
        (Case("won't start", "at once", (Finding("spark", "n"),)), "dead-coil"),
        (Case("no power", "crept in", (Finding("arrester", "b"),)), "arrester"),
        (Case("no power", "at once", (Finding("compression", "low"),)), "scored-piston"),
        (Case("won't restart hot", "at once", (Finding("spark-hot", "n"),)), "hot-coil"),
        (Case("cutting gear moves at idle", "at once", (Finding("clutch", "s"),)), "clutch-spring"),
        (Case("leaks fuel", "not known", (Finding("fuel-leak", "l"),)), "cracked-fuel-line"),
        (Case("starts then dies", "at once", (Finding("tank-vent", "b"),)), "tank-vent"),
        (Case("stop switch", "at once"), "stop-open"),
        (Case("upkeep"), "upkeep-due"),
    ],
)
def test_what_a_mechanic_would_say(evidence: Evidence, case: Case, cause: str) -> None:
    assert likeliest(case, evidence) == cause


@pytest.mark.parametrize(
    ("machine", "case", "cause"),
    [
        (("lawn mower", Engine.FOUR_STROKE), Case("vibrates", "at once"), "bad-blade"),
        (
            ("lawn mower", Engine.FOUR_STROKE),
            Case("won't start", "at once", (Finding("flywheel-key", "p"),)),
            "sheared-key",
        ),
        (
            ("generator", Engine.FOUR_STROKE),
            Case("won't start", "at once", (Finding("oil-level", "l"), Finding("spark", "n"))),
            "oil-guard",
        ),
        (("leaf blower", Engine.CORDLESS), Case("no power", "crept in"), "worn-pack"),
        (("chain saw", Engine.CORDLESS), Case("no power", "crept in"), "dull-chain"),
        (
            ("hedge trimmer", Engine.CORDED),
            Case("no sign of life", "at once", (Finding("supply", "g"),)),
            "broken-cord",
        ),
        (
            ("pressure washer", Engine.FOUR_STROKE),
            Case("no power", "crept in", (Finding("washer-unloader", "n"),)),
            "washer-nozzle",
        ),
    ],
)
def test_other_machines_too(
    book: CauseBook, catalogue: Catalogue, machine: tuple[str, Engine], case: Case, cause: str
) -> None:
    found = evidence_for(Machine(*machine), book, catalogue)
    assert likeliest(case, found) == cause


def test_a_sudden_stop_is_hardly_ever_the_air_filter(evidence: Evidence) -> None:
    sudden = weigh(Case("no power", "at once"), evidence).probability("air-filter")
    slow = weigh(Case("no power", "crept in"), evidence).probability("air-filter")
    assert sudden < 0.02
    assert slow > 5 * sudden


def test_a_pass_makes_its_causes_unlikely(evidence: Evidence) -> None:
    before = weigh(Case("won't start"), evidence).probability("dead-coil")
    after = weigh(Case("won't start", findings=(Finding("spark", "s"),)), evidence)
    assert after.probability("dead-coil") < before / 3


def test_the_order_of_findings_does_not_matter(evidence: Evidence) -> None:
    found = (Finding("spark", "s"), Finding("primer", "d"), Finding("compression", "pass"))
    one = weigh(Case("won't start", findings=found), evidence)
    two = weigh(Case("won't start", findings=found[::-1]), evidence)
    for share in one.shares:
        assert two.probability(share.cause.key) == pytest.approx(share.probability)


def test_of_two_findings_of_one_check_the_later_holds(evidence: Evidence) -> None:
    twice = Case("won't start", findings=(Finding("spark", "n"), Finding("spark", "s")))
    once = Case("won't start", findings=(Finding("spark", "s"),))
    assert weigh(twice, evidence) == weigh(once, evidence)


def test_what_tells_nothing_changes_nothing(evidence: Evidence) -> None:
    plain = weigh(Case("bogs"), evidence)
    noted = (Finding("full-speed", ""), Finding("gone-check", "x"), Finding("spark", "high"))
    assert weigh(Case("bogs", findings=noted), evidence) == plain


def test_a_cause_can_be_overruled(evidence: Evidence) -> None:
    case = Case("won't start", "after storage", ruled_out=frozenset({"stale-fuel"}))
    weighed = weigh(case, evidence)
    assert weighed.probability("stale-fuel") == 0
    assert sum(share.probability for share in weighed.shares) == pytest.approx(1)


def test_something_else_can_never_be_overruled(evidence: Evidence) -> None:
    everything = frozenset(cause.key for cause in evidence.causes)
    weighed = weigh(Case("bogs", ruled_out=everything), evidence)
    assert weighed.probability(SOMETHING_ELSE) == pytest.approx(1)


def test_what_was_mended_lately_on_this_unit_counts_for_less(evidence: Evidence) -> None:
    plain = weigh(Case("won't start"), evidence).probability("cracked-fuel-line")
    renewed = Case("won't start", renewed_lately=frozenset({"cracked-fuel-line"}))
    assert weigh(renewed, evidence).probability("cracked-fuel-line") < plain


def test_one_odd_ticket_does_not_swing_the_odds(evidence: Evidence) -> None:
    plain = weigh(Case("no power"), evidence)
    counts = ShopCounts(model={"crank-seals": 1})
    once = weigh(Case("no power", counts=counts), evidence)
    assert once.shares[0].cause.key == plain.shares[0].cause.key
    assert once.probability("crank-seals") < 0.1


def test_many_tickets_of_the_model_do(evidence: Evidence) -> None:
    counts = ShopCounts(model={"hard-diaphragms": 30})
    many = weigh(Case("bogs", counts=counts), evidence)
    assert many.shares[0].cause.key == "hard-diaphragms"
    assert many.probability("hard-diaphragms") > 0.5


def test_tickets_of_the_model_weigh_more_than_those_of_the_kind(evidence: Evidence) -> None:
    same = {"primer-bulb": 8}
    of_model = weigh(Case("won't start", counts=ShopCounts(model=same)), evidence)
    of_kind = weigh(Case("won't start", counts=ShopCounts(rest_of_kind=same)), evidence)
    assert of_model.probability("primer-bulb") > of_kind.probability("primer-bulb")


def test_dirichlet_mean() -> None:
    assert prior_shares((0.5, 0.3, 0.2), (0, 0, 0), 20) == pytest.approx((0.5, 0.3, 0.2))
    assert prior_shares((0.5, 0.5), (10, 0), 10) == pytest.approx((0.75, 0.25))


@given(
    st.lists(st.integers(min_value=0, max_value=500), min_size=3, max_size=3),
    st.floats(min_value=0.5, max_value=100),
)
def test_counts_keep_the_shares_a_distribution(counts: list[int], tickets: float) -> None:
    shares = prior_shares((0.5, 0.3, 0.2), counts, tickets)
    assert sum(shares) == pytest.approx(1)
    assert min(shares) > 0


def test_a_posterior_with_nothing_left_is_refused() -> None:
    with pytest.raises(ZeroDivisionError):
        posterior((1.0, 0.0), [(0.0, 1.0)])


@pytest.mark.parametrize(
    "found",
    [
        (("spark", "n"), ("good-fuel", "r")),
        (("spark", "n"), ("new-plug", "r")),
        (("fuel-look", "w"), ("spark", "n")),
        (("spark", "n"), ("stop-wire-off", "s"), ("fuel-lines", "h")),
    ],
)
def test_findings_that_contradict_each_other_are_named(
    evidence: Evidence, found: tuple[tuple[str, str], ...]
) -> None:
    case = Case("won't start", findings=tuple(Finding(*each) for each in found))
    assert weigh(case, evidence).odd_finding in {key for key, _ in found}


@pytest.mark.parametrize(
    "found",
    [
        (),
        (("spark", "n"),),
        (("spark", "s"), ("compression", "pass"), ("primer", "d")),
        (("primer", "d"), ("fuel-lines", "h"), ("plug-wet", "d"), ("prime-shot", "f")),
    ],
)
def test_findings_that_go_together_raise_no_alarm(
    evidence: Evidence, found: tuple[tuple[str, str], ...]
) -> None:
    case = Case("won't start", findings=tuple(Finding(*each) for each in found))
    assert weigh(case, evidence).odd_finding == ""


def test_a_judged_reading_goes_straight_into_the_case(
    catalogue: Catalogue, evidence: Evidence, trimmer: Machine
) -> None:
    judged = judge(catalogue.check("compression"), "70", trimmer, Place())
    case = Case("no power", findings=(Finding(judged.check_key, judged.outcome),))
    assert likeliest(case, evidence) == "scored-piston"


def test_a_models_own_limit_decides_which_sides_a_reading_can_fail_on(
    book: CauseBook, catalogue: Catalogue, trimmer: Machine
) -> None:
    plain = evidence_for(trimmer, book, catalogue)
    assert "full-speed" not in plain.checks
    limit = catalogue.check("idle-speed").limit_for(trimmer)
    assert limit is not None
    ours = {"full-speed": limit}
    known = evidence_for(trimmer, book, catalogue, ours)
    assert set(known.checks["full-speed"]) == {"pass", "marginal", "low", "high"}


def test_a_fault_that_the_likely_causes_would_not_show_is_named(evidence: Evidence) -> None:
    split = (Finding("fuel-lines", "h"), Finding("primer", "b"))
    plain = weigh(Case("won't start", "after storage", split), evidence)
    assert plain.shares[0].cause.key == "cracked-fuel-line"
    assert plain.unexplained == ()
    low = (*split, Finding("compression", "low"), Finding("fuel-age", "high"))
    both = weigh(Case("won't start", "after storage", low), evidence)
    assert both.shares[0].cause.key == "cracked-fuel-line"
    assert both.unexplained == ("compression",)


def test_a_fault_may_lie_beside_the_complaint(evidence: Evidence) -> None:
    choked = (Finding("arrester", "b"),)
    assert weigh(Case("no power", "crept in", choked), evidence).unexplained == ()
    assert weigh(Case("won't start", "at once", choked), evidence).unexplained == ("arrester",)
    clear = (Finding("arrester", "c"), Finding("compression", "marginal"))
    assert weigh(Case("won't start", "at once", clear), evidence).unexplained == ()


def test_a_very_low_compression_is_never_shrugged_off(evidence: Evidence) -> None:
    """Whatever else was found first, it moves the odds to the engine or is named beside them."""
    engine = {"scored-piston", "worn-rings", "seized"}
    for cause in evidence.causes[:-1]:
        shown = _plainest_fault(cause.key, evidence)
        if shown is None or cause.key in engine:
            continue
        for complaint in cause.complaints:
            case = Case(complaint, "not known", (shown, Finding("compression", "low")))
            weighed = weigh(case, evidence)
            blamed = sum(weighed.probability(key) for key in engine)
            named = "compression" in (*weighed.unexplained, weighed.odd_finding)
            assert blamed > 0.15 or named, (complaint, cause.key, weighed.shares[:3])


def _plainest_fault(key: str, evidence: Evidence) -> Finding | None:
    """Return the fault that a cause shows most often, where it shows one at all."""
    place = [cause.key for cause in evidence.causes].index(key)
    chances = [
        (evidence.checks[check][outcome.key][place], check, outcome.key)
        for check, possible in evidence.outcomes.items()
        for outcome in possible
        if outcome.is_fault and check != "compression"
    ]
    chance, check, outcome = max(chances)
    return Finding(check, outcome) if chance > 0.4 else None
