"""What lies in the bin, set right by counting, and pieces that leave it without a ticket."""

from dataclasses import dataclass
from decimal import Decimal

from shopdesk.errors import JobError
from shopdesk.job import typed
from shopdesk.job.opened import tag_of
from shopdesk.job.parts.catalogue import find_part
from shopdesk.job.parts.opened import part_view
from shopdesk.job.parts.prices import cost_in_force
from shopdesk.job.parts.stock import COUNTED, SCRAPPED, SENT_BACK, SOLD, move, reserved_lines
from shopdesk.job.parts.stock_levels import level_of
from shopdesk.job.parts.views import PartView
from shopdesk.job.shift import Change, Shift
from shopdesk.job.standing import TO_ORDER
from shopdesk.pricing.money import show_quantity
from shopdesk.records.tables import Part

WAYS_OUT = (SOLD, SCRAPPED, SENT_BACK)
"""How a piece may leave the bin without a ticket."""


@dataclass(frozen=True, slots=True)
class Counted:
    """The part as counted; ``lost`` says whose piece turned out not to be there."""

    part: PartView
    lost: tuple[str, ...]


def count_part(shift: Shift, part_id: int, counted: str, note: str = "") -> Counted:
    """Set what lies in the bin to what was counted there.

    Where that is less than tickets have reserved, those promised last are to be ordered again.
    """
    with shift.changing() as change:
        part = find_part(part_id)
        found = typed.quantity_from_zero(counted, "counted")
        note = typed.line(note, "note", "The note")
        move(change, part, found - part.quantity, COUNTED, note=note)
        lost = _release(change, part)
        return Counted(part_view(part, change.shop), lost)


def take_out(shift: Shift, part_id: int, quantity: str, why: str, note: str = "") -> PartView:
    """Take pieces out that no ticket uses: one of ``WAYS_OUT``, and only what is free.

    Raises ``JobError`` at ``quantity`` for more.
    """
    with shift.changing() as change:
        part = find_part(part_id)
        how = typed.choice(why, "why", WAYS_OUT, "What became of it", needed=True)
        pieces = typed.quantity(quantity, "quantity")
        note = typed.line(note, "note", "The note")
        _refuse_beyond_free(part, pieces)
        move(change, part, -pieces, how, cost=cost_in_force(part).cost, note=note)
        return part_view(part, change.shop)


def send_back(shift: Shift, part_id: int, quantity: str, note: str = "") -> PartView:
    """Send pieces back to the supplier: an old one for its core charge, or a wrong one."""
    return take_out(shift, part_id, quantity, SENT_BACK, note)


def _release(change: Change, part: Part) -> tuple[str, ...]:
    """Set lines back to order until the bin holds what is reserved."""
    lost = []
    over = -level_of(part.id).free
    for line in reversed(reserved_lines(part.id)):
        if over <= 0:
            break
        line.supply, line.order_line = TO_ORDER, None
        change.save(line, "not in the bin when it was counted")
        over -= line.quantity
        lost.append(
            f"{tag_of(line.ticket.number)} waits for {show_quantity(line.quantity)} of "
            f"“{part.name}” after all: order it."
        )
    return tuple(lost)


def _refuse_beyond_free(part: Part, pieces: Decimal) -> None:
    level = level_of(part.id)
    if pieces > level.free:
        kept = f", {show_quantity(level.reserved)} kept for tickets" if level.reserved else ""
        raise JobError(
            f"The bin holds {show_quantity(part.quantity)} of “{part.name}”{kept}: "
            f"at most {show_quantity(level.free)} can go.",
            "quantity",
        )
