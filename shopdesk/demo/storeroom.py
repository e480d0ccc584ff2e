"""Fills the demo's catalogue and bins, and keeps them filled over the years."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from decimal import Decimal
from itertools import product
from random import Random

import msgspec

from shopdesk.demo.clock import Wait
from shopdesk.demo.stocked import Fits, Good, Seller
from shopdesk.job.parts.catalogue import PartEntry, add_part, open_part
from shopdesk.job.parts.counting import count_part, take_out
from shopdesk.job.parts.fits import FitEntry, add_fit
from shopdesk.job.parts.kits import KitEntry, set_kit
from shopdesk.job.parts.offers import OfferEntry, add_offer, change_offer, offer_entry
from shopdesk.job.parts.ordering import place_order
from shopdesk.job.parts.receiving import all_to_come, receive
from shopdesk.job.parts.reorder import order_these, reorder_list
from shopdesk.job.parts.stock import SOLD
from shopdesk.job.parts.suppliers import SupplierEntry, add_supplier
from shopdesk.job.shift import Shift

BEGAN_AT = Decimal("0.92")
"""What much-used parts cost when the shop began to count, beside what they cost now."""
EVERY = 120
"""The bins are looked over every so many days."""
OVER_THE_COUNTER = ("LN-95", "MX-50", "BO-1")


@dataclass(frozen=True, slots=True)
class Storeroom:
    """The ids of what was written down: suppliers by key, parts by number."""

    supplier_ids: dict[str, int]
    part_ids: dict[str, int]
    """Of a number that comes new and used, the new one."""
    lead_days: dict[int, int]
    """By supplier, how long they take."""


def open_storeroom(shift: Shift, sellers: Iterable[Seller], goods: Iterable[Good]) -> Storeroom:
    """Write down suppliers, parts, kits, offers and what they fit, and count the bins."""
    suppliers = {one.key: add_supplier(shift, _seller_entry(one)) for one in sellers}
    room = Storeroom(
        {key: view.id for key, view in suppliers.items()},
        {},
        {view.id: view.lead_days for view in suppliers.values()},
    )
    kits = []
    for good in goods:
        part_id = add_part(shift, _part_entry(good)).id
        room.part_ids.setdefault(good.number, part_id)
        for seller, pack, cost in _offers(good):
            cost = _then(cost) if good.packs else cost
            entry = OfferEntry(f"{seller[:1].upper()}-{good.number}", pack, cost)
            add_offer(shift, part_id, room.supplier_ids[seller], entry)
        for fit in _fit_entries(good.fits):
            add_fit(shift, part_id, fit)
        if good.have:
            count_part(shift, part_id, good.have, "counted when the bins were numbered")
        if good.holds:
            kits.append((part_id, good.holds))
    for kit_id, holds in kits:
        entries = [KitEntry(room.part_ids[number], many) for number, many in holds.items()]
        set_kit(shift, kit_id, entries)
    return room


def price_lists(shift: Shift, goods: Iterable[Good], room: Storeroom) -> Iterator[Wait]:
    """The suppliers' new price lists come: what is much used costs what it costs today."""
    yield Wait(minutes=10)
    for good in goods:
        if not good.packs:
            continue
        today = {
            (room.supplier_ids[seller], Decimal(pack)): cost for seller, pack, cost in _offers(good)
        }
        for offer in open_part(shift, room.part_ids[good.number]).offers:
            cost = today.get((offer.supplier_id, offer.pack))
            if cost is not None and Decimal(cost) != offer.cost:
                typed = offer_entry(offer)
                change_offer(
                    shift,
                    offer.id,
                    OfferEntry(typed.supplier_number, typed.pack, cost, typed.lead_days),
                )


def keep_filled(shift: Shift, room: Storeroom, rounds: int, luck: Random) -> Iterator[Wait]:
    """Now and again what runs low is ordered, one order for each supplier, and comes."""
    for _ in range(rounds):
        yield Wait(days=EVERY - max(room.lead_days.values()))
        _sell(shift, room, luck)
        low = [row.part_id for row in reorder_list(shift) if row.supplier_id is not None]
        orders = order_these(shift, low)
        for order in orders:
            place_order(shift, order.id)
        on_the_way = sorted(orders, key=lambda one: room.lead_days[one.supplier.id])
        days = 0
        for order in on_the_way:
            yield Wait(days=max(1, room.lead_days[order.supplier.id] - days))
            days = room.lead_days[order.supplier.id]
            receive(shift, order.id, all_to_come(shift, order.id))


def _sell(shift: Shift, room: Storeroom, luck: Random) -> None:
    for number in OVER_THE_COUNTER:
        many = luck.randint(1, 4)
        if open_part(shift, room.part_ids[number]).free >= many:
            take_out(shift, room.part_ids[number], str(many), SOLD)


def _seller_entry(seller: Seller) -> SupplierEntry:
    typed = msgspec.structs.asdict(seller)
    del typed["key"]
    return SupplierEntry(**typed)


def _part_entry(good: Good) -> PartEntry:
    return PartEntry(
        good.number,
        good.name,
        good.condition,
        good.price,
        good.bin,
        good.at,
        good.to,
        good.warranty,
    )


def _offers(good: Good) -> Iterator[tuple[str, str, str]]:
    """Give each offer: the supplier, how many in a pack, what it costs today."""
    for seller, cost in good.offers.items():
        yield seller, "1", cost
    for pack in good.packs:
        yield pack.seller, pack.pack, pack.cost


def _fit_entries(fits: Iterable[Fits]) -> Iterator[FitEntry]:
    for one in fits:
        for machine, cause in product((*one.kinds, *one.models), one.causes or ("",)):
            if machine in one.kinds:
                yield FitEntry(machine, cause=cause, task=one.task)
            else:
                make, _, model = machine.partition(" ")
                yield FitEntry("", make, model, cause, one.task)


def _then(cost: str) -> str:
    """Return what it cost when the shop began to count, in steps of five cents."""
    steps = (Decimal(cost) * BEGAN_AT / Decimal("0.05")).quantize(Decimal(1))
    return str(steps * Decimal("0.05"))
