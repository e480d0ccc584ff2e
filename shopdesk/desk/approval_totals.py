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
    before = ["Before tax:"] if totals.included and shown else []
    return "  ·  ".join([*before, *shown])


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
    return f"Up to {allowed} may be charged as things stand ({so_far}){limit}.{_yes(ticket, shop)}"


def _yes(ticket: TicketView, shop: Shop) -> str:
    """Return what the owner said yes to, and how far the shop's rule lets a bill go over it."""
    if not ticket.approved:
        return ""
    option = ticket.approvals[-1].option
    to = f"{option}, " if option else ""
    amount, rule = show_money(ticket.approved, shop.currency), shop.excess.words(shop.currency)
    return f" Last yes: {to}{amount}; our rule for going over it: {rule} (check your local law)."


def no_words(ticket: TicketView, shop: Shop) -> str:
    """Return what the owner owes on a no."""
    if not ticket.if_declined:
        return "If the owner says no, nothing is owed."
    fee = show_money(ticket.if_declined, shop.currency)
    return f"If the owner says no, {fee} is owed for the diagnosis, tax included."
