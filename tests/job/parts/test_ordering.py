"""Orders to suppliers: written, placed, late, owed, called off; and the tickets that wait."""

from datetime import date
from decimal import Decimal

import pytest

from shopdesk.errors import StaleError
from shopdesk.job.opened import open_ticket
from shopdesk.job.parts.catalogue import PartEntry, find_part
from shopdesk.job.parts.kits import KitEntry, set_kit
from shopdesk.job.parts.offers import OfferEntry, add_offer
from shopdesk.job.parts.order_changes import (
    back_order,
    cancel_order,
    cancel_order_line,
    change_expected,
)
from shopdesk.job.parts.order_paper import order_content
from shopdesk.job.parts.order_views import list_orders, open_order
from shopdesk.job.parts.order_writing import Wanted, place_written, write_order
from shopdesk.job.parts.ordering import (
    OrderLineEntry,
    add_order_line,
    change_order,
    change_order_line,
    drop_order_line,
    new_order,
    order_part,
    place_order,
)
from shopdesk.job.parts.suppliers import find_supplier
from shopdesk.job.parts.supply import set_supply
from shopdesk.job.shift import Shift
from shopdesk.job.stages import Stage
from shopdesk.job.views import LineView, TicketView
from shopdesk.records.tables import OrderLine
from tests.job.parts.storeroom import (
    DELLOW,
    came,
    level,
    offered,
    ordered,
    part,
    part_line,
    sound,
    waiting,
)
from tests.job.workshop import refused


def now(shift: Shift, ticket: TicketView, place: int = 0) -> LineView:
    return part_line(open_ticket(shift, ticket.id), place)


def test_an_order_is_written_from_the_offers_and_placed_by_the_suppliers_terms(
    shift: Shift,
) -> None:
    view = part(shift)
    supplier = offered(shift, view.id, supplier_number="N-771")
    order = new_order(shift, supplier, "by telephone")
    assert (order.number, order.state, order.may_place) == ("P1", "being written", False)
    order = add_order_line(shift, order.id, OrderLineEntry(view.id, "3"))
    (line,) = order.lines
    assert (line.supplier_number, line.cost, line.total) == (
        "N-771",
        Decimal("2.40"),
        Decimal("7.20"),
    )
    assert (order.goods, order.postage, order.total) == (*map(Decimal, ("7.20", "8.50", "15.70")),)
    assert order.short_of_least == "$2.80 short of the $10.00 from which they send"
    assert order.postage_words == "free from $60.00"
    order = add_order_line(shift, order.id, OrderLineEntry(view.id, "22"))
    assert [(line.packs, order.postage) for line in order.lines] == [(Decimal(25), Decimal(0))]
    assert order.short_of_least == ""
    assert level(shift, view.id) == ("0", "0", "0", "0")
    placed = place_order(shift, order.id)
    assert (placed.state, placed.expected_on, placed.ordered_by) == (
        "ordered",
        date(2031, 4, 10),
        "Sam",
    )
    assert (placed.may_change, placed.may_receive, placed.may_cancel) == (False, True, True)
    assert level(shift, view.id) == ("0", "0", "0", "25")
    assert open_order(shift, order.id) == placed
    assert sound(shift)


def test_what_is_no_order_is_refused_at_its_field(shift: Shift) -> None:
    view, other = part(shift), part(shift, PartEntry("SP-6", "Spark plug"))
    supplier = offered(shift, view.id)
    order = new_order(shift, supplier)
    for entry, field, words in (
        (OrderLineEntry(view.id, "1.5"), "packs", "whole number of packs"),
        (OrderLineEntry(view.id, "0"), "packs", "above zero"),
        (OrderLineEntry(other.id), "cost", "Northbank Parts has no offer"),
        (OrderLineEntry(view.id, pack="10"), "cost", "no offer for that pack"),
        (OrderLineEntry(view.id, expected_on="1 apr 2031"), "expected_on", "is over"),
        (OrderLineEntry(77), "part", "not in the catalogue"),
    ):
        with refused(shift, field, words):
            add_order_line(shift, order.id, entry)
    with refused(shift, "lines", "put a part on it"):
        place_order(shift, order.id)
    order = add_order_line(shift, order.id, OrderLineEntry(other.id, cost="3.10"))
    place_order(shift, order.id, postage="0", expected_on="fri")
    with refused(shift, "order", "went out already"):
        add_order_line(shift, order.id, OrderLineEntry(view.id))
    with refused(shift, "order", "went out already"):
        place_order(shift, order.id)
    with refused(shift, "order", "choose one of the list"):
        open_order(shift, 77)
    with refused(shift, "line", "open the order again"):
        drop_order_line(shift, 77)


