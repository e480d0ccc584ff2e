"""What every check would show under every cause, worked out once for one machine."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from shopdesk.bench.cause_book import Cause, CauseBook
from shopdesk.bench.checks import Catalogue, Check
from shopdesk.bench.judging import NO_LIMITS
from shopdesk.bench.limits import Limit
from shopdesk.bench.machines import Machine
from shopdesk.bench.outcomes import Outcome, likelihoods, outcomes

Column = tuple[float, ...]
"""One probability for each cause, in the order of the causes."""


@dataclass(frozen=True, slots=True)
class Evidence:
    """The causes of a machine, and how likely everything that may be met is under each of them.

    `common` are the shares of the causes before anything is known, summing to 1.
    `complaints` and `onsets` hold a column for each key, `checks` one for each outcome of a check.
    """

    machine: Machine
    book: CauseBook
    causes: tuple[Cause, ...]
    common: Column
    complaints: Mapping[str, Column]
    onsets: Mapping[str, Column]
    fitting: Mapping[str, Check]
    outcomes: Mapping[str, tuple[Outcome, ...]]
    checks: Mapping[str, Mapping[str, Column]]


def evidence_for(
    machine: Machine,
    book: CauseBook,
    catalogue: Catalogue,
    limits: Mapping[str, Limit] = NO_LIMITS,
) -> Evidence:
    """Work out the tables for a machine; `limits` are those of its model or unit, by check."""
    causes = book.causes_for(machine)
    fitting = {check.key: check for check in catalogue.checks_for(machine)}
    possible = {
        key: outcomes(check, limits.get(key) or check.limit_for(machine))
        for key, check in fitting.items()
    }
    telling = {key: found for key, found in possible.items() if len(found) > 1}
    return Evidence(
        machine=machine,
        book=book,
        causes=causes,
        common=_common(causes, machine, book),
        complaints=_columns(causes, book.complaints.by_key, "complaints", book),
        onsets=_columns(causes, book.complaints.onsets, "onset", book),
        fitting=fitting,
        outcomes=telling,
        checks={key: _check_columns(key, found, causes, book) for key, found in telling.items()},
    )


def _common(causes: tuple[Cause, ...], machine: Machine, book: CauseBook) -> Column:
    weights = [cause.weight(machine) for cause in causes]
    other, whole = book.odds.other_share, sum(weights)
    known = [(1 - other) * weight / whole for weight in weights[:-1]] if whole else []
    return (*known, other if whole else 1.0)


def _columns(
    causes: tuple[Cause, ...], keys: Mapping[str, object], what: str, book: CauseBook
) -> dict[str, Column]:
    """Return for each complaint (or onset) its share among those that each cause brings."""
    odds = book.odds
    unlisted = odds.unlisted_complaint if what == "complaints" else odds.unlisted_onset
    rows = []
    for cause in causes:
        said = cause.complaints if what == "complaints" else cause.onset
        weights = {key: said.get(key, unlisted) for key in keys}
        whole = sum(weights.values())
        rows.append({key: weight / whole for key, weight in weights.items()})
    return {key: tuple(row[key] for row in rows) for key in keys}


def _check_columns(
    key: str, possible: tuple[Outcome, ...], causes: tuple[Cause, ...], book: CauseBook
) -> dict[str, Column]:
    odds = book.odds
    usual = book.otherwise.get(key, odds.unlisted_check)
    without = likelihoods(possible, usual, usual, odds.unlisted_check)
    unknown = likelihoods(possible, odds.other_check, usual, odds.unlisted_check)
    rows = [
        likelihoods(possible, cause.shows[key], usual, odds.unlisted_check)
        if key in cause.shows
        else without
        for cause in causes[:-1]
    ]
    rows.append({o.key: (without[o.key] + unknown[o.key]) / 2 for o in possible})
    return {o.key: tuple(row[o.key] for row in rows) for o in possible}
