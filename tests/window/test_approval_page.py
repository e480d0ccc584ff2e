"""Prices and the owner's say by keyboard: lines, supply, estimate, yes and no."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest
from pypdf import PdfReader

from shopdesk.desk.approval_page import ApprovalPage
from shopdesk.job.history import ticket_journal
from shopdesk.job.shift import Shift, save_shop
from shopdesk.job.stages import Stage
from shopdesk.job.views import LineView, TicketView
from tests.window.conftest import Driver
from tests.window.so_far import at_bench, diagnosed


@pytest.fixture
def page(desk: Driver, shift: Shift, ticket: TicketView) -> ApprovalPage:
    """The Approval page of a ticket with a plug, a filter to order and half an hour on it."""
    desk.open(diagnosed(shift, ticket))
    found = desk.window.pane.page
    assert isinstance(found, ApprovalPage)
    return found


def line_of(desk: Driver, ticket: TicketView, description: str) -> LineView:
    return next(one for one in desk.kept(ticket).lines if one.description == description)


def test_lines_show_price_reason_and_what_they_rest_on(
    desk: Driver, page: ApprovalPage, ticket: TicketView
) -> None:
    tree = page.lines.list.tree
    plug, oil, labour = (tree.item(row, "values") for row in tree.get_children())
    assert plug[:5] == ("part", "Spark plug", "1", "$6.50", "$6.50")
    assert plug[5].startswith("failed:  Plug gap: 0.040 in")
    assert oil[5:] == ("renewed ahead of failure", "to order")
    assert labour[2:5] == ("0.5 h", "$60.00", "$30.00")
    assert page.total == "Total $47.78"
    assert "Parts $14.50  ·  Labour $30.00" in page.sums
    desk.shots("approval")


def test_a_line_without_a_finding_says_so(
    desk: Driver, page: ApprovalPage, ticket: TicketView
) -> None:
    desk.press("<Alt-a>", "<Tab>")
    desk.fill("Primer bulb", "1", "4.20")
    desk.type("worn")
    desk.press("<Return>")
    kept = line_of(desk, ticket, "Primer bulb")
    assert (kept.unit_price, kept.reason, kept.supply) == (Decimal("4.20"), "worn", "on hand")
    assert kept.evidence == "no finding recorded for this"
    tree = page.lines.list.tree
    assert tree.set(str(kept.id), "c5") == "worn:  no finding recorded for this"


def test_labour_without_a_price_is_at_the_bench_rate(
    desk: Driver, page: ApprovalPage, ticket: TicketView
) -> None:
    desk.press("<Alt-a>")
    desk.type("labour")
    desk.press("<Tab>")
    desk.type("Clean the carburettor")
    desk.press("<Tab>", "<Control-a>")
    desk.type("27 min")
    desk.press("<Tab>", "<Tab>")
    desk.type("failed")
    desk.press("<Return>")
    kept = line_of(desk, ticket, "Clean the carburettor")
    assert (kept.quantity, kept.net) == (Decimal("0.5"), Decimal("30.00"))
    assert desk.notice == "The line is on the ticket."


def test_a_line_rests_on_the_finding_that_is_chosen(
    desk: Driver, page: ApprovalPage, ticket: TicketView
) -> None:
    desk.press("<Alt-a>", "<Tab>")
    desk.fill("Plug lead", "1", "9", "failed")
    desk.type("plug gap")
    desk.press("<Return>")
    assert line_of(desk, ticket, "Plug lead").evidence.startswith("Plug gap: 0.040 in")


def test_what_is_no_finding_is_said_at_its_field(
    desk: Driver, page: ApprovalPage, ticket: TicketView
) -> None:
    desk.press("<Alt-a>", "<Tab>")
    desk.fill("Plug lead", "1", "9", "failed")
    desk.type("the wind")
    desk.press("<Return>")
    assert "is not in the list: choose one of" in page.entry.form["finding_id"].error
    assert len(desk.kept(ticket).lines) == 3


@pytest.mark.parametrize(
    ("field", "typed", "says"),
    [
        ("description", "", "The description is empty"),
        ("quantity", "-2", "is not above zero"),
        ("unit_price", "dear", "is not an amount"),
        ("reason", "bad luck", "“bad luck” is not in the list"),
        ("expected_on", "31 feb", "There is no 31 Feb"),
    ],
)
def test_a_wrong_field_is_named_and_all_that_was_typed_stays(
    desk: Driver, page: ApprovalPage, ticket: TicketView, field: str, typed: str, says: str
) -> None:
    good = {"description": "Bulb", "quantity": "1", "unit_price": "4", "reason": "worn"}
    page.entry.form.restore({**good, field: typed})
    page.entry.form[field].focus_input()
    desk.press("<Return>")
    assert says in page.entry.form[field].error
    assert desk.focus is page.entry.form[field].input
    assert page.entry.form.text_of(field) == typed
    assert len(desk.kept(ticket).lines) == 3


def test_a_line_is_changed_with_all_its_fields_kept(
    desk: Driver, page: ApprovalPage, ticket: TicketView
) -> None:
    before = line_of(desk, ticket, "Spark plug")
    desk.press("<Alt-l>", "<F2>", "<Tab>", "<Tab>")
    desk.type("7.10")
    desk.press("<Return>")
    after = line_of(desk, ticket, "Spark plug")
    assert after.id == before.id
    assert after.unit_price == Decimal("7.10")
    assert (after.cost, after.part_number, after.finding_id) == (
        before.cost,
        before.part_number,
        before.finding_id,
    )
    assert desk.notice == "The line is changed."


def test_escape_leaves_a_line_as_it_was(
    desk: Driver, page: ApprovalPage, ticket: TicketView
) -> None:
    desk.press("<Alt-l>", "<Return>")
    desk.type("Glow plug")
    desk.press("<Escape>")
    assert desk.kept(ticket).lines[0].description == "Spark plug"
    assert not page.changed


def test_a_line_is_dropped_with_a_reason(
    desk: Driver, shift: Shift, page: ApprovalPage, ticket: TicketView
) -> None:
    desk.dialogs.answers.append("plug was fine")
    desk.press("<Alt-l>", "<Delete>")
    assert [one.description for one in desk.kept(ticket).lines] == [
        "Fuel filter",
        "Fit plug and filter",
    ]
    assert any(one.why == "plug was fine" for one in ticket_journal(shift, ticket.id))


def test_a_line_is_not_wanted_and_wanted_again(
    desk: Driver, page: ApprovalPage, ticket: TicketView
) -> None:
    desk.press("<Alt-l>", "<Down>", "<Alt-u>")
    assert line_of(desk, ticket, "Fuel filter").declined
    assert page.total == "Total $39.19"
    desk.press("<Alt-u>")
    assert not line_of(desk, ticket, "Fuel filter").declined


def test_a_part_is_ordered_for_a_day_and_is_here(
    desk: Driver, page: ApprovalPage, ticket: TicketView
) -> None:
    desk.dialogs.answers.append("thu")
    desk.press("<Alt-l>", "<Down>", "<Alt-r>")
    ordered = line_of(desk, ticket, "Fuel filter")
    assert (ordered.supply, ordered.expected_on) == ("on order", date(2027, 3, 18))
    assert page.lines.list.tree.set(str(ordered.id), "c6") == "on order, Thu 18 Mar"
    desk.press("<Alt-h>")
    assert line_of(desk, ticket, "Fuel filter").supply == "on hand"


def test_labour_cant_be_ordered(desk: Driver, page: ApprovalPage) -> None:
    desk.dialogs.answers.append("")
    desk.press("<Alt-l>", "<Down>", "<Down>", "<Alt-r>")
    assert desk.notice == "Only a part can be ordered: this line is none."


def test_an_estimate_is_given_on_paper(
    desk: Driver, page: ApprovalPage, ticket: TicketView
) -> None:
    page.word.estimate["ready_by"].focus_input()
    desk.type("fri")
    desk.press("<Alt-e>")
    (estimate,) = desk.kept(ticket).estimates
    assert estimate.total == Decimal("47.78")
    text = PdfReader(desk.opened[0]).pages[0].extract_text()
    assert "Fri 19 Mar 2027" in text
    assert "47.78" in text
    desk.press("<Control-p>")
    assert len(desk.opened) == 2


def test_a_yes_by_phone_opens_the_way_on(
    desk: Driver, page: ApprovalPage, ticket: TicketView
) -> None:
    assert "up to $60.00" in page.word.charge
    desk.press("<Alt-l>", "<Down>", "<Alt-h>")
    page.word.say["how"].focus_input()
    desk.fill("by phone", "555-0142", "50")
    desk.press("<Alt-y>")
    (word,) = desk.kept(ticket).approvals
    assert (word.yes, word.amount, word.who, word.how, word.phone) == (
        True,
        Decimal("50.00"),
        "Ansel Brightwater",
        "by phone",
        "555-0142",
    )
    assert "Last yes: $50.00; our rule for going over it: 10 percent" in page.word.charge
    desk.press("<Control-Return>")
    assert desk.kept(ticket).stage is Stage.REPAIR


def test_a_yes_said_earlier_to_one_of_the_ways_out(
    desk: Driver, page: ApprovalPage, ticket: TicketView
) -> None:
    page.word.say["how"].focus_input()
    desk.fill("by phone", "555-0142", "", "", "only")
    desk.type("yesterday 16:30")
    desk.press("<Alt-y>")
    (word,) = desk.kept(ticket).approvals
    assert (word.option, f"{word.said_at:%d %H}") == ("Only what failed", "14 16")
    assert (
        "Last yes: Only what failed, $47.78; our rule for going over it: 10 percent"
        in page.word.charge
    )
    assert "check your local law" in page.word.charge
    desk.shots("approval-said")


def test_a_way_out_that_is_none_of_the_tickets_is_refused_by_their_names(
    desk: Driver, page: ApprovalPage, ticket: TicketView
) -> None:
    page.word.say["how"].focus_input()
    desk.fill("by phone", "555-0142", "", "")
    desk.type("the gold one")
    desk.press("<Alt-y>")
    assert page.word.say["option"].error == (
        "“the gold one” is not in the list: choose one of Only what failed, Renew what wears, "
        "Leave it, Another machine."
    )
    assert desk.kept(ticket).approvals == ()


def test_a_page_that_is_turned_to_shows_its_top(desk: Driver, page: ApprovalPage) -> None:
    desk.press("<Control-n>", "<Escape>", "<Alt-Key-3>")
    page.word.say["how"].focus_input()
    desk.press("<Control-End>")
    scroll = page._scroll
    assert scroll is not None
    assert scroll._canvas.yview()[0] > 0
    desk.press("<Alt-Key-4>", "<Alt-Key-3>")
    assert scroll._canvas.yview()[0] == 0


def test_when_it_can_not_have_been_said_is_told_at_its_field(
    desk: Driver, page: ApprovalPage, ticket: TicketView
) -> None:
    page.word.say["how"].focus_input()
    desk.fill("by phone", "555-0142", "", "", "")
    desk.type("tomorrow 9:00")
    desk.press("<Alt-y>")
    assert "still to come" in page.word.say["said"].error
    assert desk.kept(ticket).approvals == ()


def test_the_disposal_fee_is_put_on_by_its_key(
    desk: Driver, page: ApprovalPage, ticket: TicketView, shift: Shift
) -> None:
    desk.press("<Alt-g>")
    assert len(desk.kept(ticket).lines) == 3, "this shop has none"
    save_shop(shift, replace(shift.shop, disposal_fee=Decimal("8.00")))
    desk.open(ticket)
    desk.press("<Alt-g>")
    assert desk.notice == "The disposal fee is on the ticket."
    assert desk.kept(ticket).lines[-1].net == Decimal("8.00")
    desk.press("<Alt-g>")
    assert desk.notice == "The disposal fee is on this ticket already."
    desk.shots("approval-disposal")


def test_a_yes_needs_to_say_how(desk: Driver, page: ApprovalPage, ticket: TicketView) -> None:
    desk.press("<Alt-y>")
    assert "How they said it is empty" in page.word.say["how"].error
    assert desk.kept(ticket).approvals == ()


def test_a_no_charges_the_diagnosis_once_confirmed(
    desk: Driver, page: ApprovalPage, ticket: TicketView
) -> None:
    page.word.say["how"].focus_input()
    desk.type("in person")
    desk.dialogs.answers += [False, True]
    desk.press("<Alt-n>")
    assert desk.kept(ticket).approvals == ()
    desk.press("<Alt-n>")
    kept = desk.kept(ticket)
    assert kept.declined
    assert [one.description for one in kept.lines if not one.declined] == [
        "Diagnosis, agreed at intake"
    ]
    assert "$37.58" in desk.dialogs.asked[0]


def test_an_answer_is_taken_back_with_a_reason(
    desk: Driver, page: ApprovalPage, ticket: TicketView
) -> None:
    page.word.say["how"].focus_input()
    desk.type("in person")
    desk.press("<Alt-y>")
    desk.press("<Alt-t>")
    assert desk.notice == "Choose an answer in the list first."
    desk.dialogs.answers.append("it was the neighbour")
    desk.press("<Alt-t>")
    assert desk.kept(ticket).approvals == ()


def test_an_answer_half_typed_is_not_left_behind(
    desk: Driver, page: ApprovalPage, ticket: TicketView
) -> None:
    page.word.say["how"].focus_input()
    desk.type("by phone")
    desk.press("<Control-s>")
    assert desk.notice.startswith("An answer is typed and not recorded")
    desk.press("<Control-Return>")
    assert desk.kept(ticket).stage is Stage.APPROVAL


def test_a_ticket_without_lines_begins_at_a_new_one(
    desk: Driver, shift: Shift, ticket: TicketView
) -> None:
    desk.open(at_bench(shift, ticket))
    desk.press("<Alt-Key-3>")
    page = desk.window.pane.page
    assert isinstance(page, ApprovalPage)
    assert desk.focus is page.entry.form["kind"].input


def test_a_line_half_changed_waits_while_another_page_is_open(
    desk: Driver, page: ApprovalPage, ticket: TicketView
) -> None:
    desk.press("<Alt-l>", "<F2>")
    desk.type("Glow plug")
    desk.press("<Alt-Key-1>")
    assert not page.winfo_viewable()
    desk.press("<Alt-Key-3>")
    assert page.entry.form.text_of("description") == "Glow plug"
    desk.press("<Control-s>")
    assert [one.description for one in desk.kept(ticket).lines] == [
        "Glow plug",
        "Fuel filter",
        "Fit plug and filter",
    ]


def test_a_no_asks_how_before_it_asks_anything_else(
    desk: Driver, page: ApprovalPage, ticket: TicketView
) -> None:
    desk.press("<Alt-n>")
    assert page.word.say["how"].error
    assert desk.focus is page.word.say["how"].input
    assert desk.dialogs.asked == []
    assert desk.kept(ticket).approvals == ()


def test_by_phone_puts_in_the_owners_number_and_takes_it_out_again(
    desk: Driver, page: ApprovalPage, ticket: TicketView
) -> None:
    page.word.say["how"].focus_input()
    desk.type("by p")
    assert page.word.say.text_of("phone") == "555-0142"
    desk.press("<Control-a>")
    desk.type("in p")
    assert page.word.say.text_of("phone") == ""
    desk.press("<Control-a>")
    desk.type("by p")
    desk.press("<Return>")
    (yes,) = desk.kept(ticket).approvals
    assert (yes.how, yes.phone, yes.who) == ("by phone", "555-0142", "Ansel Brightwater")


def test_the_yes_button_is_in_sight_while_the_answer_is_typed(
    desk: Driver, page: ApprovalPage
) -> None:
    desk.resize("1280x800")
    page.word.say["how"].focus_input()
    button = page.word.yes
    foot = page.winfo_rooty() + page.winfo_height()
    desk.until(lambda: 0 < button.winfo_rooty() + button.winfo_height() <= foot, "the button")
    desk.shot("approval-answer-1280x800")


def test_all_that_a_line_lacks_is_said_at_once(
    desk: Driver, page: ApprovalPage, ticket: TicketView
) -> None:
    before = desk.kept(ticket).lines
    desk.press("<Alt-a>", "<Tab>")
    desk.press("<Return>")
    form = page.entry.form
    assert form["description"].error == "The description is empty: type it."
    assert form["reason"].error == "The reason is empty: type it."
    assert form["unit_price"].error == "The price is empty: type it."
    assert desk.focus is form["description"].input
    assert desk.kept(ticket).lines == before
    desk.shot("approval-faults-1280x800")


def test_what_rests_on_a_reading_that_is_off_has_failed(
    desk: Driver, page: ApprovalPage, ticket: TicketView
) -> None:
    desk.press("<Alt-a>", "<Tab>")
    desk.fill("Spark plug", "", "6.50", "")
    desk.type("plug gap")
    assert page.entry.form.text_of("reason") == "failed"
    desk.press("<Return>")
    assert desk.kept(ticket).lines[-1].reason == "failed"
