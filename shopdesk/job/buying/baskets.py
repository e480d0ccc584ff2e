"""Buying the parts that tickets wait for: three baskets to choose from, and ordering one of them.

For one ticket, or for all that wait together with what runs low, since they share postage.
"""

from collections.abc import Sequence
from dataclasses import replace
from datetime import date

from shopdesk.dates import show_date
from shopdesk.errors import JobError
from shopdesk.job import typed
from shopdesk.job.buying.market import Shopping, shopping_for
from shopdesk.job.buying.needs import (
    lines_of_shop,
    needs_of_bin,
    needs_on,
    parts_on,
    to_order,
)
from shopdesk.job.buying.orders import carry_out
from shopdesk.job.buying.views import (
    BY_DAY,
    CHEAPEST,
    SOONEST,
    BasketView,
    BuyingView,
    Ordered,
)
from shopdesk.job.buying.words import Teller
from shopdesk.job.lines import refuse_unless_open
from shopdesk.job.parts.reorder import reorder_rows
from shopdesk.job.shift import Change, Shift, load_shop
from shopdesk.job.shop import Shop
from shopdesk.job.stages import Stage
from shopdesk.job.standing import find_ticket, refuse_over_agreed, rows_of
from shopdesk.pricing.basket import cheapest, soonest
from shopdesk.pricing.basket_lack import BasketError
from shopdesk.records.tables import Ticket

_CHANGED = "What is needed or on offer has changed meanwhile: look at the baskets again."
_NOTHING_NEEDED = (
    "No part is on this ticket. Put the parts that the repair needs on the Approval page (Alt+3)."
)
_NOTHING_TO_ORDER = "Nothing is to order: every part is in the bin, on order or fitted."
_NO_DAY = "Type the day by which all must be here."
_NOTHING_WAITS = "No ticket waits for a part that is to order, and nothing runs low."


def buying(shift: Shift, ticket_id: int, by: str | None = None) -> BuyingView:
    """Return what a ticket needs, and the cheapest, the soonest and the cheapest basket by a day.

    ``by`` is the day as typed; None for the day that the ticket is promised. This takes long enough
    to be done beside a window. Raises ``JobError`` at ``by``.
    """
    with shift.records.reading():
        shop, ticket = load_shop(), find_ticket(ticket_id)
        today = shift.today_in(shop)
        day = _promised(ticket, today) if by is None else _day(by, today, shop)
        parts = parts_on(ticket)
        wanted = to_order(parts)
        shopping = shopping_for(wanted)
        needs = needs_on(parts, shopping, today)
        refused = _refusal(ticket, shop)
    empty = "" if wanted else _NOTHING_TO_ORDER if needs else _NOTHING_NEEDED
    baskets = _baskets(Teller(shopping, today, shop.currency), day)
    return BuyingView(ticket_id, day, needs, baskets, empty, refused, shopping)


def baskets_for_shop(shift: Shift, by: str = "") -> BuyingView:
    """Return one basket for all tickets that wait and for what runs low, as ``buying`` does.

    Only tickets in Parts and Repair count: their owners have said yes.
    """
    with shift.records.reading():
        shop = load_shop()
        today = shift.today_in(shop)
        day = _day(by, today, shop)
        lines = lines_of_shop()
        shopping = shopping_for(lines, reorder_rows())
        needs = needs_on(lines, shopping, today) + needs_of_bin(shopping)
    baskets = _baskets(Teller(shopping, today, shop.currency), day)
    return BuyingView(None, day, needs, baskets, "" if needs else _NOTHING_WAITS, "", shopping)


def order_basket(shift: Shift, seen: BuyingView, aim: str) -> Ordered:
    """Order one of the baskets that were shown, one order for each supplier; all are placed.

    What comes from the bin is kept for its ticket. Raises ``JobError`` if what is needed or on
    offer changed since, or if the owner has not agreed to it.
    """
    found = seen.basket(aim)
    if found is None or found.basket is None:
        raise JobError(found.trouble if found else "There is nothing to order.", "basket")
    with shift.changing() as change:
        fresh = _again(change, seen)
        if fresh != seen.shopping:
            raise JobError(_CHANGED, "basket")
        orders = carry_out(change, fresh, found.basket)
    numbers = tuple(order.number for order in orders)
    return Ordered(numbers, _said(numbers, found))


def _baskets(teller: Teller, day: date | None) -> tuple[BasketView, ...]:
    market = teller.shopping.market
    if not market.needs:
        return ()
    best = teller.basket(CHEAPEST, "Cheapest", cheapest(market))
    fast = _marked(teller.basket(SOONEST, "Soonest", soonest(market)), best)
    return best, fast, _marked(_by_day(teller, day), best, fast)


def _by_day(teller: Teller, day: date | None) -> BasketView:
    if day is None:
        return teller.unasked(BY_DAY, "Cheapest by a day", _NO_DAY)
    title = f"Cheapest by {show_date(day, teller.today)}"
    try:
        basket = cheapest(teller.shopping.market, (day - teller.today).days)
    except BasketError as error:
        return teller.none(BY_DAY, title, error)
    return teller.basket(BY_DAY, title, basket)


def _marked(found: BasketView, *others: BasketView) -> BasketView:
    """Return the basket, with the title of an earlier one that buys the same."""
    same = (one.title for one in others if found.basket and one.basket == found.basket)
    return replace(found, same_as=next(same, ""))


def _again(change: Change, seen: BuyingView) -> Shopping:
    if seen.ticket_id is None:
        return shopping_for(lines_of_shop(), reorder_rows())
    ticket = find_ticket(seen.ticket_id)
    refuse_unless_open(ticket)
    refusal = _refusal(ticket, change.shop)
    if refusal:
        raise JobError(refusal, "approval")
    return shopping_for(to_order(parts_on(ticket)))


def _refusal(ticket: Ticket, shop: Shop) -> str:
    """Return why parts for a ticket may not be ordered yet, or nothing."""
    rows = rows_of(ticket)
    if rows.declined:
        return "The owner said no: ask again and record a yes before ordering."
    if ticket.stage == Stage.CLOSED:
        return "This ticket is closed: reopen it before ordering for it."
    try:
        refuse_over_agreed(rows, shop, "The work")
    except JobError as error:
        return error.sentence
    return ""


def _promised(ticket: Ticket, today: date) -> date | None:
    promised = ticket.promised_on
    return promised if promised is not None and promised >= today else None


def _day(by: str, today: date, shop: Shop) -> date | None:
    day = typed.day(by, "by", today, day_first=shop.day_first)
    if day is not None and day < today:
        raise JobError(f"{show_date(day)} is over: type the day it must all be here.", "by")
    return day


def _said(numbers: Sequence[str], found: BasketView) -> str:
    if not numbers:
        return "All of it is kept for the ticket from the bin."
    orders = "Order" if len(numbers) == 1 else "Orders"
    return f"{orders} {', '.join(numbers)} placed, {found.ready}."
