"""How far a bill may go over what was approved."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopdesk.pricing.allowance import PRESETS, Combine, ExcessRule, most_allowed
from shopdesk.pricing.money import MoneyError

AMOUNTS = st.integers(0, 1_000_000).map(lambda cents: Decimal(cents) / 100)
MAYBE = st.none() | AMOUNTS
RULES = st.builds(ExcessRule, MAYBE, MAYBE, st.sampled_from(Combine), MAYBE)


def test_the_presets_are_named_by_what_they_say() -> None:
    assert list(PRESETS) == [
        "nothing over",
        "10 percent",
        "the greater of $10 and 10 percent, at most $50",
        "the lesser of $25 and 10 percent",
    ]


def test_a_rule_is_said_in_the_shops_currency() -> None:
    assert ExcessRule(fixed=Decimal("7.5")).words("€") == "€7.50"
    assert ExcessRule(percent=Decimal("7.5"), cap=Decimal(5)).words("CHF") == (
        "7.5 percent, at most CHF\u00a05"
    )


@pytest.mark.parametrize(
    ("rule", "most"),
    [
        (ExcessRule(), "200.00"),
        (ExcessRule(cap=Decimal(5)), "200.00"),
        (ExcessRule(fixed=Decimal(15)), "215.00"),
        (ExcessRule(percent=Decimal("7.5")), "215.00"),
        (ExcessRule(Decimal(10), Decimal(15), Combine.GREATER), "220.00"),
        (ExcessRule(Decimal(10), Decimal(15), Combine.LESS), "215.00"),
        (ExcessRule(Decimal(10), Decimal(15), Combine.GREATER, Decimal(18)), "218.00"),
        (ExcessRule(Decimal(10), Decimal(0), Combine.LESS), "200.00"),
    ],
)
def test_each_part_of_a_rule_counts(rule: ExcessRule, most: str) -> None:
    assert str(most_allowed(Decimal(200), rule)) == most


def test_part_of_a_cent_never_lets_the_bill_pass_the_limit() -> None:
    assert most_allowed(Decimal("33.36"), ExcessRule(percent=Decimal(10))) == Decimal("36.69")


@given(AMOUNTS, RULES)
def test_the_limit_is_never_below_what_was_approved_nor_over_the_cap(
    approved: Decimal, rule: ExcessRule
) -> None:
    most = most_allowed(approved, rule)
    assert most >= approved
    assert rule.cap is None or most <= approved + rule.cap


@given(RULES)
def test_a_rule_is_kept_in_the_settings_and_read_back(rule: ExcessRule) -> None:
    plain = rule.as_plain()
    assert ExcessRule.from_plain(plain) == rule
    assert all(isinstance(value, str) for value in plain.values())


@pytest.mark.parametrize(
    ("plain", "sentence"),
    [
        ({"percent": "ten"}, "“ten” in the rule is not a number: set the rule again."),
        ({"combine": "both"}, "“both” in the rule is not greater or less: set it again."),
        ({"cap": "-1"}, "-1 is below zero: an allowance is zero or more."),
        ({"fixed": "NaN"}, "NaN is not an amount: type a number, for example 184.20."),
    ],
)
def test_a_damaged_setting_gets_a_sentence(plain: dict[str, str], sentence: str) -> None:
    with pytest.raises(MoneyError) as refused:
        ExcessRule.from_plain(plain)
    assert str(refused.value) == sentence


def test_an_approval_below_zero_and_a_float_are_refused() -> None:
    with pytest.raises(MoneyError, match="type what the owner approved"):
        most_allowed(Decimal(-1), ExcessRule())
    with pytest.raises(TypeError):
        most_allowed(100.0, ExcessRule())  # type: ignore[arg-type]
    with pytest.raises(TypeError):
        ExcessRule(percent=10.0)  # type: ignore[arg-type]
