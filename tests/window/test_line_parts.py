"""Lines on a ticket: parts chosen from the catalogue, flat times, rates, and what comes off."""

from decimal import Decimal

import pytest

from shopdesk.desk.approval_page import ApprovalPage
from shopdesk.desk.line_list import price_words, whole_line
from shopdesk.job.labour.flat_times import FlatTimeEntry, add_flat_time
from shopdesk.job.lines import LineEntry, add_line
from shopdesk.job.parts.counting import count_part
from shopdesk.job.views import TicketView
from tests.window.conftest import Driver
from tests.window.so_far import diagnosed
from tests.window.stocked import Stocked, stocked


@pytest.fixture
def stock(desk: Driver) -> Stocked:
    """The parts of a shop."""
    return stocked(desk.shift)


@pytest.fixture
def page(desk: Driver, stock: Stocked, ticket: TicketView) -> ApprovalPage:
    """The Approval page of a ticket with three lines, the form ready for a new one."""
    diagnosed(desk.shift, ticket)
    desk.open(ticket)
    desk.press("<Alt-a>")
    found = desk.window.pane.page
    assert isinstance(found, ApprovalPage)
    return found


def typed_what(desk: Driver, page: ApprovalPage, words: str) -> None:
    """Type into “What” of a new part, and wait for what is offered."""
    desk.fill("part")
    desk.type(words)
    desk.until(lambda: page.entry.offers, f"parts called {words}")


def test_a_part_chosen_by_its_name_fills_the_line(
    desk: Driver, page: ApprovalPage, stock: Stocked, ticket: TicketView
) -> None:
    typed_what(desk, page, "spark")
    assert page.entry.offers == ["SP-7   –   Spark plug   –   $6.50   –   4 free"]
    desk.shots("line-part-offered")
    desk.press("<Down>", "<Return>")
    assert desk.focus is page.entry.form["quantity"].input
    assert page.entry.told.startswith("SP-7 Spark plug: 4 free in bin B2. Fixed price.")
    page.entry.form["reason"].focus_input()
    desk.type("worn")
    desk.shots("line-part-taken")
    desk.press("<Return>")
    line = desk.kept(ticket).lines[-1]
    assert (line.part_id, line.part_number, line.description, line.condition) == (
        *(stock.plug.id, "SP-7", "Spark plug", "new"),
    )
    assert (line.unit_price, line.cost, line.supply) == (
        *(Decimal("6.50"), Decimal("2.10"), "on hand"),
    )
    assert page.entry.told == ""


def test_a_part_that_is_not_in_the_bin_is_to_order(
    desk: Driver, page: ApprovalPage, ticket: TicketView
) -> None:
    typed_what(desk, page, "ff10")
    desk.press("<Down>", "<Return>")
    assert "none free" in page.entry.told
    page.entry.form["reason"].focus_input()
    desk.type("worn")
    desk.press("<Return>")
    assert desk.kept(ticket).lines[-1].supply == "to order"


def test_the_number_field_offers_as_well_and_another_number_lets_go(
    desk: Driver, page: ApprovalPage, ticket: TicketView
) -> None:
    desk.fill("part")
    page.entry.form["part_number"].focus_input()
    desk.type("sp-7")
    desk.until(lambda: page.entry.offers, "the plug")
    desk.press("<Down>", "<Return>")
    assert page.entry.form.text_of("description") == "Spark plug"
    page.entry.form["part_number"].focus_input()
    desk.type("X")
    assert page.entry.told == ""
    page.entry.form["reason"].focus_input()
    desk.type("worn")
    desk.press("<Return>")
    line = desk.kept(ticket).lines[-1]
    assert (line.part_id, line.part_number) == (None, "SP-7X")


def test_a_price_of_its_own_stands(desk: Driver, page: ApprovalPage, ticket: TicketView) -> None:
    typed_what(desk, page, "spark")
    desk.press("<Down>", "<Return>")
    desk.fill("2", "5.00", "worn")
    page.entry.form["off"].focus_input()
    desk.type("10 %")
    desk.press("<Return>")
    line = desk.kept(ticket).lines[-1]
    assert (line.unit_price, line.off, line.net) == (
        *(Decimal("5.00"), Decimal("1.00"), Decimal("9.00")),
    )
    page.lines.list.select(line.id)
    desk.until(lambda: "comes off" in page.lines.told, "what comes off")
    assert "$1.00 (10%) comes off." in page.lines.told


