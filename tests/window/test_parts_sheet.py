"""The parts of the shop: found, written down, priced, counted, and bought again."""

import pytest

from shopdesk.desk.parts.card import PartCard
from shopdesk.desk.parts.order_card import OrderCard
from shopdesk.desk.parts.parts_sheet import PartsSheet
from shopdesk.job.parts.catalogue import PartEntry, add_part, open_part, part_numbered
from shopdesk.job.parts.find import find_parts
from shopdesk.job.views import TicketView
from tests.window.conftest import Driver
from tests.window.stocked import Stocked, stocked, waiting


@pytest.fixture
def stock(desk: Driver) -> Stocked:
    """The parts of a shop."""
    return stocked(desk.shift)


def parts(desk: Driver) -> PartsSheet:
    """Open the parts."""
    desk.press("<Control-Key-1>")
    assert isinstance(desk.window.in_sight, PartsSheet)
    return desk.window.in_sight


def card(desk: Driver, words: str) -> PartCard:
    """Open the card of the part that some words find."""
    sheet = parts(desk)
    desk.type(words)
    desk.until(lambda: len(sheet.list.tree.get_children()) == 1, f"one part called {words}")
    desk.press("<Return>")
    assert isinstance(desk.window.in_sight, PartCard)
    return desk.window.in_sight


def shown(sheet: PartsSheet) -> list[str]:
    """Return the part numbers in the list."""
    return [sheet.list.cells(int(key))[0] for key in sheet.list.tree.get_children()]


def test_a_shop_without_parts_is_told_what_to_do(desk: Driver) -> None:
    sheet = parts(desk)
    assert sheet.list.empty_words == "No part is written down yet: Alt+N writes one down."
    desk.press("<Alt-r>")
    desk.shots("reorder-empty")
    desk.press("<Escape>", "<Alt-u>")
    desk.shots("suppliers-empty")


def test_parts_are_found_while_typing(desk: Driver, stock: Stocked) -> None:
    sheet = parts(desk)
    assert shown(sheet) == ["FF-10", "FL-25", "KT-3", "SP-7"]
    desk.type("sp7")
    desk.until(lambda: shown(sheet) == ["SP-7"], "the plug alone")
    assert sheet.list.cells(stock.plug.id) == (
        *("SP-7", "Spark plug", "new", "B2", "4", "4", "", "$6.50"),
    )
    desk.press("<Control-Key-1>")
    desk.type("q 2210")
    desk.until(lambda: shown(sheet) == ["FF-10"], "the supplier's number")
    desk.press("<Control-Key-1>")
    desk.type("nothing like it")
    desk.until(lambda: shown(sheet) == [], "no part")
    assert "No part is called “nothing like it”" in sheet.list.empty_words


def test_the_chosen_part_is_told_in_full(desk: Driver, stock: Stocked, ticket: TicketView) -> None:
    waiting(desk.shift, ticket, stock)
    sheet = parts(desk)
    desk.press("<Down>", "<Down>", "<Down>", "<Down>")
    assert sheet.told == (
        "Spark plug.  In the bin 4, of them 1 for tickets: 3 free.  "
        "Price $6.50: fixed price.  It costs us $2.10: cheapest offer, of Quillmere Parts."
    )
    desk.shots("parts")


def test_a_part_is_written_down_by_keyboard(desk: Driver) -> None:
    sheet = parts(desk)
    desk.press("<Alt-n>")
    desk.fill("AF-2", "Air filter", "new", "C4", "", "2", "6", "90")
    desk.press("<Control-s>")
    new = desk.window.in_sight
    assert isinstance(new, PartCard)
    made = part_numbered(desk.shift, "AF2")
    assert made is not None
    assert (made.name, made.bin, str(made.reorder_at), str(made.reorder_to)) == (
        *("Air filter", "C4", "2", "6"),
    )
    assert new.known == made.id
    assert desk.window.unsaved() == []
    desk.press("<Escape>")
    assert desk.window.in_sight is sheet
    assert shown(sheet) == ["AF-2"]


def test_a_number_that_another_part_has_is_said_at_its_field(desk: Driver, stock: Stocked) -> None:
    parts(desk)
    desk.press("<Alt-n>")
    desk.fill("sp 7", "Another plug")
    desk.press("<Control-s>")
    new = desk.window.in_sight
    assert isinstance(new, PartCard)
    assert "Spark plug" in new.form["number"].error
    assert new.form.text_of("name") == "Another plug"
    assert desk.window.unsaved() == ["a new part"]


