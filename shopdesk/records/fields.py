"""How money, quantities, times and dates are kept in the records, exactly."""

from datetime import UTC, datetime
from decimal import Decimal
from typing import Any

from peewee import BigIntegerField, DateTimeField

CENTS = Decimal(100)
THOUSANDTHS = Decimal(1000)


class _ScaledField(BigIntegerField):
    """A ``Decimal`` kept as a whole number of its smallest step."""

    scale = Decimal(1)

    def db_value(self, value: Any) -> int | None:
        """Turn the ``Decimal`` into whole steps.

        Raises ``TypeError`` for a float, ``ValueError`` for a part of a step.
        """
        if value is None:
            return None
        if isinstance(value, float):
            raise TypeError(f"{self.name} takes Decimal, not float")
        steps = Decimal(value) * self.scale
        if steps != steps.to_integral_value():
            raise ValueError(f"{self.name} keeps steps of 1/{self.scale}; {value} is finer")
        return int(steps)

    def python_value(self, value: Any) -> Decimal | None:
        """Turn whole steps back into the ``Decimal``."""
        return None if value is None else Decimal(value) / self.scale


class MoneyField(_ScaledField):
    """Money in the shop's currency, kept as whole cents."""

    scale = CENTS

    def python_value(self, value: Any) -> Decimal | None:
        """Turn cents back into money with two decimals."""
        return None if value is None else Decimal(value).scaleb(-2)


class QuantityField(_ScaledField):
    """A quantity or hours, kept in thousandths."""

    scale = THOUSANDTHS


class UtcField(DateTimeField):
    """A moment: aware in Python, kept without offset in UTC."""

    def db_value(self, value: Any) -> Any:
        """Turn an aware moment into naive UTC; raises ``ValueError`` for a naive one."""
        if isinstance(value, datetime):
            if value.tzinfo is None:
                raise ValueError(f"{self.name} takes a time with its zone")
            value = value.astimezone(UTC).replace(tzinfo=None)
        return super().db_value(value)  # type: ignore[no-untyped-call]

    def python_value(self, value: Any) -> Any:
        """Give the moment back, aware, in UTC."""
        moment = super().python_value(value)  # type: ignore[no-untyped-call]
        return moment.replace(tzinfo=UTC) if isinstance(moment, datetime) else moment
