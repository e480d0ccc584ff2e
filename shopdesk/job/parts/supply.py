"""Parts that are waited for: ordered, promised for a day, and here."""

from shopdesk.errors import JobError
from shopdesk.job import typed
from shopdesk.job.lines import find_open_line
from shopdesk.job.opened import ticket_view
from shopdesk.job.parts.stock import settle_supply
from shopdesk.job.shift import Shift
from shopdesk.job.standing import ON_ORDER, SUPPLIES
from shopdesk.job.views import TicketView
from shopdesk.pricing.totals import LineKind


def set_supply(shift: Shift, line_id: int, supply: str, expected_on: str = "") -> TicketView:
    """Note where a part is: ``to order``, ``on order`` (for which day) or ``on hand``.

    A catalogue part is on hand only where so many of it are free in the bin.
    """
    with shift.changing() as change:
        line, ticket = find_open_line(line_id)
        if line.kind != LineKind.PART:
            raise JobError("Only a part can be ordered: this line is none.", "line")
        chosen = typed.choice(supply, "supply", SUPPLIES, "Where the part is", needed=True)
        if line.part is None:
            line.supply = chosen
        else:
            settle_supply(line, chosen)
        day = typed.day(expected_on, "expected_on", change.today, day_first=change.shop.day_first)
        line.expected_on = day if line.supply == ON_ORDER else None
        change.save(line)
        return ticket_view(ticket, change.shop, change.today)
