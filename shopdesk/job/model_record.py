"""What the shop's own tickets say of a model: how many, how long they took, what failed."""

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal
from statistics import median

from shopdesk.bench.cause_book import SOMETHING_ELSE
from shopdesk.bench.checks import Verdict
from shopdesk.job.reference import cause_title
from shopdesk.job.stages import MENDED, Stage
from shopdesk.job.standing import DECLINED, DIAGNOSIS
from shopdesk.pricing.totals import LineKind
from shopdesk.records.fetch import answers
from shopdesk.records.fields import THOUSANDTHS

_OURS = """
WITH ours AS MATERIALIZED (
     SELECT ticket.id, stage, outcome, cause, cause_words, comeback_of_id
       FROM unit JOIN ticket ON ticket.unit_id = unit.id
      WHERE unit.model_key = ?)
"""
_TICKETS = f"""{_OURS}
SELECT count(*),
       count(CASE WHEN stage = ? AND outcome = ? THEN 1 END),
       count(CASE WHEN stage = ? THEN comeback_of_id END)
  FROM ours
"""
_HOURS = f"""{_OURS}
SELECT sum(line.quantity)
  FROM ours JOIN line ON line.ticket_id = ours.id
 WHERE ours.stage = ? AND ours.outcome = ?
   AND line.kind = ? AND line.decision <> ? AND line.done_at IS NOT NULL
 GROUP BY ours.id
"""
_FAILED = f"""{_OURS}
SELECT finding.title, count(DISTINCT ours.id)
  FROM ours JOIN finding ON finding.ticket_id = ours.id
 WHERE ours.stage = ? AND finding.phase = ? AND finding.verdict = ?
 GROUP BY finding.title ORDER BY 2 DESC, 1 LIMIT 8
"""
_CAUSES = f"""{_OURS}
SELECT cause, CASE WHEN cause = ? THEN cause_words ELSE '' END, count(*)
  FROM ours
 WHERE stage = ? AND outcome = ? AND cause <> ''
 GROUP BY 1, 2 ORDER BY 3 DESC, 1, 2 LIMIT 8
"""


@dataclass(frozen=True, slots=True)
class Counted:
    """Something that was met with, and on how many tickets."""

    words: str
    times: int


@dataclass(frozen=True, slots=True)
class ModelRecord:
    """What the tickets of one model come to. All but ``tickets`` is of closed ones alone."""

    tickets: int
    mended: int
    comebacks: int
    """How many were brought back for an earlier repair."""
    median_hours: Decimal | None
    """Bench hours of a mended one, as its done labour lines say."""
    failed: tuple[Counted, ...]
    """Checks that were out of limits while the cause was looked for, most often first."""
    causes: tuple[Counted, ...]
    """What it turned out to be, on mended ones, most often first."""


def record_of(model_key: str) -> ModelRecord:
    """Work out the record of a model, inside a transaction, by four queries."""
    closed, mended = Stage.CLOSED, (Stage.CLOSED, MENDED)
    ((tickets, mended_count, comebacks),) = answers(_TICKETS, model_key, *mended, closed)
    labour = (LineKind.LABOUR, DECLINED)
    hours = [Decimal(sum_) for (sum_,) in answers(_HOURS, model_key, *mended, *labour)]
    causes = answers(_CAUSES, model_key, SOMETHING_ELSE, *mended)
    return ModelRecord(
        tickets=tickets,
        mended=mended_count,
        comebacks=comebacks,
        median_hours=median(hours) / THOUSANDTHS if hours else None,
        failed=_counted(answers(_FAILED, model_key, closed, DIAGNOSIS, Verdict.FAIL)),
        causes=_counted((cause_title(cause, words), count) for cause, words, count in causes),
    )


def _counted(found: Iterable[tuple[str, int]]) -> tuple[Counted, ...]:
    return tuple(Counted(words, times) for words, times in found)