def test_a_half_typed_part_waits(desk: Driver, stock: Stocked) -> None:
    parts(desk)
    desk.press("<Alt-n>")
    desk.fill("ZZ-1")
    desk.press("<Escape>", "<Escape>")
    assert "a new part" in desk.window.unfinished.words
    desk.press("<Control-u>")
    new = desk.window.in_sight
    assert isinstance(new, PartCard)
    assert new.form.text_of("number") == "ZZ-1"


def test_a_price_is_set_and_its_words_follow(desk: Driver, stock: Stocked) -> None:
    opened = card(desk, "FF-10")
    assert "what it costs" in opened.price_told
    opened.form["price"].focus_input()
    desk.type("7.25")
    desk.press("<Control-s>")
    assert opened.price_told.startswith("Price $7.25: fixed price.")
    desk.shots("part-card")


def test_an_offer_is_noted_changed_and_dropped(desk: Driver, stock: Stocked) -> None:
    opened = card(desk, "FL-25")
    desk.press("<Alt-s>")
    desk.fill("Hollin", "HV-25", "5", "7.50")
    desk.press("<Return>")
    offer = open_part(desk.shift, stock.line.id).offers[0]
    assert (offer.supplier, offer.supplier_number, str(offer.each)) == (
        *("Hollin Vale Spares", "HV-25", "1.50"),
    )
    assert not opened.offers.form.changed
    opened.offers.list.focus_list()
    desk.press("<Return>")
    assert desk.focus is opened.offers.form["cost"].input
    opened.offers.form["cost"].input.event_generate("<<SelectAll>>")
    desk.type("8")
    desk.press("<Return>")
    assert str(open_part(desk.shift, stock.line.id).offers[0].cost) == "8.00"
    opened.offers.list.focus_list()
    desk.dialogs.answers.append("dearer now")
    desk.press("<Delete>")
    assert open_part(desk.shift, stock.line.id).offers == ()


def test_an_offer_without_a_cost_is_said_at_its_field(desk: Driver, stock: Stocked) -> None:
    opened = card(desk, "FL-25")
    desk.press("<Alt-s>", "<Return>")
    assert "choose a supplier" in opened.offers.form["supplier_id"].error
    desk.fill("Hollin")
    desk.press("<Return>")
    assert opened.offers.form["cost"].error
    assert opened.offers.form.text_of("supplier_id") == str(stock.far.id)


def test_what_is_typed_of_an_offer_survives_another_change(desk: Driver, stock: Stocked) -> None:
    opened = card(desk, "FL-25")
    desk.press("<Alt-s>")
    desk.fill("Hollin", "HV-25")
    desk.dialogs.answers.append("3")
    desk.press("<Alt-c>")
    assert opened.offers.form.text_of("supplier_number") == "HV-25"
    assert str(open_part(desk.shift, stock.line.id).quantity) == "3"


def test_what_a_part_is_for_comes_from_the_books(desk: Driver, stock: Stocked) -> None:
    opened = card(desk, "FF-10")
    desk.press("<Alt-f>")
    desk.fill("string", "Tarnbeck", "TB-26", "", "fuel filter")
    desk.press("<Return>")
    fits = open_part(desk.shift, stock.filter.id).fits
    assert [(fit.make_model, fit.task) for fit in fits] == [
        ("Tarnbeck TB-26", "fuel-filter-and-lines")
    ]
    opened.fits.list.focus_list()
    desk.press("<Delete>")
    assert open_part(desk.shift, stock.filter.id).fits == ()


def test_a_kit_gets_a_part_by_its_name(desk: Driver, stock: Stocked) -> None:
    opened = card(desk, "KT-3")
    desk.press("<Alt-i>")
    desk.type("spark")
    desk.until(lambda: opened.kit.pick.suggestions.offers, "the plug is offered")
    desk.press("<Down>", "<Return>")
    desk.fill("")
    desk.press("<Return>")
    opened.kit.form["quantity"].focus_input()
    desk.press("<Return>")
    holds = open_part(desk.shift, stock.kit.id).holds
    assert [(one.number, str(one.quantity)) for one in holds][-1] == ("SP-7", "1")
    opened.kit.list.focus_list()
    opened.kit.list.select(stock.plug.id)
    desk.press("<Delete>")
    assert len(open_part(desk.shift, stock.kit.id).holds) == 2
    desk.shots("part-card-kit")


def test_a_part_that_nobody_knows_is_said_at_its_field(desk: Driver, stock: Stocked) -> None:
    opened = card(desk, "KT-3")
    desk.press("<Alt-i>")
    desk.fill("carburettor")
    desk.press("<Return>")
    assert "No part of the catalogue is called “carburettor”" in opened.kit.form["part"].error


