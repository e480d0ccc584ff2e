"""Asks the records for single columns, where whole rows would cost more than the sums."""

from decimal import Decimal
from typing import Any

from peewee import ModelSelect, fn

from shopdesk.records.fields import CENTS


def tuples(query: "ModelSelect[Any]") -> list[tuple[Any, ...]]:
    """Return the columns that a query selects, each as Python keeps it."""
    return list(query.tuples())


def cents(field: Any) -> Any:
    """Return what asks for the sum of a column of money, in whole cents."""
    return fn.SUM(field).coerce(False)


def money(cents: int | None) -> Decimal:
    """Return such a sum as money."""
    return (Decimal(cents or 0) / CENTS).quantize(Decimal("0.01"))
