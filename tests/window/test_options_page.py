"""The ways out by keyboard: read, priced, chosen, turned down, added to and printed."""

from dataclasses import replace
from decimal import Decimal

import pytest
from pypdf import PdfReader

from shopdesk.desk.options.page import OptionsPage
from shopdesk.job.diagnosis import record_finding
from shopdesk.job.intake import take_in
from shopdesk.job.lines import LineEntry, add_line
from shopdesk.job.moving import go_on
from shopdesk.job.shift import Shift, save_shop
from shopdesk.job.stages import Stage
from shopdesk.job.views import TicketView
from tests.job.options.option_shop import BOGS, USED_TRIMMER, catalogue
from tests.job.workshop import OWNER
from tests.window.conftest import Driver


@pytest.fixture
def bogging(desk: Driver, shift: Shift) -> TicketView:
    """A trimmer that bogs, its diaphragms found stiff, in a shop with parts and a guide price."""
    save_shop(shift, replace(shift.shop, prices_new={"string trimmer": Decimal("199.00")}))
    catalogue(shift)
    unit = replace(USED_TRIMMER, bought_on="4 Apr 2025")
    ticket = take_in(shift, replace(OWNER, phones=("555-0177",)), unit, BOGS)
    go_on(shift, ticket.id, Stage.DIAGNOSIS)
    record_finding(shift, ticket.id, "mixture-run", "l")
    return record_finding(shift, ticket.id, "plug-look", "t")


@pytest.fixture
def page(desk: Driver, bogging: TicketView) -> OptionsPage:
    desk.open(bogging)
    desk.press("<Alt-Key-8>")
    found = desk.window.pane.page
    assert isinstance(found, OptionsPage)
    return found


def test_the_ways_stand_side_by_side_in_large_figures(desk: Driver, page: OptionsPage) -> None:
    assert page.table.titles == [
        "Only what failed", "The kit", "Renew what wears", "Another machine", "Leave it"
    ]  # fmt: skip
    figures = page.table.figures("The kit")
    assert figures[0].startswith("$")
    assert figures[1].endswith("in 100")
    assert "parts in 3 days" in figures[4]
    assert page.suggestion.startswith("We would take “")
    assert any("takes in the fuel line" in sentence for sentence in page.sentences)
    desk.shots("options")


def test_nothing_is_cut_off_in_a_small_window(desk: Driver, page: OptionsPage) -> None:
    desk.resize("1280x800")
    right = page.table.winfo_rootx() + page.table.winfo_width()
    cells = [child for child in page.table.winfo_children() if child.winfo_ismapped()]
    assert max(cell.winfo_rootx() + cell.winfo_width() for cell in cells) <= right
    assert page.table.winfo_reqwidth() <= page.table.winfo_width()


def test_a_key_puts_a_ways_lines_on_the_ticket(
    desk: Driver, page: OptionsPage, bogging: TicketView
) -> None:
    desk.press("<F3>")
    kept = desk.kept(bogging)
    assert kept.lines[0].description == "Carburettor and line kit"
    assert "“The kit” is on the ticket" in desk.notice
    assert "on the ticket now" in page.table.marks("The kit")
    desk.press("<F2>")
    assert desk.kept(bogging).lines[0].description == "Diaphragm set"
    assert "on the ticket now" not in page.table.marks("The kit")


def test_the_key_of_each_way_is_listed_with_its_name(desk: Driver, page: OptionsPage) -> None:
    listed = {key.name: key.does for key in desk.window.front.keys.in_force()}
    assert [listed[name] for name in ("F2", "F3", "F4", "F7", "F8")] == [
        f"Choose {title}" for title in page.table.titles
    ]


def test_lines_typed_by_hand_are_asked_about_before_they_go(
    desk: Driver, page: OptionsPage, bogging: TicketView, shift: Shift
) -> None:
    add_line(shift, bogging.id, LineEntry("labour", "Mend it somehow", "0.4", reason="failed"))
    desk.window.open_ticket(bogging.id)
    desk.press("<Alt-Key-8>")
    desk.dialogs.answers.append(False)
    desk.press("<F3>")
    assert "Mend it somehow" in desk.dialogs.asked[-1]
    assert [line.description for line in desk.kept(bogging).lines] == ["Mend it somehow"]
    desk.dialogs.answers.append(True)
    desk.press("<F3>")
    assert desk.kept(bogging).lines[0].description == "Carburettor and line kit"


def test_leaving_it_is_noted_as_a_no_with_who_and_how(
    desk: Driver, page: OptionsPage, bogging: TicketView
) -> None:
    desk.dialogs.answers += ["Mara Quill", "in person"]
    desk.press("<F8>")
    said = desk.kept(bogging).approvals[-1]
    assert (said.yes, said.option, said.who, said.how) == (
        False, "Leave it", "Mara Quill", "in person"
    )  # fmt: skip
    assert "“Leave it” is noted as Mara Quill's no." in desk.notice


def test_what_is_not_answered_records_nothing(
    desk: Driver, page: OptionsPage, bogging: TicketView
) -> None:
    desk.dialogs.answers.append(None)
    desk.press("<F7>")
    desk.dialogs.answers += ["Mara Quill", None]
    desk.press("<F7>")
    assert desk.kept(bogging).approvals == ()


def test_the_price_of_another_machine_is_typed_here(desk: Driver, page: OptionsPage) -> None:
    before = page.table.figures("Another machine")[0]
    desk.press("<Alt-j>")
    desk.press("<Control-a>")
    desk.type("149.90\n")
    assert page.table.figures("Another machine")[0] != before
    assert "noted" in desk.notice
    desk.press("<Alt-j>")
    desk.press("<Control-a>")
    desk.type("cheap\n")
    error = page.new_price.form["price_new"].error
    assert "is not an amount" in error


def test_a_way_of_ones_own_is_added_changed_and_dropped(desk: Driver, page: OptionsPage) -> None:
    desk.press("<Alt-w>")
    desk.fill("Used carburettor", "45", "30 min", "0", "40", "everything")
    desk.type("Off a scrapped machine\n")
    assert "Used carburettor" in page.table.titles
    assert page.table.figures("Used carburettor")[1] == "certain"
    desk.shots("options-own-way")
    desk.press("<Alt-c>")
    assert page.own.form.text_of("title") == "Used carburettor"
    desk.press("<Control-a>")
    desk.type("Carburettor from the shelf\n")
    assert "Carburettor from the shelf" in page.table.titles
    desk.dialogs.answers.append("it is gone")
    desk.press("<Alt-x>")
    assert "Carburettor from the shelf" not in page.table.titles
    desk.press("<Alt-x>")
    assert "No way of your own is here" in desk.notice


def test_an_error_stands_at_its_field_and_nothing_typed_is_lost(
    desk: Driver, page: OptionsPage
) -> None:
    desk.press("<Alt-w>")
    desk.type("Used carburettor\t45\n")
    assert "Say what it cures" in page.own.form["cures"].error
    assert page.own.form.text_of("title") == "Used carburettor"
    desk.press("<Alt-Key-2>", "<Alt-Key-8>")
    assert page.own.form.text_of("title") == "Used carburettor"


def test_the_sheet_is_printed(desk: Driver, page: OptionsPage) -> None:
    desk.press("<Control-p>")
    desk.until(lambda: desk.opened, "the sheet")
    text = PdfReader(desk.opened[-1]).pages[0].extract_text()
    assert "Your ways out" in text
    assert "I choose this" in text
