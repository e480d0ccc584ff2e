"""The ways out that an owner may choose by name: those on their last estimate, and today's."""

from datetime import date

import msgspec

from shopdesk.job.options.judged import TITLES
from shopdesk.job.options.worked_out import options_of
from shopdesk.job.paper_content import EstimateContent
from shopdesk.job.shift import Shift, load_shop
from shopdesk.job.shop import Shop
from shopdesk.job.standing import TicketRows, find_ticket, rows_of


def ways_to_choose(shift: Shift, ticket_id: int) -> tuple[str, ...]:
    """Return the titles of a ticket's ways out; raises ``JobError`` if there is no such ticket."""
    with shift.records.reading():
        shop, ticket = load_shop(), find_ticket(ticket_id)
        return ways_named(rows_of(ticket), shop, shift.today_in(shop))


def ways_named(rows: TicketRows, shop: Shop, today: date) -> tuple[str, ...]:
    """Do what ``ways_to_choose`` does, inside a transaction.

    The owner chooses from the paper they were given, also where the ways are others by now.
    """
    now = [one.title for one in options_of(rows.ticket, shop, today, rows).options]
    return tuple(dict.fromkeys((*now, *_on_paper(rows), *TITLES.values())))


def _on_paper(rows: TicketRows) -> list[str]:
    if not rows.estimates:
        return []
    given = msgspec.json.decode(rows.estimates[-1].content, type=EstimateContent)
    return [way.title for way in given.ways_out.columns] if given.ways_out else []
