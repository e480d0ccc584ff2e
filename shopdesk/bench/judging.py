"""The one place where a reading is judged: held against its limit, and said in a sentence."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, replace
from decimal import Decimal
from types import MappingProxyType

from shopdesk.bench.altitude import pressure_ratio
from shopdesk.bench.checks import Check, SeenChoice, Verdict
from shopdesk.bench.limits import Limit
from shopdesk.bench.machines import Engine, Machine, Place
from shopdesk.bench.outcomes import READ
from shopdesk.bench.readings import Reading, ReadingError, parse_reading, show_reading
from shopdesk.bench.units import Quantity

__all__ = ["Engine", "Judged", "Machine", "Place", "Verdict", "judge"]

NO_LIMITS: Mapping[str, Limit] = MappingProxyType({})
NO_READINGS: Mapping[str, Reading] = MappingProxyType({})


@dataclass(frozen=True, slots=True)
class Judged:
    """One result, judged.

    `seen` is the letter of what was seen. `outcome` is what the causes are weighed by: that
    letter, "pass", "marginal", the side a reading failed on ("low", "high"), "read" for a number
    without a limit where having one tells something; "" tells nothing.
    `limit`, `correction` and `source` are words; `says` is the whole of it in a sentence.
    `rules_out` is filled on a pass, `points_to` on anything worse.
    """

    check_key: str
    title: str
    typed: str
    reading: Reading | None
    seen: str | None
    verdict: Verdict
    outcome: str
    limit: str
    correction: str
    source: str
    rules_out: str
    points_to: str
    says: str


def judge(
    check: Check,
    typed: str,
    machine: Machine,
    place: Place,
    overrides: Mapping[str, Limit] = NO_LIMITS,
    earlier: Mapping[str, Reading] = NO_READINGS,
) -> Judged:
    """Judge what was typed for `check` on this machine at this place.

    `overrides`: limits of this model or unit by check, which go before the reference limits.
    `earlier`: readings by check, for limits that are multiples of another reading.
    For a check by sight `typed` is a choice's letter, its number, or words that only it holds.
    Raises ReadingError.
    """
    choice = chosen(check, typed)
    if choice is not None:
        return _judge_seen(check, typed, choice)
    if check.quantity is None:
        raise ReadingError(f"“{typed.strip()}” is none of the choices: type {_choices(check)}.")
    reading = _parse(check, typed)
    limit = overrides.get(check.key) or check.limit_for(machine)
    if limit is None:
        advice = "no limit is known for this machine; note the maker's figure on its card"
        return _noted(check, reading, advice)
    if limit.times_of and limit.times_of not in earlier:
        advice = f"the limit is a multiple of another reading; take “{limit.times_of}” first"
        return _noted(check, reading, advice)
    in_force, correction = limit_in_force(limit, place, earlier)
    return _judge_reading(check, reading, in_force, correction)


def chosen(check: Check, typed: str) -> SeenChoice | None:
    """Return the choice that was typed, by letter, number or words that only it holds, or None."""
    wanted = " ".join(typed.casefold().split())
    if not wanted:
        return None
    for choice in check.seen:
        if wanted in (choice.key, choice.words.casefold()):
            return choice
    if wanted.isdecimal() and check.quantity is None:
        place = int(wanted)
        return check.seen[place - 1] if 1 <= place <= len(check.seen) else None
    return _by_words(check, wanted)


def _by_words(check: Check, wanted: str) -> SeenChoice | None:
    """Return the one choice whose words begin with, or else hold, what is wanted."""
    begun = [each for each in check.seen if each.words.casefold().startswith(wanted)]
    whole_word = re.compile(rf"\b{re.escape(wanted)}\b")
    fitting = begun or [each for each in check.seen if whole_word.search(each.words.casefold())]
    if len(fitting) > 1:
        names = " or ".join(f"{each.key} ({each.words})" for each in fitting)
        raise ReadingError(f"“{wanted}” fits more than one choice: type {names}.")
    return fitting[0] if fitting else None


def _parse(check: Check, typed: str) -> Reading:
    assert check.quantity is not None
    try:
        return parse_reading(typed, check.quantity, check.usual_unit)
    except ReadingError as error:
        if not check.seen:
            raise
        raise ReadingError(f"{error} Or type {_choices(check)}.") from None


def _choices(check: Check) -> str:
    return ", ".join(f"{choice.key} ({choice.words})" for choice in check.seen)


def limit_in_force(
    limit: Limit, place: Place, earlier: Mapping[str, Reading] = NO_READINGS
) -> tuple[Limit, str]:
    """Return the limit that holds here and now, and in words why it is not the one in the book.

    A limit that is a multiple of another reading needs that reading in `earlier`.
    """
    if limit.times_of:
        other = earlier[limit.times_of]
        held = replace(limit.scaled(other.number, Decimal(1)), unit=other.unit)
        factors = f"{limit.pass_from or limit.pass_to}"
        return held, f"{factors} times {show_reading(other)}, the reading of “{limit.times_of}”"
    if not limit.gauge_pressure:
        return limit, ""
    ratio = pressure_ratio(place.altitude_m)
    held = limit.scaled(ratio)
    if held == limit:
        return limit, ""
    moved = "lowered" if ratio < 1 else "raised"
    return held, (
        f"{limit.bounds()} at sea level, {moved} to {held.bounds()} for {place.altitude_m:,.0f} m: "
        "a gauge shows the pressure ratio less one, times the outside air pressure "
        "by the US Standard Atmosphere 1976"
    )


def _judge_reading(check: Check, reading: Reading, limit: Limit, correction: str) -> Judged:
    assert check.quantity is not None
    exponent = reading.number.as_tuple().exponent
    decimals = max(0, -exponent) if isinstance(exponent, int) else 0
    read_as = limit.in_unit(reading.unit, check.quantity, decimals)
    words = limit.words()
    if read_as is not limit and check.quantity is not Quantity.TIME:  # nobody reads 0.99 months
        words = f"{words} ({read_as.bounds()})"
    verdict, side = _verdict(reading.number, read_as)
    outcome = side if verdict is Verdict.FAIL else str(verdict)
    where = {Verdict.FAIL: f" ({side})", Verdict.MARGINAL: f" (a little {side})"}.get(verdict, "")
    reasons = "; ".join(filter(None, (limit.source, limit.note)))
    held = f"{words} ({reasons})" if not correction else f"{words} ({correction}; {reasons})"
    says = f"{show_reading(reading)}, {verdict}{where}: {held}."
    return _judged(
        check,
        reading.typed,
        verdict,
        outcome,
        says,
        reading=reading,
        limit=words,
        correction=correction,
        source=limit.source,
    )


def _verdict(number: Decimal, limit: Limit) -> tuple[Verdict, str]:
    """Return the verdict, and the side that the reading is off on."""
    if limit.pass_from is not None and number < limit.pass_from:
        floor = limit.pass_from if limit.fail_under is None else limit.fail_under
        return (Verdict.FAIL if number < floor else Verdict.MARGINAL), "low"
    if limit.pass_to is not None and number > limit.pass_to:
        ceiling = limit.pass_to if limit.fail_over is None else limit.fail_over
        return (Verdict.FAIL if number > ceiling else Verdict.MARGINAL), "high"
    return Verdict.PASS, ""


def _judge_seen(check: Check, typed: str, choice: SeenChoice) -> Judged:
    limit = " or ".join(each.words for each in check.seen if each.verdict is Verdict.PASS)
    bad = choice.verdict in (Verdict.MARGINAL, Verdict.FAIL)
    should_be = f"; should be: {limit}" if bad and limit else ""
    words = f"{choice.words[0].upper()}{choice.words[1:]}"
    says = f"{words}: {choice.verdict}{should_be} ({check.source})."
    outcome = choice.key if choice.is_telling else ""
    judged = _judged(check, typed, choice.verdict, outcome, says, seen=choice.key, limit=limit)
    return replace(
        judged,
        rules_out=choice.rules_out or judged.rules_out,
        points_to=_sentence(choice.means) or judged.points_to,
    )


def _sentence(words: str) -> str:
    return f"{words[0].upper()}{words[1:].rstrip('.')}." if words else ""


def _noted(check: Check, reading: Reading, advice: str) -> Judged:
    says = f"{show_reading(reading)}, noted: {advice}."
    none_to_read = any(choice.is_telling and not choice.is_clear for choice in check.seen)
    outcome = READ if none_to_read else ""
    return _judged(check, reading.typed, Verdict.NOTED, outcome, says, reading=reading, source="")


def _judged(
    check: Check,
    typed: str,
    verdict: Verdict,
    outcome: str,
    says: str,
    *,
    reading: Reading | None = None,
    seen: str | None = None,
    limit: str = "",
    correction: str = "",
    source: str | None = None,
) -> Judged:
    return Judged(
        check_key=check.key,
        title=check.title,
        typed=typed,
        reading=reading,
        seen=seen,
        verdict=verdict,
        outcome=outcome,
        limit=limit,
        correction=correction,
        source=check.source if source is None else source,
        rules_out=check.rules_out if verdict is Verdict.PASS else "",
        points_to=check.points_to if verdict in (Verdict.MARGINAL, Verdict.FAIL) else "",
        says=says,
    )
