"""The weighing of causes against a textbook example and a reference library."""

from __future__ import annotations

import itertools
import math
import tomllib
from fractions import Fraction
from pathlib import Path

import pytest

from shopdesk.bench.causes import posterior

# Witten and Frank, "Data Mining": the weather data, counts by play = yes (9 days) and no (5 days);
# the new day is sunny, cool, of high humidity, and windy.
YES, NO = 9, 5
COUNTS = {"sunny": (2, 3), "cool": (3, 1), "high": (3, 4), "windy": (3, 3)}


def test_the_weather_data() -> None:
    likelihoods = [(yes / YES, no / NO) for yes, no in COUNTS.values()]
    play, stay = posterior((YES / 14, NO / 14), likelihoods)
    assert play == pytest.approx(0.204583, abs=5e-7)
    assert stay == pytest.approx(0.795417, abs=5e-7)


# Answers of pgmpy 1.1.2 (variable elimination) on random models; the file holds both, because the
# library with all that it needs takes half a gigabyte.
MODELS = tomllib.loads(
    (Path(__file__).parent / "naive_bayes_models.toml").read_text(encoding="utf-8")
)["model"]


@pytest.mark.parametrize("model", MODELS)
def test_random_models_agree_with_pgmpy(model: dict[str, list[float]]) -> None:
    found = [
        [row[outcome] for row in check]  # type: ignore[attr-defined]
        for check, outcome in zip(model["checks"], model["found"], strict=True)
    ]
    got = posterior(model["prior"], found)
    # pgmpy keeps about eight digits through its tables
    assert got == pytest.approx(model["posterior"], abs=1e-7)


def test_a_full_joint_table_gives_the_same() -> None:
    """Enumerate every world of a small model exactly, in fractions, and count."""
    prior = (Fraction(1, 2), Fraction(3, 10), Fraction(1, 5))
    checks = (
        (
            (Fraction(9, 10), Fraction(1, 10)),
            (Fraction(1, 4), Fraction(3, 4)),
            (Fraction(1, 2),) * 2,
        ),
        (
            (Fraction(1, 3),) * 3,
            (Fraction(1, 6), Fraction(1, 6), Fraction(2, 3)),
            (Fraction(1, 3),) * 3,
        ),
    )
    for seen in itertools.product(range(2), range(3)):
        joint = [
            p
            * math.prod(check[cause][outcome] for check, outcome in zip(checks, seen, strict=True))
            for cause, p in enumerate(prior)
        ]
        exact = [float(weight / sum(joint)) for weight in joint]
        columns = [
            [float(row[outcome]) for row in check]
            for check, outcome in zip(checks, seen, strict=True)
        ]
        assert posterior([float(p) for p in prior], columns) == pytest.approx(exact)
