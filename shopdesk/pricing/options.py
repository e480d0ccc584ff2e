"""What a way out costs until the machine runs: on average, and in the worst case.

One fault is there, and each fix cures its own causes for certain. What the first fix does not cure
is tried on one fix after the other in an order that is handed in (cheapest by cost over
probability: Kalagnanam and Henrion, 1988), and searched for when that order is at its end
(Heckerman, Breese and Rommelse, 1995). Each fix that was tried is paid for.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal

from shopdesk.pricing.money import MoneyError, exact, round_money

ONE = Decimal(1)


@dataclass(frozen=True, slots=True)
class Suspect:
    """A cause that it may be.

    `probability` is from 0 to 1, those of all suspects come to exactly 1; `price` is what its own
    fix costs the owner.
    """

    key: str
    probability: Decimal
    price: Decimal


@dataclass(frozen=True, slots=True)
class GoingOn:
    """What follows a first fix that did not cure: `tries` in their order, then the search.

    `tries` are keys of suspects; `search` is what finding the cause for certain costs, after which
    its own fix is paid.
    """

    tries: tuple[str, ...] = ()
    search: Decimal = Decimal("0.00")


@dataclass(frozen=True, slots=True)
class Prospects:
    """What comes of a way out: the chance that it cures, and what is paid until it runs.

    `chance` is from 0 to 1; `expected` and `worst` are in whole cents. The worst is never below the
    average, nor that below the price now, as long as no price is below 0.
    """

    chance: Decimal
    expected: Decimal
    worst: Decimal


def prospects(
    price_now: Decimal,
    cures: frozenset[str],
    suspects: Sequence[Suspect],
    going_on: GoingOn,
    worst_from: Decimal = Decimal(0),
) -> Prospects:
    """Return what comes of a first fix at `price_now` that cures the suspects named by `cures`.

    The worst case leaves out suspects less likely than `worst_from`, which the average counts all
    the same. Where they alone bring the average above it, the worst case is the average.

    Raises:
        MoneyError: the probabilities do not come to 1, or one is below 0.
        TypeError: an amount or a probability is not a Decimal.
    """
    _check(suspects)
    paid = list(_paid_by_cause(round_money(price_now), cures, suspects, going_on))
    counted = [amount for suspect, amount in paid if suspect.probability >= worst_from]
    expected = round_money(sum((one.probability * amount for one, amount in paid), Decimal(0)))
    return Prospects(
        chance=sum((one.probability for one in suspects if one.key in cures), Decimal(0)),
        expected=expected,
        worst=max([expected, *counted]),
    )


def per_hour(price: Decimal, hours: Decimal | None) -> Decimal | None:
    """Return what an hour of life costs, in whole cents; None where the hours are not known."""
    return round_money(exact(price) / exact(hours)) if hours else None


def _paid_by_cause(
    price_now: Decimal, cures: frozenset[str], suspects: Sequence[Suspect], going_on: GoingOn
) -> Iterator[tuple[Suspect, Decimal]]:
    """Yield each suspect that can be, with all that is paid until the machine runs if it is."""
    prices = {one.key: exact(one.price) for one in suspects}
    until: dict[str, Decimal] = {}
    spent = price_now
    for key in going_on.tries:
        if key not in cures:
            spent += prices[key]
            until[key] = spent
    for one in suspects:
        if not one.probability:
            continue
        if one.key in cures:
            yield one, price_now
        else:
            yield one, until.get(one.key, spent + exact(going_on.search) + one.price)


def _check(suspects: Sequence[Suspect]) -> None:
    whole = sum((exact(one.probability) for one in suspects), Decimal(0))
    if whole != ONE or any(one.probability < 0 for one in suspects):
        raise MoneyError(f"The chances of the causes come to {whole}: they must come to 1.")
