"""An invented storeroom for the job's tests: suppliers, parts, and tickets that wait for them."""

from collections.abc import Sequence
from dataclasses import replace

from shopdesk.job.approval import approve, quote
from shopdesk.job.diagnosis import record_finding
from shopdesk.job.intake import TicketEntry
from shopdesk.job.lines import LineEntry, add_line
from shopdesk.job.moving import go_on
from shopdesk.job.parts.catalogue import PartEntry, add_part, open_part
from shopdesk.job.parts.counting import count_part
from shopdesk.job.parts.offers import OfferEntry, add_offer
from shopdesk.job.parts.order_views import OrderView
from shopdesk.job.parts.ordering import OrderLineEntry, add_order_line, new_order, place_order
from shopdesk.job.parts.receipt import PackedEntry, Receipt, ReceiptEntry
from shopdesk.job.parts.receiving import receive
from shopdesk.job.parts.stock_audit import stock_faults
from shopdesk.job.parts.suppliers import SupplierEntry, add_supplier
from shopdesk.job.parts.views import PartView
from shopdesk.job.shift import Shift
from shopdesk.job.stages import Stage
from shopdesk.job.views import LineView, TicketView
from tests.job.workshop import INTAKE, SAYS, another

NORTHBANK = SupplierEntry(
    "Northbank Parts",
    phone="555-0177",
    postage="8.50",
    free_postage_from="60",
    least_order="10",
    lead_days="3",
)
DELLOW = SupplierEntry("Dellow & Sons", postage="4.00", lead_days="1")
FILTER = PartEntry("FF-10", "Fuel filter", price="6.20", bin="C4")


def part(shift: Shift, entry: PartEntry = FILTER, lying: str = "") -> PartView:
    """Return a new part, so many of it counted in the bin."""
    view = add_part(shift, entry)
    return count_part(shift, view.id, lying).part if lying else view


def offered(
    shift: Shift, part_id: int, supplier: SupplierEntry = NORTHBANK, cost: str = "2.40", **more: str
) -> int:
    """Write down a supplier with an offer of the part; return the supplier's id."""
    sells = add_supplier(shift, supplier)
    add_offer(shift, part_id, sells.id, OfferEntry(cost=cost, **more))
    return sells.id


def waiting(
    shift: Shift,
    number: int,
    parts: Sequence[tuple[int, str]],
    *,
    promised: str = "",
    stage: Stage = Stage.PARTS,
) -> TicketView:
    """Return a ticket brought to ``stage``, with lines for so many of each part."""
    entry: TicketEntry = replace(INTAKE, promised_on=promised)
    ticket = go_on(shift, another(shift, number, entry).id, Stage.DIAGNOSIS)
    record_finding(shift, ticket.id, "compression", "142")
    for part_id, quantity in parts:
        add_line(
            shift, ticket.id, LineEntry("part", "", quantity, part_id=part_id, reason="failed")
        )
    ticket = go_on(shift, ticket.id, Stage.APPROVAL)
    if stage is not Stage.APPROVAL:
        quote(shift, ticket.id)
        approve(shift, ticket.id, SAYS)
        ticket = go_on(shift, ticket.id, stage)
    return ticket


def ordered(
    shift: Shift, supplier_id: int, part_id: int, packs: str = "1", line_ids: Sequence[int] = ()
) -> OrderView:
    """Return an order of one part that went out."""
    order = new_order(shift, supplier_id)
    add_order_line(shift, order.id, OrderLineEntry(part_id, packs), line_ids)
    return place_order(shift, order.id)


def came(shift: Shift, order: OrderView, packs: str, cost: str = "") -> Receipt:
    """Take in packs of the order's first line."""
    entry = ReceiptEntry((PackedEntry(order.lines[0].id, packs, cost),))
    return receive(shift, order.id, entry)


def level(shift: Shift, part_id: int) -> tuple[str, str, str, str]:
    """Return how many lie in the bin, are reserved, free and on order, as text."""
    view = open_part(shift, part_id)
    found = (view.quantity, view.reserved, view.free, view.on_order)
    quantity, reserved, free, on_order = (f"{each.normalize():f}" for each in found)
    return quantity, reserved, free, on_order


def part_line(ticket: TicketView, place: int = 0) -> LineView:
    """Return one of the ticket's part lines."""
    return [line for line in ticket.lines if line.kind == "part"][place]


def sound(shift: Shift) -> bool:
    """Whether the stock proves: the moves add up, and nothing is kept twice."""
    with shift.records.reading():
        assert list(stock_faults()) == []
    return True
