"""What the shop's closed tickets say of how common each cause is: only mended ones count."""

from datetime import timedelta

from shopdesk.bench.causes import ShopCounts
from shopdesk.job.shift import Shift
from shopdesk.job.stages import MENDED, Stage
from shopdesk.job.units import model_key
from shopdesk.records.fetch import answers
from shopdesk.records.tables import Ticket

LATELY = timedelta(days=365)
MOST_TICKETS = 10_000
"""So many of the newest count: some years of a small shop, and no wait at the bench."""

_BY_CAUSE = """
SELECT unit.model_key = ?, newest.cause, count(*)
  FROM (SELECT unit_id, cause FROM ticket
         WHERE stage = ? AND outcome = ? AND cause <> '' AND id <> ?
         ORDER BY id DESC LIMIT ?) AS newest
  JOIN unit ON unit.id = newest.unit_id
 WHERE unit.kind = ? AND unit.engine = ?
 GROUP BY 1, 2
"""


def shop_history(
    shift: Shift, kind: str, engine: str, make: str = "", model: str = ""
) -> ShopCounts:
    """Count the closed tickets by cause: of the model, and of all others of its kind and engine.

    Only the newest ``MOST_TICKETS`` that were mended and name a cause.
    """
    with shift.records.reading():
        return closed_counts(kind, engine, model_key(make, model))


def closed_counts(kind: str, engine: str, key: str, leaving_out: int = 0) -> ShopCounts:
    """Count as ``shop_history`` does, inside a transaction, leaving one ticket out."""
    mended = (Stage.CLOSED, MENDED, leaving_out, MOST_TICKETS)
    found = answers(_BY_CAUSE, key or None, *mended, kind, engine)
    of_model = {cause: count for same, cause, count in found if same}
    rest = {cause: count for same, cause, count in found if not same}
    return ShopCounts(of_model, rest)


def renewed_lately(ticket: Ticket) -> frozenset[str]:
    """Return the causes mended on the ticket's machine within the year before it came in."""
    earlier = Ticket.select().where(
        Ticket.unit == ticket.unit_id,
        Ticket.id < ticket.id,
        Ticket.cause != "",
        Ticket.stage == Stage.CLOSED,
        Ticket.outcome == MENDED,
        Ticket.closed_at > ticket.taken_in_at - LATELY,
    )
    return frozenset(row.cause for row in earlier)
