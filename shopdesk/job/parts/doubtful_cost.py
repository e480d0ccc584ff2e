"""Asks about what a pack is said to cost, where it is far from what was agreed."""

from decimal import Decimal

from shopdesk.pricing.money import show_money
from shopdesk.records.tables import OrderLine

_FAR = Decimal("0.5")
"""By more than this part of what was agreed, a cost is rather a slip of the finger."""


def doubt(row: OrderLine, cost: Decimal, symbol: str) -> str:
    """Return what is odd about a cost for a pack of the order's line, or nothing."""
    said = show_money(cost, symbol)
    if cost == 0:
        return f"A pack of “{row.part.name}” for nothing ({said}): was it free?"
    if row.cost and abs(cost - row.cost) > _FAR * row.cost:
        agreed = show_money(row.cost, symbol)
        return f"A pack of “{row.part.name}” for {said}, ordered at {agreed}: is that so?"
    return ""
