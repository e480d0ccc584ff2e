"""What an hour at the bench costs: the bench rate, and the shop's further rates by name."""

from decimal import Decimal

from shopdesk.errors import JobError
from shopdesk.job import typed
from shopdesk.job.shop import Shop

BENCH_RATE = ""
"""The rate that needs no name."""


def rate_names(shop: Shop) -> tuple[tuple[str, str], ...]:
    """Return the shop's rates as choices: (name as kept, words), the bench rate first."""
    names = (BENCH_RATE, *(rate.name for rate in shop.labour_rates))
    return tuple((name, rate_words(name)) for name in names)


def rate_words(rate: str) -> str:
    """Return what a rate is called."""
    return rate or "bench rate"


def rate_typed(typed_rate: str, field: str, shop: Shop) -> str:
    """Return the name of a rate as kept; raises ``JobError`` at the field for one not known."""
    if typed_rate.strip().casefold() == rate_words(BENCH_RATE):
        return BENCH_RATE
    names = [rate.name for rate in shop.labour_rates]
    if typed_rate.strip() and not names:
        raise JobError(
            f"There is no rate “{typed_rate.strip()[:40]}”: leave it empty for the bench rate, "
            "or add the rate in the settings.",
            field,
        )
    return typed.choice(typed_rate, field, names, "The labour rate")


def hourly(shop: Shop, rate: str) -> Decimal:
    """Return the price of an hour; raises ``JobError`` at ``rate`` for one that is no more."""
    if rate == BENCH_RATE:
        return shop.bench_rate
    price = next((one.hourly for one in shop.labour_rates if one.name == rate), None)
    if price is None:
        raise JobError(
            f"The shop has no rate “{rate}” any more: choose another one, "
            "or add it again in the settings.",
            "rate",
        )
    return price
