"""Labour time and selling price against what is published or common in trade.

29 CFR 785.48(b), a payroll rule used by analogy: time may be kept to the nearest tenth of an hour
if that evens out over time. Billing labour in tenths, and rounding up: common practice, no
published source. Margin and markup by their definitions: margin is the share of the price kept,
markup the share of the cost added.
"""

from decimal import Decimal

import pytest

from shopdesk.pricing.labour import TenthRule, billed_hours, tenths
from shopdesk.pricing.part_price import price_from_margin, price_from_markup


@pytest.mark.parametrize(
    ("minutes", "rule", "hours"),
    [
        (6, TenthRule.NEAREST, "0.1"),
        (6, TenthRule.UP, "0.1"),
        (27, TenthRule.NEAREST, "0.5"),
        (27, TenthRule.UP, "0.5"),
        (7, TenthRule.NEAREST, "0.1"),
        (7, TenthRule.UP, "0.2"),
    ],
)
def test_a_tenth_of_an_hour_is_six_minutes(minutes: int, rule: TenthRule, hours: str) -> None:
    assert tenths(Decimal(minutes), rule) == Decimal(hours)


def test_over_time_nearest_adds_half_a_minute_to_a_job_and_up_two_and_a_half() -> None:
    worked = [Decimal(minutes) for minutes in range(1, 601)]
    billed = {rule: sum(tenths(minutes, rule) * 60 for minutes in worked) for rule in TenthRule}
    off = {rule: (billed[rule] - sum(worked)) / len(worked) for rule in TenthRule}
    assert off == {TenthRule.NEAREST: Decimal("0.5"), TenthRule.UP: Decimal("2.5")}


@pytest.mark.parametrize("tenth", range(11))
def test_a_chart_of_tenths_on_the_wall_gives_the_same(tenth: int) -> None:
    """Nearest: 3 to 8 minutes are .1, 9 to 14 are .2 …; up: 1 to 6 are .1, 7 to 12 are .2 ….

    Such charts hang beside time clocks: common practice, no published source, from memory.
    """
    hours = Decimal(tenth) / 10
    nearest = range(max(0, 6 * tenth - 3), 6 * tenth + 3)
    up = range(6 * tenth - 5, 6 * tenth + 1) if tenth else range(1)
    assert {tenths(Decimal(minutes), TenthRule.NEAREST) for minutes in nearest} == {hours}
    assert {tenths(Decimal(minutes), TenthRule.UP) for minutes in up} == {hours}


def test_a_day_cut_into_spells_is_billed_as_the_day() -> None:
    """29 CFR 785.48(b) by analogy: rounding must even out; rounding each spell up never does."""
    spells = [7 * 60] * 60
    assert billed_hours(spells, TenthRule.UP) == Decimal("7.0")
    assert sum(billed_hours([one], TenthRule.UP) for one in spells) == Decimal("12.0")


def test_margin_is_of_the_price_and_markup_of_the_cost() -> None:
    cost, forty = Decimal("40.00"), Decimal(40)
    assert price_from_margin(cost, forty) == Decimal("66.67")
    assert price_from_markup(cost, forty) == Decimal("56.00")
