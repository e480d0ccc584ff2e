"""The lines of a ticket as the ways out see them: which a way may replace, and what those cure."""

from collections.abc import Iterable, Sequence
from decimal import Decimal

from shopdesk.bench.cause_book import SOMETHING_ELSE
from shopdesk.job.fixing import speaks_for
from shopdesk.job.lines import AGREED_FEE
from shopdesk.job.options.jobs import Item
from shopdesk.job.options.odds import Chances
from shopdesk.job.options.parts import FittingParts
from shopdesk.job.reasons import Reason
from shopdesk.job.reckoned import DISCOUNT, SUPPLIES
from shopdesk.job.standing import ON_HAND, TicketRows
from shopdesk.job.what_if import PlainLine
from shopdesk.pricing.totals import LineKind
from shopdesk.records.tables import Line
from shopdesk.text import letters_and_digits

_REASONS = (Reason.FAILED, Reason.WORN, Reason.KIT, Reason.PREVENTIVE)
_KINDS = (LineKind.PART, LineKind.LABOUR)


def replaceable(rows: TicketRows) -> list[Line]:
    """Return the lines that a way out takes the place of: parts and labour of the repair on offer.

    What is done stays, and so does what was asked for, what is billed by the clock, and fees.
    """
    return [line for line in rows.live_lines if _is_replaceable(line)]


def kept_lines(rows: TicketRows) -> list[PlainLine]:
    """Return what stays on the ticket whichever repair is chosen, as the sums need it."""
    return [
        PlainLine(LineKind(line.kind), line.quantity, line.unit_price, line.off, line.reason)
        for line in rows.live_lines
        if not _is_replaceable(line)
        and line.reckoned not in (SUPPLIES, DISCOUNT)
        and not came_with_the_no(rows, line)
    ]


def came_with_the_no(rows: TicketRows, line: Line) -> bool:
    """Whether a line is the fee that a no brought: it goes when a repair is chosen after all."""
    return rows.refused and line.kind == LineKind.FEE and line.description == AGREED_FEE


def hours_kept(rows: TicketRows) -> Decimal:
    """Return the bench hours on the ticket that are to be done whichever repair is chosen."""
    left = (
        line.quantity
        for line in rows.live_lines
        if line.kind == LineKind.LABOUR
        and line.done_at is None
        and line.reason != Reason.DIAGNOSIS
        and not _is_replaceable(line)
    )
    return sum(left, Decimal(0))


def _is_replaceable(line: Line) -> bool:
    return (
        line.kind in _KINDS
        and line.reason in _REASONS
        and line.done_at is None
        and not line.reckoned
    )


def item_of(line: Line, parts: FittingParts) -> Item:
    """Return a line of the ticket as one that is thought of."""
    return Item(
        kind=LineKind(line.kind),
        description=line.description,
        quantity=line.quantity,
        unit_price=line.unit_price,
        reason=line.reason,
        note=line.reason_note,
        finding_id=line.finding_id,
        part_id=line.part_id,
        part_number=line.part_number,
        condition=line.condition,
        renews=line.renews,
        lead_days=_lead_of(line, parts),
        off=line.off,
    )


def alike(lines: Sequence[Line], items: Sequence[Item]) -> bool:
    """Whether lines on the ticket are those of a way, whatever they cost by now."""
    ours = sorted((item.kind, item.part_id or 0, item.description) for item in items)
    theirs = sorted((line.kind, line.part_id or 0, line.description) for line in lines)
    return bool(lines) and ours == theirs


def cures_of(lines: Iterable[Line], parts: FittingParts, chances: Chances) -> frozenset[str]:
    """Return the causes that the lines of a repair cure, by the best that they say.

    By their parts and by the fix that they name; else by the findings they rest on.
    """
    known = list(lines)
    by_part = [_by_part(line, parts) | _by_fix(line, chances) for line in known]
    possible = {cause.key for cause in chances.known}
    found = frozenset().union(*by_part) & possible
    return found or frozenset(filter(None, (_by_finding(line, chances) for line in known)))


def _by_part(line: Line, parts: FittingParts) -> frozenset[str]:
    part = parts.numbered(letters_and_digits(line.part_number))
    part_id = line.part_id or (part.id if part else None)
    if part_id is None:
        return frozenset()
    kit = parts.kit_of(part_id)
    return kit.causes if kit else parts.causes_of([part_id])


def _by_fix(line: Line, chances: Chances) -> frozenset[str]:
    said = letters_and_digits(line.description)
    return frozenset(cause.key for cause in chances.known if letters_and_digits(cause.fix) == said)


def _by_finding(line: Line, chances: Chances) -> str:
    """Return the likeliest cause that the line's finding speaks for, or empty."""
    if line.finding is None:
        return ""
    causes = chances.evidence.causes
    spoken_for = (
        cause.key
        for cause in chances.known
        if cause.key != SOMETHING_ELSE
        and speaks_for(causes.index(cause), line.finding, chances.evidence) > 1
    )
    return next(spoken_for, "")


def _lead_of(line: Line, parts: FittingParts) -> int | None:
    if line.kind != LineKind.PART or line.supply == ON_HAND:
        return 0
    part = parts.parts.get(line.part_id or 0)
    return parts.lead_of(part, line.quantity) if part else None
