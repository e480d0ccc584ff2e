"""What another machine costs: as typed for this one, or the shop's guide price for its kind."""

from dataclasses import dataclass
from decimal import Decimal

from shopdesk.job import typed
from shopdesk.job.opened import ticket_view
from shopdesk.job.shift import Shift
from shopdesk.job.shop import Shop
from shopdesk.job.standing import find_ticket
from shopdesk.job.views import TicketView
from shopdesk.records.tables import Unit


@dataclass(frozen=True, slots=True)
class PriceNew:
    """The price of another machine as it is paid, None where not known; ``words`` say whence."""

    price: Decimal | None
    words: str


def set_price_new(shift: Shift, ticket_id: int, price: str) -> TicketView:
    """Note what one like the ticket's machine costs new, as it is paid; empty takes it back."""
    with shift.changing() as change:
        ticket = find_ticket(ticket_id)
        ticket.unit.price_new = typed.optional_money(price, "price_new")
        change.save(ticket.unit)
        return ticket_view(ticket, change.shop, change.today)


def price_new_of(unit: Unit, shop: Shop) -> PriceNew:
    """Return what another machine costs."""
    if unit.price_new is not None:
        return PriceNew(unit.price_new, "The price of another machine was asked for this one.")
    by_kind = {kind.casefold(): price for kind, price in shop.prices_new.items()}
    price = by_kind.get(unit.kind.casefold())
    if price is None:
        return PriceNew(None, "")
    return PriceNew(price, f"The price of another machine is our guide price for a {unit.kind}.")
