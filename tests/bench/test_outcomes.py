from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopdesk.bench.checks import Catalogue
from shopdesk.bench.limits import Limit
from shopdesk.bench.machines import Machine
from shopdesk.bench.outcomes import Outcome, likelihoods, outcomes


def keys(found: tuple[Outcome, ...]) -> list[str]:
    return [outcome.key for outcome in found]


def test_a_one_sided_limit_cannot_fail_on_the_other_side(
    catalogue: Catalogue, trimmer: Machine
) -> None:
    check = catalogue.check("compression")
    assert keys(outcomes(check, check.limit_for(trimmer))) == ["pass", "marginal", "low", "z"]


def test_without_a_band_nothing_is_marginal(catalogue: Catalogue) -> None:
    limit = Limit("s", "test", pass_to=Decimal(3))
    assert keys(outcomes(catalogue.check("blade-stop"), limit)) == ["pass", "high"]


def test_what_is_seen_comes_out_as_what_can_be_seen(catalogue: Catalogue) -> None:
    assert keys(outcomes(catalogue.check("spark"), None)) == ["s", "w", "n"]
    assert "x" not in keys(outcomes(catalogue.check("arrester"), None))


def test_a_reading_without_a_limit_tells_only_that_it_could_be_read(catalogue: Catalogue) -> None:
    assert keys(outcomes(catalogue.check("coil-resistance"), None)) == ["read", "o", "z"]
    assert outcomes(catalogue.check("full-speed"), None) == ()


SPARK = (
    Outcome("s", True, "strong"),
    Outcome("w", False, "weak"),
    Outcome("n", False, "none"),
)
READING = (
    Outcome("pass", True, "passes"),
    Outcome("marginal", False, "is marginal"),
    Outcome("low", False, "is low"),
    Outcome("high", False, "is high"),
)


def test_a_word_is_shared_out_over_the_faults() -> None:
    got = likelihoods(SPARK, 0.6, 0.04, 0.04)
    assert got == pytest.approx({"s": 0.4, "w": 0.3, "n": 0.3})


def test_marginal_leans_to_a_fault_at_most_twofold() -> None:
    bad = likelihoods(READING, 0.999, 0.001, 0.001)
    good = likelihoods(READING, 0.001, 0.001, 0.001)
    assert bad["marginal"] / good["marginal"] == pytest.approx(2, rel=0.01)
    assert bad["low"] == pytest.approx(bad["high"])


def test_what_a_table_leaves_falls_as_usual() -> None:
    got = likelihoods(SPARK, {"n": 0.5}, {"w": 0.2}, 0.01)
    assert got == pytest.approx({"s": 0.4, "w": 0.1, "n": 0.5})


def test_a_table_that_says_too_much_is_scaled_down() -> None:
    got = likelihoods(SPARK, {"n": 0.9, "w": 0.6}, 0.03, 0.03)
    assert sum(got.values()) == pytest.approx(1)
    assert got["n"] / got["w"] == pytest.approx(1.5)


def test_nothing_is_ever_impossible() -> None:
    got = likelihoods(SPARK, {"s": 0.97}, {"w": 0.01}, 0.03)
    assert min(got.values()) > 0.005


shares = st.floats(min_value=0.01, max_value=0.99)


@given(shares, shares, st.dictionaries(st.sampled_from("swn"), shares), st.booleans())
def test_the_outcomes_of_a_check_always_sum_to_one(
    fault: float, usual: float, table: dict[str, float], as_table: bool
) -> None:
    for possible in (SPARK, READING):
        got = likelihoods(possible, table if as_table else fault, usual, 0.03)
        assert sum(got.values()) == pytest.approx(1)
        assert min(got.values()) > 0


def test_a_check_of_its_own_unit_is_unchanged_by_outcomes(
    catalogue: Catalogue, trimmer: Machine
) -> None:
    check = catalogue.check("coil-gap")
    assert outcomes(replace(check, seen=()), check.limit_for(trimmer)) == outcomes(
        check, check.limit_for(trimmer)
    )