def test_a_line_is_changed_and_dropped_while_the_order_is_written(shift: Shift) -> None:
    view = part(shift)
    supplier = offered(shift, view.id)
    ticket = waiting(shift, 1, [(view.id, "1")])
    order = new_order(shift, supplier)
    order = add_order_line(shift, order.id, OrderLineEntry(view.id), [part_line(ticket).id])
    (line,) = order.lines
    assert line.tags == (ticket.tag,)
    assert now(shift, ticket).supply == "to order"
    changed = change_order_line(
        shift, line.id, OrderLineEntry(view.id, "2", cost="2.20"), line.version
    )
    assert (changed.lines[0].packs, changed.goods) == (Decimal(2), Decimal("4.40"))
    with pytest.raises(StaleError):
        change_order_line(shift, line.id, OrderLineEntry(view.id), line.version)
    assert change_order(shift, order.id, "ask for Ida").note == "ask for Ida"
    assert drop_order_line(shift, line.id).lines == ()
    assert sound(shift)


def test_parts_go_on_the_order_that_is_being_written_for_their_supplier(shift: Shift) -> None:
    view, other = part(shift), part(shift, PartEntry("SP-6", "Spark plug"))
    supplier = offered(shift, view.id)
    add_offer(shift, other.id, supplier, OfferEntry(cost="3.10"))
    first = order_part(shift, view.id, supplier)
    assert order_part(shift, other.id, supplier, "2").id == first.id
    place_order(shift, first.id)
    assert order_part(shift, view.id, supplier).number == "P2"
    assert [order.number for order in list_orders(shift)] == ["P2", "P1"]


def test_placing_tells_the_tickets_that_wait_first_promised_first(shift: Shift) -> None:
    view = part(shift)
    supplier = offered(shift, view.id)
    late = waiting(shift, 1, [(view.id, "1")], promised="30 apr")
    early = waiting(shift, 2, [(view.id, "2")], promised="20 apr")
    asked = waiting(shift, 3, [(view.id, "1")], promised="19 apr", stage=Stage.APPROVAL)
    order = ordered(shift, supplier, view.id, "2")
    assert order.lines[0].tags == (early.tag,)
    line = now(shift, early)
    assert (line.supply, line.expected_on) == ("on order", date(2031, 4, 10))
    assert now(shift, late).supply == now(shift, asked).supply == "to order"
    ordered(shift, supplier, view.id, "5")
    assert now(shift, late).supply == "on order"
    assert now(shift, asked).supply == "to order"


def test_the_day_may_change_and_the_supplier_may_owe_it(shift: Shift) -> None:
    view = part(shift)
    ticket = waiting(shift, 1, [(view.id, "1")])
    order = ordered(shift, offered(shift, view.id), view.id)
    order = change_expected(shift, order.id, "12 apr")
    assert order.expected_on == now(shift, ticket).expected_on == date(2031, 4, 12)
    line = order.lines[0].id
    order = change_expected(shift, order.id, "14 apr", line)
    order = back_order(shift, line, "1 may")
    assert (order.state, order.lines[0].state) == ("back-ordered", "back-ordered")
    assert now(shift, ticket).expected_on == date(2031, 5, 1)
    order = back_order(shift, line)
    assert order.expected_on is now(shift, ticket).expected_on is None
    with refused(shift, "expected_on", "is over"):
        change_expected(shift, order.id, "1 apr 2031")
    came(shift, order, "1")
    with refused(shift, "line", "Nothing is to come any more"):
        back_order(shift, line)


def test_what_is_called_off_is_to_order_again(shift: Shift) -> None:
    view, other = part(shift), part(shift, PartEntry("SP-6", "Spark plug"))
    supplier = offered(shift, view.id)
    add_offer(shift, other.id, supplier, OfferEntry(cost="3.10"))
    ticket = waiting(shift, 1, [(view.id, "1"), (other.id, "2")])
    order = new_order(shift, supplier)
    add_order_line(shift, order.id, OrderLineEntry(view.id))
    add_order_line(shift, order.id, OrderLineEntry(other.id, "2"))
    order = place_order(shift, order.id)
    assert [now(shift, ticket, place).supply for place in (0, 1)] == ["on order"] * 2
    order = cancel_order_line(shift, order.lines[1].id, "sold out")
    assert [line.state for line in order.lines] == ["ordered", "cancelled"]
    assert [now(shift, ticket, place).supply for place in (0, 1)] == ["on order", "to order"]
    assert order.goods == Decimal("2.40")
    order = cancel_order(shift, order.id, "closed down")
    assert (order.state, order.may_cancel, order.may_receive) == ("cancelled", False, False)
    assert now(shift, ticket).supply == "to order"
    assert level(shift, view.id) == ("0", "0", "0", "0")
    with refused(shift, "order", "Nothing is to come any more of order P1"):
        cancel_order(shift, order.id)
    with refused(shift, "line", "Nothing is to come"):
        cancel_order_line(shift, order.lines[0].id)
    assert list_orders(shift) == ()
    assert [row.state for row in list_orders(shift, closed=True)] == ["cancelled"]
    assert sound(shift)


