"""Which lines of tickets wait for a part that is to order, and where each part is, in words.

Everything here is called inside a transaction.
"""

from collections.abc import Iterable
from datetime import date

from shopdesk.dates import show_date
from shopdesk.job.buying.market import Shopping, numbers_of
from shopdesk.job.buying.views import NeedView
from shopdesk.job.opened import tag_of
from shopdesk.job.parts.order_writing import AGREED
from shopdesk.job.parts.stock import by_promise
from shopdesk.job.standing import ON_HAND, ON_ORDER, TO_ORDER, live
from shopdesk.pricing.totals import LineKind
from shopdesk.records.fetch import rows_by
from shopdesk.records.tables import Line, Ticket


def parts_on(ticket: Ticket) -> list[Line]:
    """Return the lines of a ticket that are parts and stand."""
    lines = live(rows_by(Line, "ticket_id", ticket.id, "position"))
    return [line for line in lines if line.kind == LineKind.PART]


def to_order(lines: Iterable[Line]) -> list[Line]:
    """Return those of the lines whose part nobody was asked for yet."""
    return [line for line in lines if _is_to_order(line)]


def lines_of_shop() -> list[Line]:
    """Return the lines that wait in tickets whose owners said yes, the one promised first first."""
    query = (
        Line.select(Line, Ticket)
        .join(Ticket)
        .where(
            (Line.kind == LineKind.PART)
            & (Line.decision == "")
            & (Line.supply == TO_ORDER)
            & Ticket.stage.in_(AGREED)
        )
    )
    return by_promise(to_order(query))


def needs_on(lines: Iterable[Line], shopping: Shopping, today: date) -> tuple[NeedView, ...]:
    """Return parts on tickets as they are shown, each with where it is."""
    lines = list(lines)
    numbers = numbers_of(lines)
    sentences = {lack.need: lack.sentence for lack in shopping.lacks}
    found = []
    for line in lines:
        trouble = sentences.get(str(line.id), "")
        if trouble and not numbers[line.id]:
            trouble = (
                f"“{line.description}” has no part number: choose the part on the Approval page, "
                "or order it by hand."
            )
        found.append(
            NeedView(
                line_id=line.id,
                ticket_id=line.ticket_id,
                tag=tag_of(line.ticket.number),
                title=line.description,
                number=line.part_number or (line.part.number if line.part else ""),
                condition=line.condition,
                quantity=line.quantity,
                where=_where(line, today),
                to_order=_is_to_order(line),
                part_id=line.part_id,
                trouble=trouble,
            )
        )
    return tuple(found)


def needs_of_bin(shopping: Shopping) -> tuple[NeedView, ...]:
    """Return what runs low, as it is shown beside what tickets need."""
    sentences = {lack.need: lack.sentence for lack in shopping.lacks}
    return tuple(
        NeedView(
            line_id=None,
            ticket_id=None,
            tag="",
            title=row.name,
            number=row.number,
            condition=row.condition,
            quantity=row.wanted,
            where="runs low in the bin",
            to_order=True,
            part_id=row.part_id,
            trouble=sentences.get(key, ""),
        )
        for key, row in shopping.low.items()
    )


def _is_to_order(line: Line) -> bool:
    return line.supply == TO_ORDER and line.done_at is None and line.order_line_id is None


def _where(line: Line, today: date) -> str:
    if line.done_at is not None:
        return "fitted"
    if line.supply == ON_HAND:
        place = f", {line.part.bin}" if line.part and line.part.bin else ""
        return f"in the bin{place}" if line.part else "here"
    order = line.order_line.order if line.order_line else None
    if line.supply == ON_ORDER:
        by = f" {order.number} from {order.supplier.name}" if order else ""
        day = f", here {show_date(line.expected_on, today)}" if line.expected_on else ""
        return f"on order{by}{day}"
    return f"to order; order {order.number} is being written" if order else "to order"
