"""One visit of an owner, who may bring several machines: what was taken in, and on what terms."""

from datetime import datetime

from shopdesk.dates import local_day
from shopdesk.job import paper_content as paper
from shopdesk.job.opened import tag_of
from shopdesk.job.paperwork import addressee, letterhead, machine
from shopdesk.job.shift import Shift, load_shop
from shopdesk.job.shop import Shop
from shopdesk.job.stages import Stage
from shopdesk.job.standing import diagnosis_fee_with_tax, find_ticket
from shopdesk.pricing.money import show_money
from shopdesk.records.fetch import rows_by
from shopdesk.records.tables import Ticket


def visit_tickets(shift: Shift, ticket_id: int) -> tuple[int, ...]:
    """Return the ids of all tickets that its owner brought on the same day, the first first."""
    with shift.records.reading():
        return tuple(row.id for row in _visit(find_ticket(ticket_id), load_shop().zone))


def machines_here(shift: Shift, customer_id: int) -> frozenset[int]:
    """Return the ids of a customer's machines that are here on an open ticket."""
    with shift.records.reading():
        theirs = rows_by(Ticket, "customer_id", customer_id)
        return frozenset(one.unit_id for one in theirs if one.stage != Stage.CLOSED)


def visit_slip(shift: Shift, ticket_id: int) -> paper.VisitSlipContent:
    """Return what the owner's slip says of all the machines of a ticket's visit."""
    with shift.records.reading():
        shop, ticket = load_shop(), find_ticket(ticket_id)
        return paper.VisitSlipContent(
            shop=letterhead(shop),
            owner=addressee(ticket.customer),
            on=local_day(ticket.taken_in_at, shop.zone),
            rows=tuple(_row(one, shop) for one in _visit(ticket, shop.zone)),
            storage_per_day=shop.storage_per_day,
            storage_after_days=shop.storage_after_days,
        )


def terms_in_short(shop: Shop) -> str:
    """Return what an owner is told before the machine is left, in a line or two."""
    fee = show_money(shop.diagnosis_fee, shop.currency)
    without = "" if shop.tax_included or not shop.tax_rates else " and its tax"
    said = [
        f"Finding the trouble costs {fee}{without}, owed even if the repair is declined."
        if shop.diagnosis_fee
        else "Finding the trouble costs nothing if the repair is declined.",
        "Past what it may cost, or where nothing is said, we ask first.",
    ]
    if shop.storage_per_day:
        rate = show_money(shop.storage_per_day, shop.currency)
        said.append(
            f"Not fetched: {rate} a day from {shop.storage_after_days} days after it is ready."
        )
    return " ".join(said)


def _visit(ticket: Ticket, zone: str) -> list[Ticket]:
    def day(moment: datetime) -> object:
        return local_day(moment, zone)

    theirs = rows_by(Ticket, "customer_id", ticket.customer_id, "number")
    return [one for one in theirs if day(one.taken_in_at) == day(ticket.taken_in_at)]


def _row(ticket: Ticket, shop: Shop) -> paper.VisitSlipRow:
    return paper.VisitSlipRow(
        ticket=tag_of(ticket.number),
        machine=machine(ticket.unit),
        complaint=ticket.complaint,
        accessories=ticket.accessories,
        promised=ticket.promised_on,
        limit=ticket.limit_amount,
        diagnosis_fee=diagnosis_fee_with_tax(shop, ticket),
    )
