"""Orders: written, placed, received packet by packet, and the tickets that go on by it."""

from collections.abc import Callable
from dataclasses import replace
from datetime import timedelta
from decimal import Decimal

import pytest

from shopdesk.desk.buying.sheet import BuyingSheet
from shopdesk.desk.parts.order_card import OrderCard
from shopdesk.desk.parts.orders_sheet import OrdersSheet
from shopdesk.desk.parts.receiving_card import ReceivingCard
from shopdesk.desk.parts.reorder_sheet import ReorderSheet
from shopdesk.desk.parts.suppliers_sheet import SuppliersSheet
from shopdesk.job.parts.catalogue import open_part
from shopdesk.job.parts.order_views import OrderView, list_orders, open_order
from shopdesk.job.parts.ordering import OrderLineEntry, add_order_line, new_order, place_order
from shopdesk.job.parts.suppliers import suppliers
from shopdesk.job.shift import Shift
from shopdesk.job.stages import Stage
from shopdesk.job.views import TicketView
from tests.window.conftest import NOW, Driver
from tests.window.stocked import Stocked, stocked, waiting


@pytest.fixture
def stock(desk: Driver) -> Stocked:
    """The parts of a shop."""
    return stocked(desk.shift)


def orders(desk: Driver) -> OrdersSheet:
    """Open the orders."""
    desk.press("<Control-Key-2>")
    assert isinstance(desk.window.in_sight, OrdersSheet)
    return desk.window.in_sight


def order_in_sight(desk: Driver) -> OrderCard:
    """Return the order's card that is open."""
    assert isinstance(desk.window.in_sight, OrderCard)
    return desk.window.in_sight


def packet(desk: Driver) -> ReceivingCard:
    """Return the packet that is being received."""
    assert isinstance(desk.window.in_sight, ReceivingCard)
    return desk.window.in_sight


def placed(desk: Driver, stock: Stocked) -> OrderView:
    """Order two fuel filters and a box of plugs near by, and place it."""
    order = new_order(desk.shift, stock.near.id)
    add_order_line(desk.shift, order.id, OrderLineEntry(stock.filter.id, "2"))
    add_order_line(desk.shift, order.id, OrderLineEntry(stock.plug.id, "1"))
    return place_order(desk.shift, order.id)


def test_no_orders_say_what_to_do(desk: Driver) -> None:
    sheet = orders(desk)
    assert sheet.list.empty_words.startswith("No order is open. Alt+N begins one")
    desk.press("<Alt-n>")
    assert "No supplier is written down yet" in desk.notice


def test_an_order_is_written_and_placed_by_keyboard(
    desk: Driver, stock: Stocked, ticket: TicketView
) -> None:
    needs = waiting(desk.shift, ticket, stock)
    orders(desk)
    desk.dialogs.answers.append("Quillmere")
    desk.press("<Alt-n>")
    card = order_in_sight(desk)
    assert desk.focus is card.lines.form["part"].input
    desk.type("fuel filter")
    desk.until(lambda: card.lines.pick.suggestions.offers, "the filter is offered")
    desk.press("<Down>", "<Return>")
    assert desk.focus is card.lines.form["packs"].input
    card.lines.form["packs"].input.event_generate("<<SelectAll>>")
    desk.type("2")
    desk.press("<Return>")
    line = card.order.lines[0]
    assert (line.number, line.packs, line.cost) == ("FF-10", Decimal(2), Decimal("3.10"))
    desk.shots("order-written")
    desk.press("<Alt-p>")
    assert card.order.state == "ordered"
    assert "is placed" in desk.notice
    assert not card.lines.form.winfo_ismapped()
    strainer = desk.kept(needs).lines[1]
    assert strainer.supply == "on order"
    assert desk.window.unsaved() == []
    desk.shots("order-placed")


