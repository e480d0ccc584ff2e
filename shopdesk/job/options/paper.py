"""The sheet of a ticket's ways out, for an owner to choose from before anything is itemised."""

from datetime import timedelta

from shopdesk.bench.checks import Verdict
from shopdesk.job.opened import in_short, tag_of
from shopdesk.job.options.columns import ways_out
from shopdesk.job.options.worked_out import options_of
from shopdesk.job.paper_content import WaysOutContent
from shopdesk.job.paperwork import addressee, letterhead, machine
from shopdesk.job.shift import Shift, load_shop
from shopdesk.job.standing import find_ticket, rows_of


def ways_out_content(shift: Shift, ticket_id: int) -> WaysOutContent:
    """Return the sheet of a ticket's ways out as they are now."""
    with shift.records.reading():
        shop, ticket = load_shop(), find_ticket(ticket_id)
        rows, today = rows_of(ticket), shift.today_in(shop)
        return WaysOutContent(
            shop=letterhead(shop),
            ticket=tag_of(ticket.number),
            on=today,
            owner=addressee(ticket.customer),
            machine=machine(ticket.unit),
            complaint=ticket.complaint,
            found=tuple(in_short(row) for row in rows.findings if Verdict(row.verdict).is_off),
            ways_out=ways_out(options_of(ticket, shop, today, rows)),
            valid_until=today + timedelta(days=shop.estimate_days),
        )
