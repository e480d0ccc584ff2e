"""What the shop's own tickets say of a model: how many, how long they took, what failed."""

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal
from statistics import median

from shopdesk.bench.checks import Verdict
from shopdesk.job.reference import cause_title
from shopdesk.job.stages import MENDED, Stage
from shopdesk.job.standing import DECLINED, DIAGNOSIS
from shopdesk.pricing.totals import LineKind
from shopdesk.records.fetch import answers
from shopdesk.records.fields import THOUSANDTHS

_MODEL = "FROM ticket JOIN unit ON unit.id = ticket.unit_id AND unit.model_key = ?"
_TICKETS = f"""
SELECT count(*),
       coalesce(sum(ticket.stage = ? AND ticket.outcome = ?), 0),
       coalesce(sum(ticket.stage = ? AND ticket.comeback_of_id IS NOT NULL), 0)
  {_MODEL}
"""
_HOURS = f"""
SELECT sum(line.quantity)
  {_MODEL} JOIN line ON line.ticket_id = ticket.id
 WHERE ticket.stage = ? AND ticket.outcome = ?
   AND line.kind = ? AND line.decision <> ? AND line.done_at IS NOT NULL
 GROUP BY ticket.id
"""
_FAILED = f"""
SELECT finding.title, count(DISTINCT ticket.id)
  {_MODEL} JOIN finding ON finding.ticket_id = ticket.id
 WHERE ticket.stage = ? AND finding.phase = ? AND finding.verdict = ?
 GROUP BY finding.title ORDER BY 2 DESC, 1 LIMIT 8
"""
_CAUSES = f"""
SELECT ticket.cause, ticket.cause_words, count(*)
  {_MODEL}
 WHERE ticket.stage = ? AND ticket.outcome = ? AND ticket.cause <> ''
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
    ((tickets, mended_count, comebacks),) = answers(_TICKETS, *mended, closed, model_key)
    labour = (LineKind.LABOUR, DECLINED)
    hours = [Decimal(sum_) for (sum_,) in answers(_HOURS, model_key, *mended, *labour)]
    causes = answers(_CAUSES, model_key, *mended)
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
