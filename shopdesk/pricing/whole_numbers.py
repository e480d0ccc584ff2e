"""Finds the whole numbers that make a sum least under rules, exactly, with the HiGHS solver.

HiGHS: Huangfu and Hall, "Parallelizing the dual revised simplex method", Mathematical Programming
Computation 10 (2018), 119-142; https://highs.dev. It reckons with floats: what it finds is rounded
to whole numbers and held against every rule again, exactly.
"""

from collections.abc import Mapping, Sequence
from math import gcd
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from highspy import Highs

Terms = Mapping[int, int]
"""A sum: whole factors by column."""
RowRule = tuple[Terms, int]
"""A sum, and the least that it may be."""
_TOLERANCE = 1e-9
_EXACTLY = {
    "threads": 1,
    "random_seed": 0,
    "mip_rel_gap": 0.0,
    "mip_abs_gap": 0.0,
    "mip_feasibility_tolerance": _TOLERANCE,
    "primal_feasibility_tolerance": _TOLERANCE,
    "mip_allow_restart": False,
}
"""No gap to the optimum is left open, and the same program always gives the same answer."""


def least(goal: Terms, most: Sequence[int], rules: Sequence[RowRule]) -> list[int]:
    """Return the value of each column, from 0 to its ``most``, that makes ``goal`` least.

    Raises:
        ArithmeticError: no values keep to the rules, or the numbers are too large to tell apart.
    """
    highs = _solver()
    for column, top in enumerate(most):
        _add_column(highs, column, goal.get(column, 0), top)
    for terms, at_least in rules:
        _add_rule(highs, terms, at_least)
    highs.run()
    best = [round(value) for value in highs.getSolution().col_value]
    if len(best) < len(most) or not all(_keeps(best, rule) for rule in rules):
        raise ArithmeticError(f"no whole numbers were found: {highs.getModelStatus()}")
    return best


def _keeps(values: Sequence[int], rule: RowRule) -> bool:
    terms, at_least = rule
    return sum(values[column] * factor for column, factor in terms.items()) >= at_least


def _solver() -> "Highs":
    from highspy import Highs

    class Quiet(Highs):
        """Says nothing on standard output, not even as it is made."""

        def enableCallbacks(self) -> None:  # noqa: N802
            self.silent()
            super().enableCallbacks()  # type: ignore[no-untyped-call]

    highs = Quiet()  # type: ignore[no-untyped-call]
    for option, value in _EXACTLY.items():
        highs.setOptionValue(option, value)
    return highs


def _add_column(highs: "Highs", column: int, factor: int, most: int) -> None:
    from highspy import HighsVarType

    highs.addVar(0.0, float(most))
    highs.changeColIntegrality(column, HighsVarType.kInteger)
    highs.changeColCost(column, float(factor))


def _add_rule(highs: "Highs", terms: Terms, at_least: int) -> None:
    """Add a row, divided by what all its numbers share."""
    from numpy import array

    shared = gcd(*terms.values(), at_least)
    columns = array(list(terms), dtype="int32")
    factors = array([factor // shared for factor in terms.values()], dtype="float64")
    highs.addRow(float(at_least // shared), highs.inf, len(terms), columns, factors)