def test_postage_and_day_are_the_orders_own(desk: Driver, stock: Stocked) -> None:
    order = new_order(desk.shift, stock.far.id)
    add_order_line(desk.shift, order.id, OrderLineEntry(stock.kit.id, "1"))
    orders(desk)
    desk.press("<Return>")
    card = order_in_sight(desk)
    assert "short of the $25.00" in card.short_told
    card.form.focus_first()
    desk.fill("Leave it at the side door", "9.99", "yesterday")
    desk.press("<Alt-p>")
    assert card.terms["expected_on"].error
    assert open_order(desk.shift, order.id).state == "being written"
    card.terms["expected_on"].input.event_generate("<<SelectAll>>")
    desk.type("25 mar")
    desk.press("<Alt-p>")
    kept = open_order(desk.shift, order.id)
    assert (kept.state, kept.postage, kept.note) == (
        *("ordered", Decimal("9.99"), "Leave it at the side door"),
    )
    assert str(kept.expected_on) == "2027-03-25"


def test_a_line_is_changed_and_dropped_before_the_order_goes_out(
    desk: Driver, stock: Stocked
) -> None:
    order = new_order(desk.shift, stock.near.id)
    add_order_line(desk.shift, order.id, OrderLineEntry(stock.filter.id, "2"))
    orders(desk)
    desk.press("<Return>", "<Return>")
    card = order_in_sight(desk)
    assert card.lines.form.text_of("part") == "FF-10  Fuel filter"
    assert desk.focus is card.lines.form["packs"].input
    card.lines.form["packs"].input.event_generate("<<SelectAll>>")
    desk.type("5")
    desk.press("<Return>")
    assert open_order(desk.shift, order.id).lines[0].packs == 5
    card.lines.list.focus_list()
    desk.press("<Delete>")
    assert open_order(desk.shift, order.id).lines == ()


def test_a_part_that_the_supplier_does_not_offer_needs_a_cost(desk: Driver, stock: Stocked) -> None:
    new_order(desk.shift, stock.near.id)
    orders(desk)
    desk.press("<Return>")
    card = order_in_sight(desk)
    desk.fill("FL-25")
    desk.press("<Return>")
    assert card.lines.form["cost"].error
    assert card.lines.form.text_of("part") == "FL-25"


def test_a_whole_packet_needs_three_keys_and_the_ticket_goes_on(
    desk: Driver, stock: Stocked, ticket: TicketView
) -> None:
    needs = waiting(desk.shift, ticket, stock)
    placed(desk, stock)
    orders(desk)
    desk.shots("orders")
    desk.press("<Alt-r>")
    card = packet(desk)
    desk.shots("packet")
    desk.press("<Control-s>")
    assert desk.kept(needs).stage is Stage.REPAIR
    assert open_part(desk.shift, stock.plug.id).quantity == 14
    rows = card.receipt.list.tree.get_children()
    assert [card.receipt.list.cells(int(key))[0] for key in rows] == ["T1001"]
    assert "Repair" in card.receipt.list.cells(int(rows[0]))[4]
    desk.shots("packet-received")
    desk.press("<Return>")
    assert desk.window.in_sight is desk.window.pane
    assert desk.window.pane.page.title == "Repair"


def test_a_part_of_a_packet_leaves_the_rest_to_come(desk: Driver, stock: Stocked) -> None:
    order = placed(desk, stock)
    orders(desk)
    desk.press("<Alt-r>", "<Alt-n>")
    card = packet(desk)
    desk.fill("1", "", "3.40")
    desk.press("<Control-s>")
    kept = open_order(desk.shift, order.id)
    assert kept.state == "part received"
    assert [int(line.received) for line in kept.lines] == [1, 0]
    assert [int(line.to_come) for line in kept.lines] == [1, 1]
    assert open_part(desk.shift, stock.filter.id).cost == Decimal("3.40")
    assert card.receipt.list.empty_words.startswith("No ticket waited")
    desk.press("<Escape>", "<Alt-r>")
    again = packet(desk)
    assert again.form.text_of(f"packs_{kept.lines[0].id}") == "1"


def test_the_counts_are_typed_down_the_packet_and_then_the_costs(
    desk: Driver, stock: Stocked
) -> None:
    first, second = placed(desk, stock).lines
    orders(desk)
    desk.press("<Alt-r>", "<Alt-n>")
    desk.type("2")
    desk.press("<Tab>")
    desk.type("1")
    desk.press("<Tab>")
    desk.type("3.40")
    form = packet(desk).form
    assert [form.text_of(f"packs_{line.id}") for line in (first, second)] == ["2", "1"]
    assert "3.40" in form.text_of(f"cost_{first.id}")


