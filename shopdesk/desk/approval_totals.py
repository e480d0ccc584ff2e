"""What the lines come to, in one line of words, and what may be charged without asking again."""

from shopdesk.job.shop import Shop
from shopdesk.job.views import TicketView
from shopdesk.pricing.money import show_money
from shopdesk.pricing.totals import Totals


def sums_words(totals: Totals, shop: Shop) -> str:
    """Return the sums that are not nothing: ``Parts $48.00  ·  Labour $60.00  · …``."""
    named = [
        ("Parts", totals.parts),
        ("Labour", totals.labour),
        ("Fees", totals.fees),
        ("Work done elsewhere", totals.sublet),
        ("Discount", totals.discount),
    ]
    taxes = [
        (f"{line.label} on {show_money(line.base, shop.currency)}", line.tax)
        for line in totals.taxes
    ]
    shown = [
        f"{name} {show_money(amount, shop.currency)}" for name, amount in (*named, *taxes) if amount
    ]
    return "  ·  ".join(shown)


def charge_words(ticket: TicketView, shop: Shop) -> str:
    """Return how far the owner's word goes."""
    allowed = show_money(ticket.may_charge, shop.currency)
    over = ticket.totals.total > ticket.may_charge
    so_far = "that is less than the total: ask" if over else "that covers the total"
    limit = (
        f"; the owner said at intake: up to {show_money(ticket.limit, shop.currency)}"
        if ticket.limit
        else ""
    )
    yes = f"; last yes {show_money(ticket.approved, shop.currency)}" if ticket.approved else ""
    return f"Up to {allowed} may be charged as things stand ({so_far}){limit}{yes}."


def no_words(ticket: TicketView, shop: Shop) -> str:
    """Return what the owner owes on a no."""
    if not ticket.if_declined:
        return "If the owner says no, nothing is owed."
    fee = show_money(ticket.if_declined, shop.currency)
    return f"If the owner says no, {fee} is owed for the diagnosis, tax included."
