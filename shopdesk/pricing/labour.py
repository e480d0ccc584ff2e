"""Bench time billed in tenths of an hour.

Labour in tenths of an hour is common practice, no published source. 29 CFR 785.48(b) accepts
rounding to the nearest tenth for payroll where it evens out over time; always up never does.
"""

from collections.abc import Iterable
from decimal import ROUND_CEILING, ROUND_HALF_UP, Decimal
from enum import StrEnum

from shopdesk.pricing.money import MoneyError, exact

TENTH = Decimal("0.1")
MINUTES_IN_A_TENTH = 6
SECONDS_IN_A_MINUTE = 60


class TenthRule(StrEnum):
    """Which tenth of an hour part of a tenth is billed as."""

    NEAREST = "nearest"
    UP = "up"


def tenths(minutes: Decimal, rule: TenthRule) -> Decimal:
    """Return `minutes` at the bench as hours with one decimal; half a tenth goes up.

    Raises:
        MoneyError: `minutes` is below zero.
    """
    if exact(minutes) < 0:
        raise MoneyError(f"{minutes} minutes is below zero: type the time at the bench again.")
    rounding = {TenthRule.NEAREST: ROUND_HALF_UP, TenthRule.UP: ROUND_CEILING}[TenthRule(rule)]
    return (minutes / MINUTES_IN_A_TENTH).quantize(Decimal(1), rounding) * TENTH


def billed_hours(seconds: Iterable[int], rule: TenthRule) -> Decimal:
    """Return spells at the bench, in seconds, as the hours of one line: rounded once, as a whole.

    Raises:
        MoneyError: they come to less than nothing.
    """
    return tenths(Decimal(sum(seconds)) / SECONDS_IN_A_MINUTE, rule)
