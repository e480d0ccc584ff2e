"""Deliveries: into the bin, onto the tickets that wait, and those tickets on to Repair."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

from shopdesk.job.approval import drop_approval
from shopdesk.job.lines import turn_down
from shopdesk.job.opened import open_ticket
from shopdesk.job.parts.catalogue import PartEntry, open_part
from shopdesk.job.parts.kits import KitEntry, set_kit
from shopdesk.job.parts.offers import OfferEntry, add_offer
from shopdesk.job.parts.order_views import OrderView, open_order
from shopdesk.job.parts.ordering import OrderLineEntry, add_order_line, new_order, place_order
from shopdesk.job.parts.receipt import PackedEntry, Receipt, ReceiptEntry
from shopdesk.job.parts.receiving import all_to_come, asked_costs, receive
from shopdesk.job.shift import Shift
from shopdesk.job.stages import Stage
from shopdesk.job.views import LineView, TicketView
from tests.job.parts.storeroom import (
    DELLOW,
    FILTER,
    came,
    level,
    offered,
    ordered,
    part,
    part_line,
    sound,
    waiting,
)
from tests.job.workshop import Clock, refused

PLUG = PartEntry("SP-6", "Spark plug", price="5.00")
KIT = PartEntry("TK-26", "Tune-up kit", price="21.50")


def now(shift: Shift, ticket: TicketView, place: int = 0) -> LineView:
    return part_line(open_ticket(shift, ticket.id), place)


def all_of(shift: Shift, order: OrderView) -> Receipt:
    return receive(shift, order.id, all_to_come(shift, order.id))


def test_the_last_part_moves_its_ticket_on(shift: Shift) -> None:
    view = part(shift)
    ticket = waiting(shift, 1, [(view.id, "1")])
    order = ordered(shift, offered(shift, view.id), view.id, "3")
    receipt = all_of(shift, order)
    (got,) = receipt.tickets
    assert (got.ticket_id, got.moved_on, got.missing) == (ticket.id, True, ())
    assert (got.owner, got.machine) == ("Owner 1", "String trimmer, Tarnbeck TB-26")
    assert receipt.words == (
        "Order P1: 3 × Fuel filter came. T1001 got 1 × Fuel filter and is in Repair now. "
        "Into stock: 2 × Fuel filter, bin C4."
    )
    moved = open_ticket(shift, ticket.id)
    assert moved.stage is Stage.REPAIR
    line = part_line(moved)
    assert (line.supply, line.expected_on, line.cost) == ("on hand", None, Decimal("2.40"))
    assert level(shift, view.id) == ("3", "1", "2", "0")
    assert receipt.order.state == "received"
    assert sound(shift)


def test_a_part_that_is_missing_keeps_its_ticket_waiting(shift: Shift) -> None:
    view, plug = part(shift), part(shift, PLUG)
    ticket = waiting(shift, 1, [(view.id, "1"), (plug.id, "1")])
    supplier = offered(shift, view.id)
    receipt = all_of(shift, ordered(shift, supplier, view.id))
    (got,) = receipt.tickets
    assert not got.moved_on
    assert got.words == (
        "T1001 got 1 × Fuel filter; not yet in Repair: "
        "1 part is not here yet: receive or drop what is missing."
    )
    assert open_ticket(shift, ticket.id).stage is Stage.PARTS


def test_a_ticket_without_its_yes_stays_where_it_is(shift: Shift) -> None:
    view = part(shift)
    ticket = waiting(shift, 1, [(view.id, "1")])
    order = ordered(shift, offered(shift, view.id), view.id)
    drop_approval(shift, ticket.approvals[0].id, "never said")
    (got,) = all_of(shift, order).tickets
    assert "no approval recorded" in got.words
    assert open_ticket(shift, ticket.id).stage is Stage.PARTS


def test_a_part_delivery_goes_to_whom_was_promised_first(shift: Shift) -> None:
    view = part(shift)
    tickets = [
        waiting(shift, number, [(view.id, "1")], promised=f"{30 - number} apr")
        for number in (1, 2, 3)
    ]
    order = ordered(shift, offered(shift, view.id), view.id, "3")
    receipt = came(shift, order, "2")
    assert [got.tag for got in receipt.tickets] == ["T1003", "T1002"]
    assert receipt.order.state == "part received"
    assert now(shift, tickets[0]).supply == "on order"
    with refused(
        shift, f"packs_{order.lines[0].id}", "1 of “Fuel filter” are still to come, not 2"
    ):
        came(shift, order, "2")
    assert [got.tag for got in came(shift, order, "1").tickets] == ["T1001"]
    assert sound(shift)


def test_what_is_no_delivery_is_refused_at_its_line(shift: Shift) -> None:
    view = part(shift)
    order = new_order(shift, offered(shift, view.id))
    order = add_order_line(shift, order.id, OrderLineEntry(view.id, "2"))
    line = order.lines[0].id

    def entry(packs: str, cost: str = "", postage: str = "") -> ReceiptEntry:
        return ReceiptEntry((PackedEntry(line, packs, cost),), postage)

    with refused(shift, "order", "place it first"):
        receive(shift, order.id, entry("1"))
    place_order(shift, order.id)
    for typed, field, words in (
        (entry(""), "lines", "how many packs came"),
        (entry("0"), "lines", "how many packs came"),
        (entry("1.5"), f"packs_{line}", "whole number"),
        (entry("one"), f"packs_{line}", "not a quantity"),
        (entry("1", "dear"), f"cost_{line}", "not an amount"),
        (entry("1", postage="x"), "postage", "not an amount"),
        (ReceiptEntry((PackedEntry(77, "1"),)), "packs_77", "not on this order"),
    ):
        with refused(shift, field, words):
            receive(shift, order.id, typed)


def test_what_it_really_cost_is_what_it_costs_from_now_on(shift: Shift, clock: Clock) -> None:
    view = part(shift, replace(FILTER, price=""))
    supplier = offered(shift, view.id, pack="10", cost="15.00")
    order = ordered(shift, supplier, view.id, "2")
    clock.forward(3)
    entry = ReceiptEntry((PackedEntry(order.lines[0].id, "2", "16.50"),), "7.25", "one bent")
    receipt = receive(shift, order.id, entry)
    assert (receipt.came[0].pieces, receipt.came[0].each) == (Decimal(20), Decimal("1.65"))
    assert (receipt.order.postage, receipt.order.goods, receipt.order.note) == (
        Decimal("7.25"),
        Decimal("33.00"),
        "one bent",
    )
    view = open_part(shift, view.id)
    assert (view.cost, view.offers[0].cost, view.quantity) == (
        Decimal("1.65"),
        Decimal("16.50"),
        Decimal(20),
    )
    assert [(cost.on, cost.supplier, str(cost.each), cost.what) for cost in view.costs] == [
        (date(2031, 4, 10), "Northbank Parts", "1.65", "received"),
        (date(2031, 4, 10), "Northbank Parts", "1.65", "asked"),
        (date(2031, 4, 7), "Northbank Parts", "1.50", "asked"),
    ]


def test_a_part_bought_without_an_offer_has_one_afterwards(shift: Shift) -> None:
    view = part(shift)
    order = new_order(shift, offered(shift, part(shift, PLUG).id))
    entry = OrderLineEntry(view.id, cost="2.10", supplier_number="N-5")
    order = add_order_line(shift, order.id, entry)
    all_of(shift, place_order(shift, order.id))
    (offer,) = open_part(shift, view.id).offers
    assert (offer.supplier_number, offer.cost) == ("N-5", Decimal("2.10"))


def test_as_many_kits_are_opened_as_tickets_need_of_what_they_hold(shift: Shift) -> None:
    kit, view, plug = part(shift, KIT), part(shift, FILTER, "1"), part(shift, PLUG)
    set_kit(shift, kit.id, (KitEntry(view.id, "2"), KitEntry(plug.id)))
    supplier = offered(shift, kit.id, cost="12.00")
    one = waiting(shift, 1, [(view.id, "3")], promised="20 apr")
    two = waiting(shift, 2, [(plug.id, "1"), (kit.id, "1")], promised="21 apr")
    lines = [part_line(one).id, part_line(two).id, part_line(two, 1).id]
    order = ordered(shift, supplier, kit.id, "3", lines)
    assert order.lines[0].tags == ("T1001", "T1002")
    receipt = all_of(shift, order)
    assert [(got.tag, got.moved_on) for got in receipt.tickets] == [
        ("T1002", True),
        ("T1001", True),
    ]
    assert level(shift, kit.id) == ("2", "1", "1", "0")
    assert level(shift, view.id) == ("3", "3", "0", "0")
    assert level(shift, plug.id) == ("1", "1", "0", "0")
    assert receipt.into_stock == ("1 × Tune-up kit",)
    assert sound(shift)


def test_what_a_kit_leaves_over_goes_into_stock(shift: Shift) -> None:
    kit, view, plug = part(shift, KIT), part(shift), part(shift, PLUG)
    set_kit(shift, kit.id, (KitEntry(view.id, "2"), KitEntry(plug.id)))
    one = waiting(shift, 1, [(view.id, "1")])
    order = ordered(shift, offered(shift, kit.id, cost="12.00"), kit.id, "1", [part_line(one).id])
    receipt = all_of(shift, order)
    assert receipt.into_stock == ("1 × Fuel filter, bin C4", "1 × Spark plug")
    assert now(shift, one).cost == Decimal("4.00")
    assert sound(shift)


def test_kits_for_the_shelf_stay_kits(shift: Shift) -> None:
    kit, view = part(shift, KIT), part(shift)
    set_kit(shift, kit.id, (KitEntry(view.id, "2"),))
    one = waiting(shift, 1, [(view.id, "1")])
    all_of(shift, ordered(shift, offered(shift, kit.id, cost="12.00"), kit.id))
    assert level(shift, kit.id) == ("1", "0", "1", "0")
    assert now(shift, one).supply == "to order"


def test_who_waits_without_an_order_of_their_own_gets_what_is_left(shift: Shift) -> None:
    view = part(shift)
    supplier = offered(shift, view.id)
    order = ordered(shift, supplier, view.id, "2")
    late = waiting(shift, 1, [(view.id, "1")], promised="30 apr")
    asked = waiting(shift, 2, [(view.id, "1")], promised="20 apr", stage=Stage.APPROVAL)
    elsewhere = waiting(shift, 3, [(view.id, "1")], promised="21 apr")
    ordered(shift, offered(shift, view.id, DELLOW), view.id)
    receipt = all_of(shift, order)
    assert [got.tag for got in receipt.tickets] == [elsewhere.tag, late.tag]
    assert now(shift, asked).supply == "to order"
    assert level(shift, view.id) == ("2", "2", "0", "1")
    assert sound(shift)


def test_a_line_the_owner_gave_up_leaves_its_part_to_the_shelf(shift: Shift) -> None:
    view = part(shift)
    ticket = waiting(shift, 1, [(view.id, "1")])
    order = ordered(shift, offered(shift, view.id), view.id)
    turn_down(shift, part_line(ticket).id)
    receipt = all_of(shift, order)
    assert (receipt.tickets, receipt.into_stock) == ((), ("1 × Fuel filter, bin C4",))


def test_a_line_of_which_some_lay_in_the_bin_waits_for_the_rest(shift: Shift) -> None:
    view = part(shift, lying="1")
    supplier = offered(shift, view.id)
    ticket = waiting(shift, 1, [(view.id, "3")])
    order = new_order(shift, supplier)
    add_order_line(shift, order.id, OrderLineEntry(view.id, "2"), [part_line(ticket).id])
    order = place_order(shift, order.id)
    assert came(shift, order, "1").tickets == ()
    assert now(shift, ticket).supply == "on order"
    assert came(shift, order, "1").tickets[0].moved_on
    assert level(shift, view.id) == ("3", "3", "0", "0")


def test_packs_from_two_suppliers_for_one_line(shift: Shift) -> None:
    view = part(shift)
    northbank, dellow = offered(shift, view.id), offered(shift, view.id, DELLOW)
    ticket = waiting(shift, 1, [(view.id, "2")])
    orders = []
    for supplier in (northbank, dellow):
        order = new_order(shift, supplier)
        add_order_line(shift, order.id, OrderLineEntry(view.id), [part_line(ticket).id])
        orders.append(order)
    first, second = (place_order(shift, order.id) for order in orders)
    assert all_of(shift, first).tickets == ()
    assert now(shift, ticket).supply == "on order"
    assert all_of(shift, second).tickets[0].moved_on
    assert open_order(shift, second.id).lines[0].tags == (ticket.tag,)
    assert sound(shift)


def test_the_defaults_are_all_that_is_to_come(shift: Shift) -> None:
    view, plug = part(shift), part(shift, PLUG)
    supplier = offered(shift, view.id)
    add_offer(shift, plug.id, supplier, OfferEntry(cost="3.10"))
    order = new_order(shift, supplier)
    add_order_line(shift, order.id, OrderLineEntry(view.id, "2"))
    add_order_line(shift, order.id, OrderLineEntry(plug.id))
    order = place_order(shift, order.id)
    came(shift, order, "2")
    assert all_to_come(shift, order.id) == ReceiptEntry(
        (PackedEntry(order.lines[1].id, "1", "3.10"),), "8.50"
    )


def test_a_cost_for_nothing_is_asked_about_and_is_never_the_suppliers_price(shift: Shift) -> None:
    view = part(shift)
    order = ordered(shift, offered(shift, view.id), view.id)
    line = order.lines[0].id
    entry = ReceiptEntry((PackedEntry(line, "1", "0"),))
    with refused(shift, f"cost_{line}", "for nothing"):
        receive(shift, order.id, entry)
    assert list(asked_costs(shift, order.id, entry)) == [line]
    agreed = open_part(shift, view.id).offers[0].cost
    receive(shift, order.id, replace(entry, confirmed=frozenset((line,))))
    assert level(shift, view.id)[0] == "1"
    assert open_part(shift, view.id).offers[0].cost == agreed


def test_a_cost_far_from_what_was_agreed_is_asked_about(shift: Shift) -> None:
    view = part(shift)
    order = ordered(shift, offered(shift, view.id, cost="4.00"), view.id)
    line = order.lines[0].id
    asked = {
        cost: bool(asked_costs(shift, order.id, ReceiptEntry((PackedEntry(line, "1", cost),))))
        for cost in ("2.00", "1.99", "6.00", "6.01", "40.00", "")
    }
    assert [cost for cost, is_asked in asked.items() if is_asked] == ["1.99", "6.01", "40.00"]
    with refused(shift, f"cost_{line}", "$40.00, ordered at $4.00: is that so?"):
        came(shift, order, "1", "40.00")
    assert not asked_costs(shift, order.id, ReceiptEntry((PackedEntry(line, "", "40.00"),)))
