"""A shop with parts and suppliers, so that a test begins where its sheet does."""

from dataclasses import dataclass

from shopdesk.job.approval import SayEntry, approve, quote
from shopdesk.job.diagnosis import confirm_complaint, record_finding
from shopdesk.job.lines import LineEntry, add_line
from shopdesk.job.moving import go_on
from shopdesk.job.parts.catalogue import PartEntry, add_part, open_part
from shopdesk.job.parts.counting import count_part
from shopdesk.job.parts.fits import FitEntry, add_fit
from shopdesk.job.parts.kits import KitEntry, set_kit
from shopdesk.job.parts.offers import OfferEntry, add_offer
from shopdesk.job.parts.suppliers import SupplierEntry, add_supplier
from shopdesk.job.parts.views import PartView, SupplierView
from shopdesk.job.shift import Shift
from shopdesk.job.stages import Stage
from shopdesk.job.views import TicketView


@dataclass(frozen=True)
class Stocked:
    """The parts and suppliers by what they are called."""

    plug: PartView
    filter: PartView
    line: PartView
    kit: PartView
    near: SupplierView
    far: SupplierView


def stocked(shift: Shift) -> Stocked:
    """Write down two suppliers, three parts and a kit; four plugs lie in their bin."""
    near = add_supplier(
        shift,
        SupplierEntry(
            "Quillmere Parts", "555-0170", postage="4.90", free_postage_from="60", lead_days="2"
        ),
    )
    far = add_supplier(
        shift, SupplierEntry("Hollin Vale Spares", postage="7.50", least_order="25", lead_days="5")
    )
    plug = add_part(
        shift,
        PartEntry("SP-7", "Spark plug", price="6.50", bin="B2", reorder_at="4", reorder_to="10"),
    )
    strainer = add_part(shift, PartEntry("FF-10", "Fuel filter", reorder_at="1", reorder_to="4"))
    line = add_part(shift, PartEntry("FL-25", "Fuel line, two sizes, 25 cm"))
    kit = add_part(shift, PartEntry("KT-3", "Fuel kit"))
    set_kit(shift, kit.id, [KitEntry(strainer.id, "1"), KitEntry(line.id, "2")])
    add_offer(shift, plug.id, near.id, OfferEntry("Q-1007", "10", "21.00"))
    add_offer(shift, plug.id, far.id, OfferEntry("HV7", "1", "2.60"))
    add_offer(shift, strainer.id, near.id, OfferEntry("Q-2210", "1", "3.10"))
    add_offer(shift, kit.id, far.id, OfferEntry("HVK3", "1", "9.00"))
    add_fit(shift, plug.id, FitEntry(make="Tarnbeck", model="TB-26", task="spark-plug"))
    count_part(shift, plug.id, "4")
    opened = [open_part(shift, part.id) for part in (plug, strainer, line, kit)]
    return Stocked(opened[0], opened[1], opened[2], opened[3], near, far)


def waiting(shift: Shift, ticket: TicketView, stock: Stocked) -> TicketView:
    """Bring a ticket that was just taken in to Parts: its plug is here, its fuel filter is not."""
    go_on(shift, ticket.id, Stage.DIAGNOSIS)
    confirm_complaint(shift, ticket.id, "seen")
    found = record_finding(shift, ticket.id, "plug-gap", ".040").findings[-1]
    record_finding(shift, ticket.id, "compression", "142")
    record_finding(shift, ticket.id, "spark", "s")
    add_line(
        shift,
        ticket.id,
        LineEntry("part", "", reason="failed", finding_id=found.id, part_id=stock.plug.id),
    )
    add_line(shift, ticket.id, LineEntry("part", "", reason="preventive", part_id=stock.filter.id))
    go_on(shift, ticket.id, Stage.APPROVAL)
    quote(shift, ticket.id)
    approve(shift, ticket.id, SayEntry("Ansel Brightwater", "by phone", phone="555-0142"))
    return go_on(shift, ticket.id, Stage.PARTS)
