"""What a machine that stands ready and is not fetched costs a day, by the terms of the shop."""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from shopdesk.pricing.money import round_money, show_money
from shopdesk.pricing.totals import ZERO


@dataclass(frozen=True, slots=True)
class Storage:
    """The days that are charged for, and what they come to before tax."""

    days: int
    per_day: Decimal
    free_days: int

    @property
    def charge(self) -> Decimal:
        """Days times the rate, in whole cents."""
        return round_money(self.days * self.per_day) if self.days else ZERO

    def words(self, symbol: str = "$") -> str:
        """Return the working: ``12 days × $2.00, after the first 30``."""
        if not self.per_day:
            return "no storage is charged"
        free = f"the first {self.free_days}" if self.free_days else ""
        if not self.days:
            return f"nothing yet: {free} days are free" if free else "nothing yet"
        days = "1 day" if self.days == 1 else f"{self.days} days"
        after = f", after {free}" if free else ""
        return f"{days} × {show_money(self.per_day, symbol)}{after}"


def storage(told_on: date, today: date, per_day: Decimal, free_days: int) -> Storage:
    """Return what is owed today for a machine whose owner heard on `told_on` that it is ready.

    The day of telling does not count, today does.
    """
    return Storage(max(0, (today - told_on).days - free_days), per_day, free_days)
