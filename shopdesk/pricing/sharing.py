"""Shares an amount out in whole cents that add up to it: by the largest remainder."""

from collections.abc import Sequence
from decimal import ROUND_FLOOR, Decimal

from shopdesk.pricing.money import CENT, MoneyError, exact, round_money


def share_out(amount: Decimal, weights: Sequence[Decimal]) -> tuple[Decimal, ...]:
    """Return `amount` shared out in proportion to `weights`, to the cent.

    Where no weight is above zero, the first has it all.

    Raises:
        MoneyError: a weight is below zero, or there is an amount but nothing to share it over.
    """
    if any(exact(weight) < 0 for weight in weights):
        raise MoneyError("Nothing can be shared out over an amount below zero.")
    if not weights:
        if amount:
            raise MoneyError(f"There is nothing that {amount} could be shared out over.")
        return ()
    whole = sum(weights, Decimal(0))
    if not whole:
        return (round_money(amount), *[Decimal("0.00")] * (len(weights) - 1))
    return to_cents([exact(amount) * weight / whole for weight in weights], round_money(amount))


def to_cents(parts: Sequence[Decimal], whole: Decimal) -> tuple[Decimal, ...]:
    """Return `parts` in whole cents that add up to `whole`.

    Each is cut to the cent below it; the cents that are left go to those that lost most, of equals
    to the larger.
    """
    cents = [exact(part).quantize(CENT, ROUND_FLOOR) + Decimal(0) for part in parts]
    left = int((whole - sum(cents, Decimal(0))) / CENT)
    lost = sorted(
        range(len(parts)), key=lambda place: (cents[place] - parts[place], -parts[place], place)
    )
    step = CENT if left > 0 else -CENT
    for turn in range(abs(left)):
        place = lost[turn % len(lost)] if left > 0 else lost[-1 - turn % len(lost)]
        cents[place] += step
    return tuple(cents)