def test_an_order_that_never_went_out_lets_its_lines_go(shift: Shift) -> None:
    view = part(shift)
    ticket = waiting(shift, 1, [(view.id, "1")])
    order = new_order(shift, offered(shift, view.id))
    add_order_line(shift, order.id, OrderLineEntry(view.id), [part_line(ticket).id])
    assert cancel_order(shift, order.id).state == "cancelled"
    assert open_order(shift, order.id).lines[0].tags == ()


def test_a_line_whose_order_is_called_off_has_what_another_brings(shift: Shift) -> None:
    view = part(shift)
    supplier = offered(shift, view.id)
    ticket = waiting(shift, 1, [(view.id, "1")])
    first = ordered(shift, supplier, view.id)
    second = ordered(shift, offered(shift, view.id, DELLOW), view.id)
    cancel_order(shift, first.id)
    line = now(shift, ticket)
    assert (line.supply, line.expected_on) == ("on order", date(2031, 4, 8))
    assert open_order(shift, second.id).lines[0].tags == (ticket.tag,)


def test_a_line_that_is_ordered_again_by_hand_forgets_the_order_that_came(shift: Shift) -> None:
    view = part(shift)
    supplier = offered(shift, view.id)
    ticket = waiting(shift, 1, [(view.id, "1")])
    order = ordered(shift, supplier, view.id)
    came(shift, order, "1")
    assert open_order(shift, order.id).lines[0].tags == (ticket.tag,)
    set_supply(shift, part_line(ticket).id, "on order", "fri")
    assert open_order(shift, order.id).lines[0].tags == ()
    set_supply(shift, part_line(ticket).id, "to order")
    again = ordered(shift, supplier, view.id)
    assert again.lines[0].tags == (ticket.tag,)
    set_supply(shift, part_line(ticket).id, "on hand")
    assert open_order(shift, again.id).lines[0].tags == ()


def test_an_order_stands_as_its_lines_do(shift: Shift) -> None:
    view, other = part(shift), part(shift, PartEntry("SP-6", "Spark plug"))
    supplier = offered(shift, view.id)
    order = new_order(shift, supplier)
    add_order_line(shift, order.id, OrderLineEntry(view.id, "2"))
    add_order_line(shift, order.id, OrderLineEntry(other.id, cost="3.00"))
    order = place_order(shift, order.id)
    came(shift, order, "1")
    order = open_order(shift, order.id)
    assert order.state == order.lines[0].state == "part received"
    assert order.lines[0].to_come == 1
    (row,) = list_orders(shift)
    assert (row.state, row.to_come) == ("part received", "1 × Fuel filter; 1 × Spark plug")
    for line in order.lines:
        back_order(shift, line.id)
    assert open_order(shift, order.id).state == "back-ordered"
    cancel_order_line(shift, order.lines[1].id)
    came(shift, order, "1")
    assert open_order(shift, order.id).state == "received"
    assert [row.state for row in list_orders(shift, closed=True)] == ["received"]


def test_orders_are_written_and_placed_inside_one_transaction(shift: Shift) -> None:
    kit, view = part(shift, PartEntry("TK-26", "Tune-up kit")), part(shift)
    set_kit(shift, kit.id, (KitEntry(view.id, "2"),))
    supplier = offered(shift, kit.id, cost="12.00")
    ticket = waiting(shift, 1, [(view.id, "1")])
    one = part_line(ticket).id
    with shift.changing() as change:
        wanted = Wanted(find_part(kit.id), Decimal(1), Decimal(1), Decimal(12), line_ids=(one,))
        order = write_order(change, find_supplier(supplier), [wanted])
        place_written(change, order)
    line = now(shift, ticket)
    assert (line.supply, line.expected_on) == ("on order", date(2031, 4, 10))
    stray = waiting(shift, 2, [(kit.id, "1")])
    assert now(shift, stray).supply == "to order"
    written = new_order(shift, supplier)
    with refused(shift, "line", "waits for none of what is ordered"):
        add_order_line(shift, written.id, OrderLineEntry(view.id, cost="1"), [part_line(stray).id])
    with shift.records.reading():
        assert OrderLine.select().count() == 1


def test_an_order_as_a_paper(shift: Shift) -> None:
    view = part(shift)
    ticket = waiting(shift, 1, [(view.id, "1")])
    order = ordered(shift, offered(shift, view.id, supplier_number="N-771"), view.id, "3")
    content = order_content(shift, order.id)
    assert (content.number, content.placed, content.on) == ("P1", True, date(2031, 4, 7))
    assert (content.supplier, content.goods, content.postage) == (
        "Northbank Parts",
        Decimal("7.20"),
        Decimal("8.50"),
    )
    (row,) = content.rows
    assert (row.supplier_number, row.packs, row.tickets) == ("N-771", Decimal(3), (ticket.tag,))
