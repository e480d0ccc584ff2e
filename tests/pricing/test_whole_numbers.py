"""Whole numbers that make a sum least: exact, the same each time, and silent."""

from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shopdesk.pricing.whole_numbers import RowRule, least


def test_whole_numbers_not_rounded_fractions() -> None:
    assert least({0: 2, 1: 3}, [9, 9], [({0: 2, 1: 3}, 7)]) == [2, 1]


def test_no_number_keeps_to_the_rules() -> None:
    with pytest.raises(ArithmeticError, match="no whole numbers were found"):
        least({0: 1}, [3], [({0: 1}, 4)])


def test_nothing_is_printed(capfd: pytest.CaptureFixture[str]) -> None:
    least({0: 1}, [3], [({0: 1}, 2)])
    assert capfd.readouterr() == ("", "")


FACTORS = st.integers(-9, 9)
RULES = st.lists(
    st.tuples(st.dictionaries(st.integers(0, 2), FACTORS.filter(bool), min_size=1), FACTORS),
    max_size=3,
)


@settings(max_examples=80, deadline=None)
@given(st.tuples(FACTORS, FACTORS, FACTORS), RULES)
def test_against_all_there_are(goal: tuple[int, int, int], rules: list[RowRule]) -> None:
    def worth(values: tuple[int, ...]) -> int:
        return sum(factor * value for factor, value in zip(goal, values, strict=True))

    kept = [
        values
        for values in product(range(4), repeat=3)
        if all(sum(values[at] * by for at, by in terms.items()) >= low for terms, low in rules)
    ]
    if kept:
        assert worth(tuple(least(dict(enumerate(goal)), [3, 3, 3], rules))) == min(map(worth, kept))
    else:
        with pytest.raises(ArithmeticError):
            least(dict(enumerate(goal)), [3, 3, 3], rules)
