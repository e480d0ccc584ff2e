"""Parts of a ticket: where each is, three baskets beside each other, ordering one by its key."""

from collections.abc import Callable

import pytest

from shopdesk.desk.buying.board import BuyingBoard
from shopdesk.desk.buying.page import BuyingPage
from shopdesk.desk.buying.sheet import BuyingSheet
from shopdesk.desk.pages import PAGES
from shopdesk.desk.parts.card import PartCard
from shopdesk.job.buying.views import BY_DAY, CHEAPEST, SOONEST
from shopdesk.job.lines import LineEntry, add_line
from shopdesk.job.parts.catalogue import PartEntry, add_part
from shopdesk.job.parts.kits import KitEntry, set_kit
from shopdesk.job.parts.offers import OfferEntry, add_offer
from shopdesk.job.parts.order_views import list_orders
from shopdesk.job.parts.suppliers import SupplierEntry, add_supplier
from shopdesk.job.shift import Shift
from shopdesk.job.views import TicketView
from tests.window.conftest import Driver
from tests.window.stocked import Stocked, stocked, waiting


@pytest.fixture
def stock(desk: Driver) -> Stocked:
    return stocked(desk.shift)


@pytest.fixture
def waits(desk: Driver, ticket: TicketView, stock: Stocked) -> TicketView:
    """A ticket in Parts that waits for a filter and a line, which a kit holds as well."""
    add_offer(desk.shift, stock.line.id, stock.near.id, OfferEntry("Q-25", "1", "4.40"))
    add_line(
        desk.shift,
        ticket.id,
        LineEntry("part", "", "2", reason="failed", part_id=stock.line.id, unit_price="8.00"),
    )
    return waiting(desk.shift, ticket, stock)


def parts_page(desk: Driver, ticket: TicketView) -> BuyingPage:
    """Open the ticket's Parts page by its key."""
    desk.open(ticket)
    desk.press(f"<Alt-Key-{PAGES.index(BuyingPage) + 1}>")
    page = desk.window.pane.page
    assert isinstance(page, BuyingPage)
    return page


def cells(board: BuyingBoard) -> list[tuple[str, ...]]:
    return [tuple(board.list.cells(int(key))) for key in board.list.tree.get_children()]


def test_where_each_part_is_and_what_each_basket_costs(desk: Driver, waits: TicketView) -> None:
    board = parts_page(desk, waits).board
    assert cells(board) == [
        ("Fuel line, two sizes, 25 cm", "FL-25", "2", "new", "to order"),
        ("Spark plug", "SP-7", "1", "new", "in the bin, B2"),
        ("Fuel filter", "FF-10", "1", "new", "to order"),
    ]
    said = {aim: card.said for aim, card in board.cards.items()}
    assert said[CHEAPEST].startswith(
        "Cheapest\n$16.80\nAll here Wed 17 Mar\nQuillmere Parts: 2 parts"
    )
    assert "No kit on offer would be cheaper." in said[CHEAPEST]
    assert "Buys the same as “Cheapest”." in said[SOONEST]
    assert said[BY_DAY].startswith("Cheapest by Mon 22 Mar")
    assert board.form.text_of("by") == "Mon 22 Mar"
    desk.shots("buying")


def test_a_kit_that_is_cheaper_and_slower(desk: Driver, waits: TicketView, stock: Stocked) -> None:
    third = add_supplier(
        desk.shift, SupplierEntry("Oakrow Engine Parts", postage="3", lead_days="4")
    )
    bulb = add_part(desk.shift, PartEntry("PB-2", "Primer bulb, seven-eighths, with its ring"))
    kit = [KitEntry(part.id, many) for part, many in ((stock.filter, "1"), (stock.line, "2"))]
    set_kit(desk.shift, stock.kit.id, [*kit, KitEntry(bulb.id)])
    add_offer(desk.shift, stock.kit.id, third.id, OfferEntry("OE-33", "1", "9.00"))
    board = parts_page(desk, waits).board
    board.form["by"].focus_input()
    desk.press("<Control-a>")
    desk.type("in 3 days")
    desk.press("<Return>")
    assert "The kit is $4.80 cheaper than the single parts" in board.cards[CHEAPEST].said
    assert "1 × Primer bulb" in board.cards[CHEAPEST].said
    assert "kit" not in board.cards[SOONEST].said
    assert "Buys the same as “Soonest”." in board.cards[BY_DAY].said
    desk.shots("buying-kit")


def test_ordering_by_key_asks_once_with_names_and_sums(desk: Driver, waits: TicketView) -> None:
    board = parts_page(desk, waits).board
    desk.dialogs.answers.append(True)
    desk.press("<F7>")
    assert desk.dialogs.asked == ["Order from Quillmere Parts $16.80, all here Wed 17 Mar?"]
    assert desk.notice == "Order P1 placed, all here Wed 17 Mar."
    assert [row.state for row in list_orders(desk.shift)] == ["ordered"]
    assert {row[-1] for row in cells(board)} == {
        "in the bin, B2",
        "on order P1 from Quillmere Parts, here Wed 17 Mar",
    }
    assert board.nothing.startswith("Nothing is to order")
    assert [line.supply for line in desk.kept(waits).lines if line.part_id] == [
        "on order",
        "on hand",
        "on order",
    ]
    desk.shot("buying-ordered")


