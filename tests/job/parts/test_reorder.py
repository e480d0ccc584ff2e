"""The reorder list: what runs low, from whom, in which packs; and the orders made from it."""

from datetime import date
from decimal import Decimal

from shopdesk.job.parts.catalogue import PartEntry, keep_part
from shopdesk.job.parts.counting import count_part
from shopdesk.job.parts.offers import OfferEntry, add_offer
from shopdesk.job.parts.ordering import place_order
from shopdesk.job.parts.reorder import (
    HEADINGS,
    ReorderRow,
    order_these,
    reorder_cells,
    reorder_content,
    reorder_list,
)
from shopdesk.job.shift import Shift
from shopdesk.pricing.money import show_quantity
from tests.job.parts.storeroom import DELLOW, came, offered, ordered, part, waiting
from tests.job.workshop import refused

FILTER = PartEntry("FF-10", "Fuel filter", bin="C4", reorder_at="2", reorder_to="8")


def figures(row: ReorderRow) -> tuple[str, str, str]:
    """What is free, what comes, and what is wanted."""
    return show_quantity(row.free), show_quantity(row.on_order), show_quantity(row.wanted)


def test_what_runs_low_is_listed_with_the_cheapest_way_to_fill_it(shift: Shift) -> None:
    view = part(shift, FILTER, "3")
    northbank = offered(shift, view.id, supplier_number="N-771", cost="2.40")
    add_offer(shift, view.id, northbank, OfferEntry("N-771/10", "10", "13.00"))
    offered(shift, view.id, DELLOW, cost="2.00")
    assert reorder_list(shift) == ()
    count_part(shift, view.id, "2")
    (row,) = reorder_list(shift)
    assert (row.supplier, row.packs, row.cost) == ("Dellow & Sons", Decimal(6), Decimal(12))
    assert row.words == "6 from Dellow & Sons"
    count_part(shift, view.id, "0")
    (row,) = reorder_list(shift)
    assert (row.wanted, row.supplier) == (Decimal(8), "Northbank Parts")
    assert (row.packs, row.pack, row.cost) == (Decimal(1), Decimal(10), Decimal("13.00"))
    assert row.words == "1 pack of 10 from Northbank Parts, 2 more than wanted"
    keep_part(shift, view.id, False)
    assert reorder_list(shift) == ()


def test_what_tickets_have_reserved_or_ordered_is_not_on_the_shelf(shift: Shift) -> None:
    view = part(shift, FILTER, "4")
    supplier = offered(shift, view.id)
    waiting(shift, 1, [(view.id, "3"), (view.id, "2")])
    (row,) = reorder_list(shift)
    assert figures(row) == ("1", "0", "7")
    order = ordered(shift, supplier, view.id, "2")
    (row,) = reorder_list(shift)
    assert figures(row) == ("1", "0", "7")
    came(shift, order, "2")
    (row,) = reorder_list(shift)
    assert figures(row) == ("1", "0", "7")
    ordered(shift, supplier, view.id, "1")
    (row,) = reorder_list(shift)
    assert figures(row) == ("1", "1", "6")
    ordered(shift, supplier, view.id, "1")
    assert reorder_list(shift) == ()


def test_the_list_is_ordered_by_supplier_and_not_twice(shift: Shift) -> None:
    view = part(shift, FILTER)
    plug = part(shift, PartEntry("SP-6", "Spark plug", reorder_at="0", reorder_to="4"))
    line = part(shift, PartEntry("FL-3", "Fuel line", reorder_at="5", reorder_to="25"))
    stray = part(shift, PartEntry("XX-1", "Odd bracket", reorder_at="0", reorder_to="1"))
    northbank = offered(shift, view.id)
    add_offer(shift, plug.id, northbank, OfferEntry(cost="3.10"))
    offered(shift, line.id, DELLOW, pack="25", cost="9.00")
    names = [row.name for row in reorder_list(shift)]
    assert names == ["Odd bracket", "Fuel line", "Fuel filter", "Spark plug"]
    with refused(shift, "part", "Nobody offers “Odd bracket”"):
        order_these(shift, [view.id, stray.id])
    orders = order_these(shift, [view.id, plug.id, line.id])
    assert [(order.number, order.supplier.name, len(order.lines)) for order in orders] == [
        ("P1", "Northbank Parts", 2),
        ("P2", "Dellow & Sons", 1),
    ]
    assert {order.state for order in orders} == {"being written"}
    assert [row.name for row in reorder_list(shift)] == ["Odd bracket"]
    with refused(shift, "part", "runs low no more"):
        order_these(shift, [view.id])
    assert place_order(shift, orders[1].id).expected_on == date(2031, 4, 8)


def test_the_list_as_cells_and_as_a_paper(shift: Shift) -> None:
    view = part(shift, FILTER)
    offered(shift, view.id, supplier_number="N-771")
    rows = reorder_list(shift)
    headings, cells = reorder_cells(rows)
    assert headings == HEADINGS
    assert dict(zip(headings, cells, strict=True)) == {
        **{"Number": "FF-10", "Name": "Fuel filter", "Condition": "new", "Bin": "C4"},
        **{"Free": 0, "On order": 0, "Order at": 2, "Up to": 8, "Wanted": 8, "Packs": 8},
        **{"Pieces in a pack": 1, "Supplier": "Northbank Parts", "Supplier's number": "N-771"},
        **{"A pack costs": Decimal("2.40"), "Cost": Decimal("19.20")},
    }
    content = reorder_content(shift)
    assert (content.on, content.shop.name) == (date(2031, 4, 7), "Fernhollow Small Engines")
    assert [(row.name, row.packs, row.supplier) for row in content.rows] == [
        ("Fuel filter", Decimal(8), "Northbank Parts")
    ]