def test_a_cost_that_is_hardly_meant_is_asked_about(desk: Driver, stock: Stocked) -> None:
    order = placed(desk, stock)
    cost = f"cost_{order.lines[0].id}"
    orders(desk)
    desk.press("<Alt-r>")
    card = packet(desk)
    card.form.restore({cost: "0"})
    desk.dialogs.answers.append(False)
    desk.press("<Control-s>")
    assert "for nothing" in desk.dialogs.asked[-1]
    assert card.form.text_of(cost) == "0"
    assert open_order(desk.shift, order.id).state == "ordered"
    desk.dialogs.answers.append(True)
    desk.press("<Control-s>")
    assert open_order(desk.shift, order.id).state == "received"
    assert all(offer.cost for offer in open_part(desk.shift, stock.filter.id).offers)


def test_more_than_was_ordered_is_said_at_its_line(desk: Driver, stock: Stocked) -> None:
    order = placed(desk, stock)
    orders(desk)
    desk.press("<Alt-r>")
    card = packet(desk)
    field = card.form[f"packs_{order.lines[0].id}"]
    field.input.event_generate("<<SelectAll>>")
    desk.type("7")
    desk.press("<Control-s>")
    assert field.error
    assert open_order(desk.shift, order.id).state == "ordered"
    assert desk.window.unsaved() == [f"a packet of order {order.number}"]
    desk.press("<Escape>", "<Control-u>")
    assert packet(desk).form.text_of(field.name) == "7"


def test_a_back_order_shows_its_new_day(desk: Driver, stock: Stocked, ticket: TicketView) -> None:
    needs = waiting(desk.shift, ticket, stock)
    order = placed(desk, stock)
    orders(desk)
    desk.press("<Return>")
    card = order_in_sight(desk)
    desk.dialogs.answers.append("2 apr")
    desk.press("<Alt-b>")
    line = open_order(desk.shift, order.id).lines[0]
    assert line.back_ordered
    assert card.lines.list.cells(line.id)[7] == "back-ordered, Fri 2 Apr"
    assert str(desk.kept(needs).lines[1].expected_on) == "2027-04-02"
    desk.press("<Alt-t>")
    assert desk.window.in_sight is desk.window.pane


def test_a_cancelled_order_gives_the_need_back(
    desk: Driver, stock: Stocked, ticket: TicketView
) -> None:
    needs = waiting(desk.shift, ticket, stock)
    order = placed(desk, stock)
    orders(desk)
    desk.press("<Return>")
    card = order_in_sight(desk)
    desk.dialogs.answers.append("out of stock there")
    desk.press("<Delete>")
    assert open_order(desk.shift, order.id).lines[0].state == "cancelled"
    assert desk.kept(needs).lines[1].supply == "to order"
    desk.dialogs.answers.append("not needed")
    desk.press("<Alt-x>")
    assert card.order.state == "cancelled"
    desk.press("<Escape>")
    sheet = desk.window.in_sight
    assert isinstance(sheet, OrdersSheet)
    assert sheet.list.tree.get_children() == ()


def test_a_late_order_says_so(shift: Shift, drive: Callable[[Shift], Driver]) -> None:
    stock = stocked(shift)
    order = new_order(shift, stock.near.id)
    add_order_line(shift, order.id, OrderLineEntry(stock.filter.id, "1"))
    place_order(shift, order.id, "", "16 mar")
    sheet = orders(drive(replace(shift, now=lambda: NOW + timedelta(days=3))))
    assert sheet.list.cells(order.id)[4] == "Tue 16 Mar 2027, late"


