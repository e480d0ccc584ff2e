"""The teardown log turned round: what goes back, in which order, and what is left over."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from shopdesk.bench.care import Care, cautions_at
from shopdesk.bench.checks import Verdict
from shopdesk.bench.fasteners import Fasteners
from shopdesk.bench.teardown import TeardownStep, came_off_first

INTO_PLASTIC = "Into plastic: start each by hand, cross pattern, never over-tight."
"""Common practice, no published source."""
LENGTHS_DIFFER = "Different lengths: each goes back into the hole it came from."
"""Common practice, no published source."""


@dataclass(frozen=True, slots=True)
class ReassemblyStep:
    """One thing that goes back.

    `waits_for` are the keys of the steps that must be back before it. `words` is the whole of it in
    a line, `care` what to mind in sentences, `cautions` are keys.
    """

    step: TeardownStep
    waits_for: tuple[str, ...]
    words: str
    care: tuple[str, ...]
    cautions: tuple[str, ...]


def reassembly(
    steps: Sequence[TeardownStep], cares: Sequence[Care] = ()
) -> tuple[ReassemblyStep, ...]:
    """Turn the log round: each step after everything that came off after it and hangs on it.

    A plain line comes back in reverse; a sub-assembly comes back whole before it joins, the one
    that was opened last first. Raises TeardownError.
    """
    firsts = came_off_first(steps)
    by_key = {step.key: step for step in steps}
    hanging = {step.key: tuple(s.key for s in steps if step.key in firsts[s.key]) for step in steps}
    roots = [step.key for step in steps if not firsts[step.key]]
    return tuple(
        _turned(by_key[key], hanging[key], cares) for key in _innermost_first(roots, hanging)
    )


def _innermost_first(roots: list[str], hanging: Mapping[str, tuple[str, ...]]) -> list[str]:
    """Go down from the roots to what hangs on each, latest first; note each on the way up."""
    order: dict[str, None] = {}
    path = list(roots)
    while path:
        waiting = [key for key in hanging[path[-1]] if key not in order]
        if waiting:
            path.append(waiting[-1])
        else:
            order[path.pop()] = None
    return list(order)


def _turned(
    step: TeardownStep, waits_for: tuple[str, ...], cares: Sequence[Care]
) -> ReassemblyStep:
    return ReassemblyStep(
        step, waits_for, _words(step), _care(step, cares), cautions_at(step, cares)
    )


def _words(step: TeardownStep) -> str:
    setting = step.setting
    limit = f" ({setting.limit.words()})" if setting and setting.limit else ""
    parts = (
        step.off,
        *(each.going_back for each in step.fasteners),
        f"mark: {step.mark}" if step.mark else "",
        f"routing: {step.routing}" if step.routing else "",
        f"set and enter: {setting.title}{limit}" if setting else "",
    )
    return f"Fit: {', '.join(filter(None, parts))}"


def _care(step: TeardownStep, cares: Sequence[Care]) -> tuple[str, ...]:
    return tuple(
        filter(
            None,
            (
                INTO_PLASTIC if any(each.into_plastic for each in step.fasteners) else "",
                LENGTHS_DIFFER if len({each.length for each in step.fasteners}) > 1 else "",
                *(care.back for care in cares if care.is_for(step)),
            ),
        )
    )


@dataclass(frozen=True, slots=True)
class Tick:
    """What was done about a step on the way back.

    `back` counts the fasteners put back, kind by kind as they came off; `setting` is the verdict on
    the setting entered, None for none; `explained` says why what is left over may be.
    """

    done: bool = False
    back: tuple[int, ...] = ()
    setting: Verdict | None = None
    explained: str = ""


@dataclass(frozen=True, slots=True)
class LeftOver:
    """What is not right about one step, in words; it may stay so only where it is `explained`."""

    key: str
    words: str
    explained: str = ""


def left_over(steps: Sequence[TeardownStep], ticks: Mapping[str, Tick]) -> tuple[LeftOver, ...]:
    """Return what is not back: steps not ticked, fasteners over, settings missing or failed."""
    found = []
    for step in steps:
        tick = ticks.get(step.key, Tick())
        troubles = _troubles(step, tick)
        if troubles:
            words = f"{step.name}: {' and '.join(troubles)}"
            found.append(LeftOver(step.key, words, tick.explained))
    return tuple(found)


def _troubles(step: TeardownStep, tick: Tick) -> list[str]:
    if not tick.done:
        return ["not ticked as back"]
    counted = tick.back or (0,) * len(step.fasteners)
    fasteners = [_over(off, back) for off, back in zip(step.fasteners, counted, strict=True)]
    return list(filter(None, (*fasteners, _setting_trouble(step, tick.setting))))


def _over(off: Fasteners, back: int) -> str:
    if back == off.count:
        return ""
    where = f" ({off.kept})" if off.kept else ""
    kind = off.words.partition(" × ")[2]
    if back < off.count:
        return f"{off.count - back} of {off.count} {kind}{where} not put back"
    return f"{back} {kind}{where} put back where {off.count} came off"


def _setting_trouble(step: TeardownStep, verdict: Verdict | None) -> str:
    if step.setting is None:
        return ""
    if verdict is None:
        return f"{step.setting.title} not entered"
    return f"{step.setting.title} failed" if verdict is Verdict.FAIL else ""
