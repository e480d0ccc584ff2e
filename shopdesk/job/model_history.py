"""What fails on a model, or on a kind of machine: how often, at what age, and what it took."""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime
from decimal import ROUND_HALF_UP, Decimal
from statistics import median
from typing import Any

from shopdesk.bench.cause_book import SOMETHING_ELSE
from shopdesk.job.reference import cause_title
from shopdesk.job.shift import Shift
from shopdesk.job.stages import MENDED, Stage
from shopdesk.job.standing import DECLINED
from shopdesk.job.units import named_model_key
from shopdesk.pricing.totals import LineKind
from shopdesk.records.fetch import answers

MOST_TICKETS = 5_000
"""So many of the newest are looked at."""
_DAYS_IN_A_YEAR = Decimal("365.25")

_MENDED = """
SELECT ticket.id, ticket.cause, ticket.cause_words, unit.bought_on, ticket.taken_in_at,
       (SELECT coalesce(sum(quantity), 0) FROM line
         WHERE ticket_id = ticket.id AND kind = ? AND decision <> ? AND done_at IS NOT NULL),
       (SELECT coalesce(sum((quantity * unit_price + 500) / 1000), 0) FROM line
         WHERE ticket_id = ticket.id AND kind = ? AND decision <> ? AND done_at IS NOT NULL),
       (SELECT coalesce(sum(total), 0) FROM invoice WHERE ticket_id = ticket.id),
       EXISTS (SELECT 1 FROM ticket AS later WHERE later.comeback_of_id = ticket.id)
  FROM ticket JOIN unit ON unit.id = ticket.unit_id
 WHERE unit.{column} = ? AND stage = ? AND outcome = ? AND cause <> ''
 ORDER BY ticket.id DESC LIMIT ?
"""


@dataclass(frozen=True, slots=True)
class Failing:
    """One cause: how often it was mended, and what that took in the middle (median).

    ``years`` is the age of the machine, where the day it was bought is known; ``hours`` are at the
    bench; ``parts`` is before tax, ``total`` what was charged with tax; money in shop money.
    """

    title: str
    times: int
    years: Decimal | None
    hours: Decimal
    parts: Decimal
    total: Decimal
    came_back: int
    """How many of them were brought back for it."""


def what_fails_on_model(shift: Shift, make: str, model: str) -> tuple[Failing, ...]:
    """Return what was mended on a model, most often first. ``JobError`` where none is named."""
    return _failing(shift, "model_key", named_model_key(make, model))


def what_fails_on_kind(shift: Shift, kind: str) -> tuple[Failing, ...]:
    """Return what was mended on a kind of machine, most often first."""
    return _failing(shift, "kind", kind)


def _failing(shift: Shift, column: str, value: str) -> tuple[Failing, ...]:
    labour, part = (LineKind.LABOUR, DECLINED), (LineKind.PART, DECLINED)
    query = _MENDED.format(column=column)
    with shift.records.reading():
        rows = answers(query, *labour, *part, value, Stage.CLOSED, MENDED, MOST_TICKETS)
    by_cause: defaultdict[tuple[str, str], list[tuple[Any, ...]]] = defaultdict(list)
    for _, cause, words, *rest in rows:
        by_cause[cause, words if cause == SOMETHING_ELSE else ""].append(tuple(rest))
    found = [_one(cause_title(cause, words), rows) for (cause, words), rows in by_cause.items()]
    return tuple(sorted(found, key=lambda one: (-one.times, one.title)))


def _one(title: str, rows: Sequence[tuple[Any, ...]]) -> Failing:
    ages = [age for bought, came, *_ in rows if (age := _years(bought, came)) is not None]
    _, _, hours, parts, totals, back = zip(*rows, strict=True)
    return Failing(
        title=title,
        times=len(rows),
        years=_middle(ages, "0.1") if ages else None,
        hours=_middle([Decimal(one) / 1000 for one in hours], "0.1"),
        parts=_middle([Decimal(one) / 100 for one in parts], "0.01"),
        total=_middle([Decimal(one) / 100 for one in totals], "0.01"),
        came_back=sum(map(bool, back)),
    )


def _years(bought: Any, came: Any) -> Decimal | None:
    if not bought:
        return None
    first = date.fromisoformat(str(bought)[:10])
    days = (datetime.fromisoformat(str(came)).date() - first).days
    return max(Decimal(days), Decimal(0)) / _DAYS_IN_A_YEAR


def _middle(values: Sequence[Decimal], step: str) -> Decimal:
    return median(values).quantize(Decimal(step), ROUND_HALF_UP)