def test_not_yet_orders_nothing(desk: Driver, waits: TicketView) -> None:
    parts_page(desk, waits)
    desk.dialogs.answers.append(False)
    desk.press("<F8>")
    assert list_orders(desk.shift) == ()


def test_a_day_typed_is_looked_for(desk: Driver, waits: TicketView) -> None:
    board = parts_page(desk, waits).board
    board.form["by"].focus_input()
    desk.press("<Control-a>")
    desk.type("tomorrow")
    desk.press("<Return>")
    assert board.form.text_of("by") == "Tue 16 Mar"
    assert "“Fuel filter” is here Wed 17 Mar at the soonest." in board.cards[BY_DAY].said
    desk.press("<F9>")
    assert "at the soonest" in desk.notice
    assert list_orders(desk.shift) == ()
    desk.shot("buying-too-soon")


def test_a_day_that_is_none_is_said_at_the_field(desk: Driver, waits: TicketView) -> None:
    board = parts_page(desk, waits).board
    board.form["by"].focus_input()
    desk.press("<Control-a>")
    desk.type("yesterday")
    desk.press("<Return>")
    assert "is over" in board.form["by"].error
    assert board.form.text_of("by") == "yesterday"


def test_what_nobody_offers_is_named(desk: Driver, ticket: TicketView, stock: Stocked) -> None:
    add_line(
        desk.shift,
        ticket.id,
        LineEntry("part", "Odd screw", "1", "1.00", "failed", supply="to order"),
    )
    board = parts_page(desk, waiting(desk.shift, ticket, stock)).board
    assert "“Odd screw” has no part number" in board.trouble
    assert cells(board)[0][-1] == "nobody to ask"
    assert "$8.00" in board.cards[CHEAPEST].said
    desk.shots("buying-lacking")


def test_before_the_yes_the_baskets_stand_and_can_not_be_ordered(
    desk: Driver, ticket: TicketView, stock: Stocked
) -> None:
    entry = LineEntry("part", "", reason="failed", part_id=stock.filter.id, unit_price="80.00")
    board = parts_page(desk, add_line(desk.shift, ticket.id, entry)).board
    assert "$8.00" in board.cards[CHEAPEST].said
    desk.press("<F7>")
    assert "record a new yes first" in desk.notice


def test_a_ticket_without_parts_says_what_to_do(desk: Driver, ticket: TicketView) -> None:
    board = parts_page(desk, ticket).board
    assert board.list.empty_words.startswith("No part is on this ticket.")
    assert board.nothing == ""
    desk.press("<F7>")
    assert desk.dialogs.asked == []
    desk.shot("buying-empty")


def test_enter_opens_the_part(desk: Driver, waits: TicketView) -> None:
    page = parts_page(desk, waits)
    page.focus_first()
    desk.press("<Return>")
    assert isinstance(desk.window.in_sight, PartCard)


def test_another_tickets_baskets_are_never_shown_for_this_one(
    desk: Driver, waits: TicketView, stock: Stocked, take_another: Callable[[], TicketView]
) -> None:
    parts_page(desk, waits)
    board = parts_page(desk, take_another()).board
    assert cells(board) == []
    assert board.form.text_of("by") != ""


@pytest.fixture
def take_another(shift: Shift) -> Callable[[], TicketView]:
    from shopdesk.job.customers import CustomerEntry
    from shopdesk.job.intake import TicketEntry, take_in
    from shopdesk.job.units import UnitEntry

    return lambda: take_in(
        shift,
        CustomerEntry(name="Odo Farrow", phones=("555-0177",)),
        UnitEntry(kind="chain saw", engine="two-stroke", make="Osmarrow", model="OS 40"),
        TicketEntry(complaint="Won't idle."),
    )


class TestForAll:
    def board(self, desk: Driver, waits: TicketView) -> BuyingBoard:
        parts_page(desk, waits)
        desk.press("<Alt-a>")
        sheet = desk.window.in_sight
        assert isinstance(sheet, BuyingSheet)
        return sheet.board

    def test_what_waits_and_what_runs_low_together(self, desk: Driver, waits: TicketView) -> None:
        board = self.board(desk, waits)
        assert [(row[0], row[1], row[-1]) for row in cells(board)] == [
            (waits.tag, "Fuel line, two sizes, 25 cm", "to order"),
            (waits.tag, "Fuel filter", "to order"),
            ("", "Spark plug", "runs low in the bin"),
            ("", "Fuel filter", "runs low in the bin"),
        ]
        desk.shots("buying-all")

    def test_ordering_for_all(self, desk: Driver, waits: TicketView) -> None:
        board = self.board(desk, waits)
        desk.dialogs.answers.append(True)
        desk.press("<F7>")
        assert desk.notice.startswith("Order")
        assert board.list.empty_words.startswith("No ticket waits for a part")
        assert {line.supply for line in desk.kept(waits).lines if line.part_id} == {
            "on order",
            "on hand",
        }

    def test_leaving_comes_back_to_the_ticket(self, desk: Driver, waits: TicketView) -> None:
        self.board(desk, waits)
        desk.press("<Escape>")
        assert isinstance(desk.window.pane.page, BuyingPage)
