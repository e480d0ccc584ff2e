"""A catalogue for the tests of the ways out: parts for a trimmer, a kit of them, who sells them."""

from dataclasses import replace
from decimal import Decimal

from shopdesk.job.diagnosis import record_finding
from shopdesk.job.intake import TicketEntry
from shopdesk.job.moving import go_on
from shopdesk.job.parts.catalogue import PartEntry, add_part
from shopdesk.job.parts.counting import count_part
from shopdesk.job.parts.fits import FitEntry, add_fit
from shopdesk.job.parts.kits import KitEntry, set_kit
from shopdesk.job.parts.offers import OfferEntry, add_offer
from shopdesk.job.parts.suppliers import SupplierEntry, add_supplier
from shopdesk.job.shift import Shift, save_shop
from shopdesk.job.stages import Stage
from shopdesk.job.units import UnitEntry
from shopdesk.job.views import TicketView
from tests.job.workshop import OWNER, SHOP, TRIMMER, taken_in

USED_TRIMMER = replace(TRIMMER, bought_on="4 Apr 2029", hours_per_week="0.8")
BOGS = TicketEntry(
    "Bogs down when I open the throttle.", complaint_kind="bogs", onset="crept in", fuel="fresh"
)


def catalogue(shift: Shift) -> dict[str, int]:
    """Fill the catalogue; returns the parts' ids by what they are called here."""
    quick = add_supplier(shift, SupplierEntry("Northbank Parts", lead_days="3")).id
    slow = add_supplier(shift, SupplierEntry("Hollowell Trade", lead_days="6")).id
    ids = {
        "diaphragms": part_for(shift, "DK-26", "Diaphragm set", "21.00", ["hard-diaphragms"]),
        "line": part_for(
            shift, "FL-26", "Fuel line", "9.50", ["cracked-fuel-line"], ["fuel-filter-and-lines"]
        ),
        "filter": part_for(shift, "FF-26", "Fuel filter", "6.50", ["fuel-filter"]),
        "screen": part_for(shift, "CS-26", "Inlet screen", "4.00", ["carburettor-screen"]),
        "plug": part_for(shift, "SP-26", "Spark plug", "7.00", ["bad-plug"], ["spark-plug"]),
        "air": part_for(shift, "AF-26", "Air filter", "8.00", ["air-filter"], ["air-filter"]),
        "kit": part_for(shift, "TK-26", "Carburettor and line kit", "27.00", []),
    }
    held = ("diaphragms", "line", "filter", "screen")
    set_kit(shift, ids["kit"], [KitEntry(ids[name]) for name in held])
    for part_id in ids.values():
        add_offer(shift, part_id, slow, OfferEntry(cost="5.00"))
    add_offer(shift, ids["kit"], quick, OfferEntry(cost="16.00"))
    count_part(shift, ids["plug"], "3")
    return ids


def part_for(
    shift: Shift,
    number: str,
    name: str,
    price: str,
    causes: list[str],
    tasks: list[str] | None = None,
) -> int:
    """Add a part for the trimmer's model, for these causes and upkeep tasks; returns its id."""
    part = add_part(shift, PartEntry(number, name, price=price))
    for cause in causes:
        add_fit(shift, part.id, FitEntry(make="Tarnbeck", model="TB-26", cause=cause))
    for task in tasks or []:
        add_fit(shift, part.id, FitEntry(make="Tarnbeck", model="TB-26", task=task))
    return part.id


def bogging(shift: Shift, unit: UnitEntry = USED_TRIMMER) -> TicketView:
    """Return a ticket in Diagnosis of a trimmer that bogs, with two findings."""
    ticket = taken_in(shift, OWNER, unit, BOGS)
    go_on(shift, ticket.id, Stage.DIAGNOSIS)
    record_finding(shift, ticket.id, "mixture-run", "l")
    return record_finding(shift, ticket.id, "plug-look", "t")


def with_price_new(shift: Shift, price: str) -> None:
    """Let the shop know what a new trimmer costs."""
    save_shop(shift, replace(SHOP, prices_new={"string trimmer": Decimal(price)}))
