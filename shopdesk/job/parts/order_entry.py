"""A line of an order to a supplier as typed, and what its row keeps of it."""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from shopdesk.errors import JobError
from shopdesk.job import typed
from shopdesk.job.parts.offers import offer_for
from shopdesk.job.shift import Change
from shopdesk.pricing.money import show_quantity
from shopdesk.records.tables import OrderLine, PartOrder


@dataclass(frozen=True, slots=True)
class OrderLineEntry:
    """Packs of a part, as typed; what is left empty comes from the supplier's offer."""

    part_id: int
    packs: str = "1"
    pack: str = ""
    cost: str = ""
    supplier_number: str = ""
    expected_on: str = ""


def fill(change: Change, order: PartOrder, row: OrderLine, entry: OrderLineEntry) -> None:
    """Put what is typed on the row, inside a transaction; raises ``JobError`` at the field."""
    pack = typed.optional_quantity(entry.pack, "pack")
    offer = offer_for(order.supplier, row.part, pack)
    row.packs = _whole(entry.packs, "packs")
    row.pack = pack or (offer.pack if offer else Decimal(1))
    number = typed.line(entry.supplier_number, "supplier_number", "The supplier's number")
    row.supplier_number = number or (offer.supplier_number if offer else "")
    cost = typed.optional_money(entry.cost, "cost")
    if cost is None and offer is None:
        raise JobError(
            f"{order.supplier.name} has no offer for that pack of “{row.part.name}”: "
            "type what a pack costs.",
            "cost",
        )
    row.cost = offer.cost if cost is None and offer else cost
    row.expected_on = typed.day(
        entry.expected_on, "expected_on", change.today, day_first=change.shop.day_first
    )
    refuse_past(row.expected_on, change.today)


def refuse_past(day: date | None, today: date) -> None:
    """Raise ``JobError`` at ``expected_on`` for a day that is over."""
    if day is not None and day < today:
        raise JobError(f"{day:%d %b %Y} is over: type the day it is expected.", "expected_on")


def _whole(typed_packs: str, field: str) -> Decimal:
    packs = typed.quantity(typed_packs, field)
    if packs != int(packs):
        raise JobError(f"{show_quantity(packs)} packs: type a whole number of packs.", field)
    return packs