def test_contents_of_a_kit_open_and_escape_comes_back(desk: Driver, stock: Stocked) -> None:
    opened = card(desk, "KT-3")
    opened.kit.list.focus_list()
    desk.press("<Return>")
    assert opened.known == stock.filter.id
    desk.press("<Escape>")
    assert opened.known == stock.kit.id
    desk.press("<Escape>")
    assert isinstance(desk.window.in_sight, PartsSheet)
    desk.press("<Escape>")
    assert not isinstance(desk.window.in_sight, PartsSheet)


def test_counting_says_whose_part_is_not_there(
    desk: Driver, stock: Stocked, ticket: TicketView
) -> None:
    waiting(desk.shift, ticket, stock)
    sheet = parts(desk)
    sheet.list.focus_list()
    sheet.list.select(stock.plug.id)
    desk.dialogs.answers.append("0")
    desk.press("<Alt-c>")
    assert "Written down: 4" in desk.dialogs.asked[-1]
    assert "T1001" in desk.notice
    assert sheet.list.cells(stock.plug.id)[4] == "0"


def test_pieces_leave_without_a_ticket(desk: Driver, stock: Stocked) -> None:
    card(desk, "SP-7")
    desk.dialogs.answers += ["sold", "2"]
    desk.press("<Alt-t>")
    sold = open_part(desk.shift, stock.plug.id)
    assert str(sold.quantity) == "2"
    assert sold.moves[0].why == "sold over the counter"
    desk.dialogs.answers += ["scrapped", "9"]
    desk.press("<Alt-t>")
    assert str(open_part(desk.shift, stock.plug.id).quantity) == "2"
    assert desk.notice


def test_a_kit_is_opened_into_the_bins(desk: Driver, stock: Stocked) -> None:
    card(desk, "KT-3")
    desk.dialogs.answers.append("2")
    desk.press("<Alt-c>")
    desk.dialogs.answers.append("1")
    desk.press("<Alt-k>")
    assert str(open_part(desk.shift, stock.line.id).quantity) == "2"
    assert str(open_part(desk.shift, stock.kit.id).quantity) == "1"


def test_a_retired_part_is_found_only_when_asked_for(desk: Driver, stock: Stocked) -> None:
    card(desk, "FL-25")
    desk.press("<Alt-v>")
    assert not open_part(desk.shift, stock.line.id).active
    desk.press("<Escape>")
    sheet = desk.window.in_sight
    assert isinstance(sheet, PartsSheet)
    assert shown(sheet) == []
    sheet.find["inactive"].focus_input()
    desk.press("<space>")
    assert shown(sheet) == ["FL-25"]


def test_a_part_that_was_never_used_is_dropped(desk: Driver, stock: Stocked) -> None:
    add_part(desk.shift, PartEntry("TYPO", "Typed by mistake"))
    card(desk, "TYPO")
    desk.dialogs.answers.append("typed twice")
    desk.press("<Alt-x>")
    assert part_numbered(desk.shift, "TYPO") is None
    assert isinstance(desk.window.in_sight, PartsSheet)
    assert "off the catalogue" in desk.notice


def test_a_part_is_ordered_from_its_card(desk: Driver, stock: Stocked) -> None:
    card(desk, "FF-10")
    desk.dialogs.answers += [0, "3"]
    desk.press("<Alt-o>")
    order = desk.window.in_sight
    assert isinstance(order, OrderCard)
    assert [(line.number, str(line.packs)) for line in order.order.lines] == [("FF-10", "3")]


def test_a_ticket_opens_from_the_part_that_it_waits_for(
    desk: Driver, stock: Stocked, ticket: TicketView
) -> None:
    waiting(desk.shift, ticket, stock)
    opened = card(desk, "FF-10")
    opened.stock.waits.focus_list()
    desk.press("<Return>")
    assert desk.window.in_sight is desk.window.pane


def test_a_long_name_breaks_nothing(desk: Driver, stock: Stocked) -> None:
    long = "Carburettor, complete, with gaskets, purge bulb and both fuel lines, for older models"
    add_part(
        desk.shift,
        PartEntry("CRB-TB26-000417-REV-C-LEFT", long, condition="rebuilt", price="1249.95"),
    )
    sheet = parts(desk)
    desk.type("carburettor complete")
    desk.until(lambda: len(shown(sheet)) == 1, "the long one")
    desk.press("<Down>")
    assert sheet.told.startswith(long)
    desk.shots("parts-long")
    desk.press("<Return>")
    desk.shots("part-card-long")


def test_the_list_says_when_there_are_more(desk: Driver) -> None:
    for number in range(201):
        add_part(desk.shift, PartEntry(f"N-{number:04}", "Nut"))
    sheet = parts(desk)
    assert len(shown(sheet)) == 200
    assert "the first 200" in sheet.more_told
    assert len(find_parts(desk.shift, "", most=300)) == 201