def test_what_is_down_to_its_mark_is_ordered(desk: Driver, stock: Stocked) -> None:
    desk.press("<Control-Key-1>", "<Alt-r>")
    sheet = desk.window.in_sight
    assert isinstance(sheet, ReorderSheet)
    rows = [sheet.list.cells(int(key))[1] for key in sheet.list.tree.get_children()]
    assert sorted(rows) == ["FF-10", "SP-7"]
    desk.shots("reorder")
    sheet.list.select(stock.filter.id)
    desk.press("<space>")
    assert sheet.list.cells(stock.filter.id)[0] == "no"
    desk.press("<Alt-o>")
    card = order_in_sight(desk)
    assert [line.number for line in card.order.lines] == ["SP-7"]
    desk.press("<Escape>")
    assert desk.window.in_sight is sheet


def test_the_reorder_list_leaves_as_paper_and_table(desk: Driver, stock: Stocked) -> None:
    desk.press("<Control-Key-1>", "<Alt-r>", "<Control-p>")
    desk.until(lambda: desk.opened, "the paper")
    assert desk.opened[0].name.startswith("reorder list 2027-03-15")
    desk.press("<Alt-v>")
    file = desk.opened[0].with_suffix(".csv")
    assert str(file) in desk.notice
    assert b"SP-7" in file.read_bytes()


def test_the_order_leaves_as_paper(desk: Driver, stock: Stocked) -> None:
    order = placed(desk, stock)
    orders(desk)
    desk.press("<Return>", "<Control-p>")
    desk.until(lambda: desk.opened, "the paper")
    assert desk.opened[0].name == f"order {order.number}.pdf"


def test_buying_for_all_tickets_opens_over_the_orders(desk: Driver, stock: Stocked) -> None:
    sheet = orders(desk)
    desk.press("<Alt-a>")
    assert isinstance(desk.window.in_sight, BuyingSheet)
    desk.press("<Escape>")
    assert sheet.winfo_ismapped()


def test_suppliers_are_written_down_and_changed(desk: Driver) -> None:
    orders(desk)
    desk.press("<Alt-u>")
    sheet = desk.window.in_sight
    assert isinstance(sheet, SuppliersSheet)
    desk.fill("Quillmere Parts", "555-0170", "orders@quillmere.example.com", "K 4410", "4.90", "60")
    desk.press("<Return>")
    (kept,) = suppliers(desk.shift)
    assert (kept.name, kept.account, kept.postage, kept.free_postage_from) == (
        *("Quillmere Parts", "K 4410", Decimal("4.90"), Decimal(60)),
    )
    assert desk.focus is sheet.list.tree
    desk.press("<Return>")
    sheet.form["lead_days"].focus_input()
    desk.type("three")
    desk.press("<Control-s>")
    assert sheet.form["lead_days"].error
    sheet.form["lead_days"].input.event_generate("<<SelectAll>>")
    desk.type("3")
    desk.press("<Control-s>")
    assert suppliers(desk.shift)[0].lead_days == 3
    desk.shots("suppliers")
    desk.press("<Alt-v>")
    assert suppliers(desk.shift) == ()
    assert sheet.list.cells(kept.id)[0] == "Quillmere Parts (no more)"


def test_a_half_typed_supplier_waits(desk: Driver, stock: Stocked) -> None:
    orders(desk)
    desk.press("<Alt-u>")
    sheet = desk.window.in_sight
    assert isinstance(sheet, SuppliersSheet)
    desk.press("<Return>")
    sheet.form["account"].focus_input()
    desk.type("K 9")
    desk.press("<Control-Key-1>")
    assert "a supplier" in desk.window.unfinished.words
    desk.press("<Control-u>")
    assert sheet.form.text_of("account") == "K 9"
    desk.press("<Control-s>")
    assert "K 9" in [one.account for one in suppliers(desk.shift)]
    assert len(suppliers(desk.shift)) == 2


def test_orders_that_are_done_are_shown_when_asked_for(desk: Driver, stock: Stocked) -> None:
    placed(desk, stock)
    sheet = orders(desk)
    desk.press("<Alt-r>", "<Control-s>", "<Escape>")
    assert sheet.list.tree.get_children() == ()
    sheet.form["closed"].focus_input()
    desk.press("<space>")
    assert len(sheet.list.tree.get_children()) == 1
    assert len(list_orders(desk.shift, closed=True)) == 1