def test_what_was_taken_survives_the_power_cord(
    desk: Driver, page: ApprovalPage, stock: Stocked, ticket: TicketView
) -> None:
    typed_what(desk, page, "spark")
    desk.press("<Down>", "<Return>", "<Alt-Key-1>", "<Alt-Key-3>")
    page.entry.form["reason"].focus_input()
    desk.type("worn")
    desk.press("<Return>")
    assert desk.kept(ticket).lines[-1].part_id == stock.plug.id


def test_a_line_from_the_catalogue_is_changed_and_stays_one(
    desk: Driver, page: ApprovalPage, stock: Stocked, ticket: TicketView
) -> None:
    entry = LineEntry("part", "", reason="worn", part_id=stock.plug.id)
    line = add_line(desk.shift, ticket.id, entry).lines[-1]
    desk.open(ticket)
    page.lines.list.focus_list()
    page.lines.list.select(line.id)
    desk.press("<F2>")
    page.entry.form["quantity"].focus_input()
    page.entry.form["quantity"].input.event_generate("<<SelectAll>>")
    desk.type("2")
    desk.press("<Return>")
    kept = desk.kept(ticket).lines[-1]
    assert (kept.part_id, kept.quantity) == (stock.plug.id, Decimal(2))


def test_more_than_lies_there_is_said_at_its_field(
    desk: Driver, page: ApprovalPage, stock: Stocked, ticket: TicketView
) -> None:
    count_part(desk.shift, stock.plug.id, "1")
    typed_what(desk, page, "spark")
    desk.press("<Down>", "<Return>")
    desk.fill("3", "", "worn", "", "", "on hand")
    desk.press("<Return>")
    assert page.entry.form["supply"].error
    assert len(desk.kept(ticket).lines) == 3


def test_labour_takes_no_parts(desk: Driver, page: ApprovalPage) -> None:
    desk.fill("labour")
    desk.type("spark")
    desk.settle()
    assert page.entry.offers == []


def test_a_flat_time_becomes_a_line(desk: Driver, page: ApprovalPage, ticket: TicketView) -> None:
    add_flat_time(desk.shift, FlatTimeEntry("Carburettor off, cleaned, on", hours="0.8"))
    desk.dialogs.answers.append("Carburettor off")
    desk.press("<Alt-f>")
    assert desk.focus is page.entry.form["reason"].input
    desk.type("failed")
    desk.press("<Return>")
    line = desk.kept(ticket).lines[-1]
    assert (str(line.kind), line.description, line.quantity) == (
        *("labour", "Carburettor off, cleaned, on", Decimal("0.8")),
    )


def test_a_line_without_charge_shows_what_it_is_worth(
    desk: Driver, page: ApprovalPage, stock: Stocked, ticket: TicketView
) -> None:
    entry = LineEntry("part", "", reason="goodwill", part_id=stock.plug.id)
    line = add_line(desk.shift, ticket.id, entry).lines[-1]
    shop = desk.shift.shop
    assert line.unit_price == 0
    assert price_words(line, shop) == "$6.50"
    assert "Worth $6.50 each, no charge." in whole_line(line, shop)


def test_a_discount_in_percent_is_shown_as_one(
    desk: Driver, page: ApprovalPage, ticket: TicketView
) -> None:
    desk.fill("discount", "For a neighbour", "1", "10 %")
    desk.press("<Return>")
    line = desk.kept(ticket).lines[-1]
    assert price_words(line, desk.shift.shop) == "10%"
    page.lines.list.focus_list()
    page.lines.list.select(line.id)
    desk.press("<F2>")
    assert page.entry.form.text_of("unit_price") == "10 %"


def test_a_part_without_a_reason_keeps_what_is_typed(desk: Driver, page: ApprovalPage) -> None:
    typed_what(desk, page, "spark")
    desk.press("<Down>", "<Return>", "<Return>")
    assert page.entry.form["reason"].error
    assert page.entry.form.text_of("description") == "Spark plug"
