"""The rule for going over an estimate, as typed: one of the presets, or the shop's own."""

from dataclasses import dataclass
from decimal import Decimal

from shopdesk.errors import JobError
from shopdesk.job import typed
from shopdesk.pricing.allowance import PRESETS, Combine, ExcessRule
from shopdesk.pricing.typed_number import show_number

OWN_RULE = "a rule of our own"
EXCESS_RULES = (*PRESETS, OWN_RULE)
WHICH = {"whichever is less": Combine.LESS, "whichever is greater": Combine.GREATER}


@dataclass(frozen=True, slots=True)
class TypedExcess:
    """The rule's fields as typed; those after the first belong to an own rule."""

    excess: str
    excess_percent: str
    excess_fixed: str
    excess_which: str
    excess_cap: str


def read_excess(entry: TypedExcess) -> ExcessRule:
    """Return the rule; raises ``JobError`` at the field."""
    rule = typed.choice(
        entry.excess, "excess", EXCESS_RULES, "The rule for going over an estimate", needed=True
    )
    own = (entry.excess_percent, entry.excess_fixed, entry.excess_cap)
    if rule == OWN_RULE:
        return _own(entry)
    if any(text.strip() for text in own):
        raise JobError(
            f"A rule of your own is typed as well: choose “{OWN_RULE}”, or empty its fields.",
            "excess",
        )
    return PRESETS[rule]


def show_excess(rule: ExcessRule) -> TypedExcess:
    """Return the rule as it would be typed."""
    preset = next((name for name, one in PRESETS.items() if one == rule), None)
    which = next(words for words, one in WHICH.items() if one is rule.combine)
    if preset is not None:
        return TypedExcess(preset, "", "", "", "")
    return TypedExcess(
        OWN_RULE,
        "" if rule.percent is None else show_number(rule.percent),
        _shown(rule.fixed),
        "" if None in (rule.percent, rule.fixed) else which,
        _shown(rule.cap),
    )


def _own(entry: TypedExcess) -> ExcessRule:
    percent = (
        typed.percent(entry.excess_percent, "excess_percent")
        if entry.excess_percent.strip()
        else None
    )
    fixed = typed.optional_money(entry.excess_fixed, "excess_fixed")
    if percent is None and fixed is None:
        raise JobError(
            "The rule is empty: type a percentage, an amount, or both.", "excess_percent"
        )
    both = percent is not None and fixed is not None
    which = typed.choice(
        entry.excess_which, "excess_which", WHICH, "Which of the two holds", needed=both
    )
    return ExcessRule(
        percent,
        fixed,
        WHICH.get(which, Combine.LESS) if both else Combine.LESS,
        typed.optional_money(entry.excess_cap, "excess_cap"),
    )


def _shown(amount: Decimal | None) -> str:
    return "" if amount is None else f"{amount:.2f}"
