"""A limit: between which figures a reading is good, and what says so."""

from __future__ import annotations

from dataclasses import dataclass, replace
from decimal import ROUND_HALF_UP, Decimal
from pathlib import Path

from shopdesk.bench.entries import CatalogueError, Entry, read_entries
from shopdesk.bench.machines import Fit, Machine
from shopdesk.bench.readings import with_unit
from shopdesk.bench.units import SCALES, Quantity


@dataclass(frozen=True, slots=True)
class Limit:
    """Bounds of a good reading in `unit`, and the source that names them.

    A reading from `pass_from` to `pass_to` passes (either may be None). Below `fail_under` or above
    `fail_over` it fails, and between it is marginal; where these are None there is no such band.
    `gauge_pressure`: the bounds hold at sea level and go down with the outside pressure.
    `times_of`: the bounds are multiples of the reading of that other check.
    """

    unit: str
    source: str
    pass_from: Decimal | None = None
    pass_to: Decimal | None = None
    fail_under: Decimal | None = None
    fail_over: Decimal | None = None
    gauge_pressure: bool = False
    times_of: str = ""
    note: str = ""

    def scaled(self, factor: Decimal, step: Decimal | None = None) -> Limit:
        """Return the bounds times `factor`, each rounded to its own last digit or to `step`."""

        def times(bound: Decimal | None) -> Decimal | None:
            if bound is None:
                return None
            return (bound * factor).quantize(step or bound, rounding=ROUND_HALF_UP)

        return replace(
            self,
            pass_from=times(self.pass_from),
            pass_to=times(self.pass_to),
            fail_under=times(self.fail_under),
            fail_over=times(self.fail_over),
        )

    def in_unit(self, unit: str, quantity: Quantity, decimals: int) -> Limit:
        """Return the limit in another unit, rounded as a gauge in that unit is read.

        That is to `decimals` places, but never to fewer than two significant digits.
        """
        if unit == self.unit:
            return self
        old, new = SCALES[quantity].named(self.unit), SCALES[quantity].named(unit)
        if old is None or new is None:
            raise CatalogueError(f"{unit} and {self.unit} are not both units of {quantity}.")

        def moved(bound: Decimal | None) -> Decimal | None:
            if bound is None:
                return None
            value = (bound * old.factor + old.offset - new.offset) / new.factor
            places = max(decimals, 1 - value.adjusted()) if value else decimals
            return value.quantize(Decimal(1).scaleb(-max(places, 0)), rounding=ROUND_HALF_UP)

        return replace(
            self,
            unit=new.name,
            pass_from=moved(self.pass_from),
            pass_to=moved(self.pass_to),
            fail_under=moved(self.fail_under),
            fail_over=moved(self.fail_over),
        )

    def words(self) -> str:
        """Return the limit as it is said: "at least 107 psi", "0.010 to 0.014 in"."""
        if self.pass_from is None:
            return f"at most {self.bounds()}"
        return f"at least {self.bounds()}" if self.pass_to is None else self.bounds()

    def bounds(self) -> str:
        """Return only the figures: "107 psi", "0.010 to 0.014 in", "25:1 to 50:1"."""
        shown = [f"{b:,f}" for b in (self.pass_from, self.pass_to) if b is not None]
        joined = f"{self.unit} to ".join(shown) if self.unit == ":1" else " to ".join(shown)
        return with_unit(joined, self.unit)


@dataclass(frozen=True, slots=True)
class LimitRule:
    """A limit of a check, and the machines that it is for."""

    check: str
    fit: Fit
    limit: Limit


def limit_for(rules: tuple[LimitRule, ...], machine: Machine) -> Limit | None:
    """Return the limit of the narrowest rule that suits the machine, or None."""
    fitting = [rule for rule in rules if rule.fit.suits(machine)]
    return max(fitting, key=lambda rule: rule.fit.narrowness).limit if fitting else None


def read_limits(path: Path) -> tuple[LimitRule, ...]:
    """Read limits.toml. Raises CatalogueError."""
    return tuple(_rule(entry) for entry in read_entries(path, "limit"))


def _rule(entry: Entry) -> LimitRule:
    rule = LimitRule(entry.text("check"), entry.fit(), read_bounds(entry))
    entry.finish()
    return rule


def read_bounds(entry: Entry) -> Limit:
    """Read the figures, unit and source of a limit from an entry. Raises CatalogueError."""
    limit = Limit(
        unit=entry.text("unit"),
        source=entry.text("source"),
        pass_from=entry.number("pass_from"),
        pass_to=entry.number("pass_to"),
        fail_under=entry.number("fail_under"),
        fail_over=entry.number("fail_over"),
        gauge_pressure=entry.flag("gauge_pressure"),
        times_of=entry.text_or_none("times_of"),
        note=entry.text_or_none("note"),
    )
    _refuse_crossed(entry, limit)
    return limit


def _refuse_crossed(entry: Entry, limit: Limit) -> None:
    ladder = [limit.fail_under, limit.pass_from, limit.pass_to, limit.fail_over]
    given = [bound for bound in ladder if bound is not None]
    if limit.pass_from is None and limit.pass_to is None:
        raise entry.error("give pass_from, pass_to or both")
    if given != sorted(given):
        raise entry.error("the figures must rise: fail_under, pass_from, pass_to, fail_over")
    if limit.fail_under is not None and limit.pass_from is None:
        raise entry.error("fail_under needs pass_from beside it")
    if limit.fail_over is not None and limit.pass_to is None:
        raise entry.error("fail_over needs pass_to beside it")
