"""Offers: what each supplier asks for a pack of a part, and under which number."""

from dataclasses import dataclass
from decimal import Decimal

from shopdesk.errors import JobError
from shopdesk.job import typed
from shopdesk.job.parts.catalogue import find_part
from shopdesk.job.parts.opened import offers_of, part_view
from shopdesk.job.parts.suppliers import find_supplier
from shopdesk.job.parts.views import OfferView, PartView
from shopdesk.job.shift import Change, Shift
from shopdesk.job.shop import Shop
from shopdesk.pricing.money import show_money, show_quantity
from shopdesk.records.fetch import row_of
from shopdesk.records.tables import Offer, Part, Supplier
from shopdesk.text import letters_and_digits


@dataclass(frozen=True, slots=True)
class OfferEntry:
    """An offer as typed: what a pack of so many costs. Empty ``lead_days``: the supplier's."""

    supplier_number: str = ""
    pack: str = "1"
    cost: str = ""
    lead_days: str = ""


def offer_entry(view: OfferView) -> OfferEntry:
    """Return an offer as it can be typed again."""
    return OfferEntry(
        supplier_number=view.supplier_number,
        pack=show_quantity(view.pack),
        cost=str(view.cost),
        lead_days="" if view.lead_days is None else str(view.lead_days),
    )


def add_offer(shift: Shift, part_id: int, supplier_id: int, entry: OfferEntry) -> PartView:
    """Write down what a supplier asks for a part; each size of pack is an offer of its own.

    Raises ``JobError`` at the field.
    """
    with shift.changing() as change:
        part, supplier = find_part(part_id), find_supplier(supplier_id)
        offer = Offer(part=part, supplier=supplier)
        _fill(change, offer, entry)
        change.add(offer)
        return part_view(part, change.shop)


def change_offer(
    shift: Shift, offer_id: int, entry: OfferEntry, version: int | None = None
) -> PartView:
    """Change an offer. ``version`` is the one shown; raises ``StaleError`` if it grew."""
    with shift.changing() as change:
        offer = find_offer(offer_id)
        offer.version = offer.version if version is None else version
        _fill(change, offer, entry)
        change.save(offer)
        return part_view(offer.part, change.shop)


def drop_offer(shift: Shift, offer_id: int, why: str = "") -> PartView:
    """Take an offer off the list; the journal, and the cost history, keep it."""
    with shift.changing() as change:
        offer = find_offer(offer_id)
        change.remove(offer, typed.line(why, "why", "The reason"))
        return part_view(offer.part, change.shop)


def find_offer(offer_id: int) -> Offer:
    """Return the row (inside a transaction); raises ``JobError`` if there is none."""
    offer = row_of(Offer, offer_id)
    if offer is None:
        raise JobError("That offer is not in the records any more: open the part again.", "offer")
    return offer


def offer_for(supplier: Supplier, part: Part, pack: Decimal | None = None) -> Offer | None:
    """Return the supplier's offer of that pack, or else of the cheapest piece, in a transaction."""
    rows = [row for row in offers_of(part.id) if row.supplier_id == supplier.id]
    return next((row for row in rows if pack is None or row.pack == pack), None)


def note_cost(
    change: Change, supplier: Supplier, part: Part, pack: Decimal, cost: Decimal, number: str
) -> None:
    """Keep what a supplier took for a pack as the offer, inside a transaction."""
    offer = offer_for(supplier, part, pack)
    if offer is None:
        folded = letters_and_digits(number)
        offer = Offer(part=part, supplier=supplier, pack=pack, folded_number=folded)
        offer.supplier_number, offer.cost, offer.asked_at = number, cost, change.at
        change.add(offer)
    elif offer.cost != cost:
        offer.cost, offer.asked_at = cost, change.at
        change.save(offer, "as charged with a delivery")


def _fill(change: Change, offer: Offer, entry: OfferEntry) -> None:
    offer.supplier_number = typed.line(
        entry.supplier_number, "supplier_number", "The supplier's number"
    )
    offer.folded_number = letters_and_digits(offer.supplier_number)
    offer.pack = typed.quantity(entry.pack or "1", "pack")
    if not entry.cost.strip():
        raise JobError("What a pack costs is empty: type it.", "cost")
    offer.cost = typed.money(entry.cost, "cost")
    days = typed.line(entry.lead_days, "lead_days", "The days until it comes")
    offer.lead_days = typed.days(days, "lead_days", "The days until it comes") if days else None
    offer.asked_at = change.at
    _refuse_double(change.shop, offer)


def _refuse_double(shop: Shop, offer: Offer) -> None:
    same = (Offer.part == offer.part_id) & (Offer.supplier == offer.supplier_id)
    for other in Offer.select().where(same):
        if other.pack == offer.pack and other.id != offer.id:
            raise JobError(
                f"{other.supplier.name} has an offer for {show_quantity(other.pack)} of it already,"
                f" at {show_money(other.cost, shop.currency)}: change that one.",
                "pack",
            )
