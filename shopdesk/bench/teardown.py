"""The teardown log: what came off, in which order, and what must be entered on the way back.

Steps are noted one after another. Those of one sub-assembly follow each other; the first of a
sub-assembly follows the last step on the machine itself before it, so that a carburettor taken
apart on the bench and a starter taken apart beside it don't wait for each other. A step may say
otherwise by naming the steps it comes after.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from graphlib import CycleError, TopologicalSorter

from shopdesk.bench.checks import Check, System
from shopdesk.bench.fasteners import Fasteners
from shopdesk.bench.limits import Limit
from shopdesk.bench.units import Quantity


class TeardownError(ValueError):
    """The steps can't be put in an order; the message names them and says what to do."""


@dataclass(frozen=True, slots=True)
class Setting:
    """What is set, measured and entered when a step goes back; `limit` None where none is known."""

    title: str
    limit: Limit | None = None


@dataclass(frozen=True, slots=True)
class TeardownStep:
    """One thing that came off.

    `key` is what other steps and people call it ("3"). `sub_assembly` is empty for the machine
    itself. `after`: the steps that came off before it and had to; None means the step before it, as
    the module says; an empty tuple means that it hangs on nothing. `cautions` are keys.
    """

    key: str
    off: str
    sub_assembly: str = ""
    after: tuple[str, ...] | None = None
    fasteners: tuple[Fasteners, ...] = ()
    mark: str = ""
    routing: str = ""
    cautions: tuple[str, ...] = ()
    setting: Setting | None = None

    @property
    def name(self) -> str:
        """The step as a sentence names it: "step 3, muffler"."""
        return f"step {self.key}, {self.off}"


def came_off_first(steps: Sequence[TeardownStep]) -> dict[str, tuple[str, ...]]:
    """Return for each step the steps that had to come off before it.

    Raises TeardownError for a key used twice, a step that is not there, or steps in a circle.
    """
    firsts: dict[str, tuple[str, ...]] = {}
    for place, step in enumerate(steps):
        if step.key in firsts:
            raise TeardownError(f"Step {step.key} is there twice: give each step its own number.")
        firsts[step.key] = _before(step, steps[:place]) if step.after is None else step.after
    _refuse_unknown(firsts)
    _refuse_circle(firsts)
    return firsts


def _before(step: TeardownStep, earlier: Sequence[TeardownStep]) -> tuple[str, ...]:
    """Return the last earlier step of the same sub-assembly, else of the machine itself."""
    for wanted in (step.sub_assembly.casefold(), ""):
        for other in reversed(earlier):
            if other.sub_assembly.casefold() == wanted:
                return (other.key,)
    return ()


def _refuse_unknown(firsts: Mapping[str, tuple[str, ...]]) -> None:
    for key, others in firsts.items():
        unknown = [other for other in others if other not in firsts]
        if unknown:
            raise TeardownError(
                f"Step {key} comes after step {unknown[0]}, which is not in the log: "
                f"name steps from {', '.join(firsts)}."
            )


def _refuse_circle(firsts: Mapping[str, tuple[str, ...]]) -> None:
    try:
        TopologicalSorter(firsts).prepare()
    except CycleError as error:
        circle = " after ".join(reversed(error.args[1]))
        raise TeardownError(
            f"These steps wait for each other (step {circle}): one of them must come off first."
        ) from None


def own_check(title: str, quantity: Quantity, usual_unit: str) -> Check:
    """Return a setting that the catalogue has no check for, to be judged like one that it has."""
    return Check(
        key="",
        title=title,
        system=System.SAFETY,
        how="",
        minutes=Decimal(0),
        source="",
        rules_out="",
        points_to="",
        quantity=quantity,
        usual_unit=usual_unit,
    )
