"""What a percentage of an amount comes to: a discount, or the shop supplies with their cap."""

from decimal import Decimal

from shopdesk.pricing.money import MoneyError, exact, round_money


def percent_of(amount: Decimal, percent: Decimal) -> Decimal:
    """Return `percent` of `amount` in whole cents, half a cent going up.

    Raises:
        MoneyError: `percent` is not from 0 to 100.
    """
    if not 0 <= exact(percent) <= 100:
        raise MoneyError(f"{percent}% is no share of an amount: type 0 to 100.")
    return round_money(exact(amount) * percent / 100)


def supplies_charge(base: Decimal, percent: Decimal, cap: Decimal | None) -> Decimal:
    """Return the charge for small stuff: `percent` of `base`, at most `cap`; never below zero."""
    charge = max(percent_of(base, percent), Decimal("0.00"))
    return charge if cap is None else min(charge, round_money(cap))
