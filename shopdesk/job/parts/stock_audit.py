"""Proves the stock: what lies in each bin is what came in less what went out, and none is lost."""

from collections.abc import Iterator
from decimal import Decimal

from shopdesk.pricing.money import show_quantity
from shopdesk.records.fetch import answers

_MOVED = """SELECT number, name, part.quantity, coalesce(moved, 0) FROM part
    LEFT JOIN (SELECT part_id, SUM(quantity) AS moved FROM stock_move GROUP BY part_id) AS moves
    ON moves.part_id = part.id
    WHERE part.quantity <> coalesce(moved, 0) OR part.quantity < 0 ORDER BY part.id"""
_RESERVED = """SELECT number, name, part.quantity, SUM(line.quantity) FROM part
    JOIN line ON line.part_id = part.id
    WHERE line.kind = 'part' AND line.supply = 'on hand' AND line.decision <> 'declined'
    AND line.done_at IS NULL GROUP BY part.id, number, name, part.quantity
    HAVING SUM(line.quantity) > part.quantity ORDER BY part.id"""
_TAKEN = """SELECT ticket.number, line.description, line.quantity, coalesce(-moved, 0) FROM line
    JOIN ticket ON ticket.id = line.ticket_id
    LEFT JOIN (SELECT line_id, SUM(quantity) AS moved FROM stock_move GROUP BY line_id) AS moves
    ON moves.line_id = line.id
    WHERE line.part_id IS NOT NULL AND line.kind = 'part' AND coalesce(-moved, 0) <>
    CASE WHEN line.done_at IS NULL THEN 0 ELSE line.quantity END ORDER BY line.id"""
_RECEIVED = """SELECT part_order.number, part.name, received * pack, coalesce(came, 0)
    FROM order_line JOIN part_order ON part_order.id = order_line.order_id
    JOIN part ON part.id = order_line.part_id
    LEFT JOIN (SELECT order_line_id, SUM(quantity) AS came FROM stock_move
    WHERE why = 'received' GROUP BY order_line_id) AS moves ON moves.order_line_id = order_line.id
    WHERE received * pack <> coalesce(came, 0) * 1000 OR received + cancelled > packs
    ORDER BY order_line.id"""
_COUNTS = "SELECT (SELECT count(*) FROM part), (SELECT count(*) FROM stock_move)"


def stock_faults() -> Iterator[str]:
    """Yield in a sentence each thing about the stock that can't be, inside a transaction."""
    for number, name, kept, moved in answers(_MOVED):
        yield (
            f"part {number} “{name}” is kept as {_shown(kept)} in the bin, "
            f"but what came in and went out leaves {_shown(moved)}"
        )
    for number, name, kept, reserved in answers(_RESERVED):
        yield (
            f"of part {number} “{name}” {_shown(reserved)} are kept for tickets, "
            f"but the bin holds {_shown(kept)}"
        )
    for number, words, quantity, taken in answers(_TAKEN):
        yield (
            f"“{words}” of T{number} took {_shown(taken)} out of the bin, "
            f"which is not what its line of {_shown(quantity)} says"
        )
    for number, name, kept, came in answers(_RECEIVED):
        pieces = Decimal(kept) / 1000
        yield (
            f"order {number} says that {_shown(pieces)} of “{name}” came, "
            f"but {_shown(came)} went into the bin, or more came than was ordered"
        )


def stock_proved() -> str:
    """Return in a line what holds when there are no faults, inside a transaction."""
    ((parts, moves),) = answers(_COUNTS)
    return (
        f"the bins of {_count(parts, 'part')} are what {_count(moves, 'move')} came to, "
        "and no piece is kept for two tickets"
    )


def _count(number: int, thing: str) -> str:
    return f"{number:,} {thing}" if number == 1 else f"{number:,} {thing}s"


def _shown(thousandths: Decimal | int) -> str:
    return show_quantity(Decimal(thousandths) / 1000)
