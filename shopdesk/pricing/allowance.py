"""How far a bill may go over what the owner approved before the shop must ask again.

The shop sets its own rule. The presets are named by what they say, not by where such a rule is law:
papers that show one add "check your local law".
"""

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import ROUND_DOWN, Decimal
from enum import StrEnum
from types import MappingProxyType

from shopdesk.pricing.money import CENT, MoneyError, exact, show_money
from shopdesk.pricing.typed_number import show_number


class Combine(StrEnum):
    """Which holds when a rule names both a percentage and a fixed amount."""

    GREATER = "greater"
    LESS = "less"


@dataclass(frozen=True, slots=True)
class ExcessRule:
    """What may be added to an approved amount: a percentage of it, a fixed amount, or both.

    With both, `combine` says which holds. `cap` is the most that may be added in any case. With
    neither, nothing may be added.
    """

    percent: Decimal | None = None
    fixed: Decimal | None = None
    combine: Combine = Combine.LESS
    cap: Decimal | None = None

    def __post_init__(self) -> None:
        """Refuse a rule with a number that is below zero or not exact."""
        for value in (self.percent, self.fixed, self.cap):
            if value is not None and exact(value) < 0:
                raise MoneyError(f"{value} is below zero: an allowance is zero or more.")

    def words(self, symbol: str = "$") -> str:
        """Return the rule as it is said: ``the greater of $10 and 10 percent, at most $50``."""
        parts = [] if self.fixed is None else [_said(self.fixed, symbol)]
        parts += [] if self.percent is None else [f"{show_number(self.percent)} percent"]
        if not parts:
            return "nothing over"
        which = "greater" if self.combine is Combine.GREATER else "lesser"
        rule = parts[0] if len(parts) == 1 else f"the {which} of {' and '.join(parts)}"
        return rule if self.cap is None else f"{rule}, at most {_said(self.cap, symbol)}"

    def as_plain(self) -> dict[str, str]:
        """Return the rule as strings, for the shop's settings; what is unset is left out."""
        numbers = {"percent": self.percent, "fixed": self.fixed, "cap": self.cap}
        plain = {name: f"{value:f}" for name, value in numbers.items() if value is not None}
        return {**plain, "combine": self.combine.value}

    @classmethod
    def from_plain(cls, plain: Mapping[str, str]) -> "ExcessRule":
        """Return the rule that `as_plain` wrote.

        Raises:
            MoneyError: a value is not one that `as_plain` writes.
        """
        return cls(
            percent=_number(plain.get("percent")),
            fixed=_number(plain.get("fixed")),
            combine=_combine(plain.get("combine", Combine.LESS.value)),
            cap=_number(plain.get("cap")),
        )


def most_allowed(approved: Decimal, rule: ExcessRule) -> Decimal:
    """Return the most that may be charged where the owner said yes to `approved`.

    Both count the same things: if `approved` has tax in it, so has the bill held against this.
    Part of a cent is dropped, so that the bill never passes the limit by rounding.

    Raises:
        MoneyError: `approved` is below zero.
    """
    if exact(approved) < 0:
        raise MoneyError(f"{approved} is below zero: type what the owner approved.")
    return (approved + _excess(approved, rule)).quantize(CENT, ROUND_DOWN)


def _excess(approved: Decimal, rule: ExcessRule) -> Decimal:
    parts = [] if rule.fixed is None else [rule.fixed]
    parts += [] if rule.percent is None else [approved * rule.percent / 100]
    pick = max if rule.combine is Combine.GREATER else min
    excess = pick(parts, default=Decimal(0))
    return excess if rule.cap is None else min(excess, rule.cap)


def _said(amount: Decimal, symbol: str) -> str:
    return show_money(amount, symbol).removesuffix(".00")


def _number(text: str | None) -> Decimal | None:
    try:
        return None if text is None else Decimal(text)
    except ArithmeticError as error:
        raise MoneyError(f"“{text}” in the rule is not a number: set the rule again.") from error


def _combine(text: str) -> Combine:
    try:
        return Combine(text)
    except ValueError as error:
        raise MoneyError(f"“{text}” in the rule is not greater or less: set it again.") from error


PRESETS: Mapping[str, ExcessRule] = MappingProxyType(
    {
        rule.words(): rule
        for rule in (
            ExcessRule(),
            ExcessRule(percent=Decimal(10)),
            ExcessRule(Decimal(10), Decimal(10), Combine.GREATER, cap=Decimal(50)),
            ExcessRule(Decimal(10), Decimal(25), Combine.LESS),
        )
    }
)
"""Rules to choose from, by what they say (in dollars)."""
