"""What it may be and what is next, by keyboard: bars, suggested steps, a cause said or not."""

import pytest

from shopdesk.desk.approval_page import ApprovalPage
from shopdesk.desk.diagnosis_page import DiagnosisPage
from shopdesk.desk.pickup_page import PickupPage
from shopdesk.desk.repair_page import RepairPage
from shopdesk.job.causes import say_cause
from shopdesk.job.diagnosis import record_finding
from shopdesk.job.ranking import ranking
from shopdesk.job.shift import Shift
from shopdesk.job.stages import Stage
from shopdesk.job.views import TicketView
from tests.window.conftest import Driver
from tests.window.so_far import approved, at_bench, repaired


@pytest.fixture
def page(desk: Driver, shift: Shift, ticket: TicketView) -> DiagnosisPage:
    """The Diagnosis page of a trimmer that starts, then dies, after storage."""
    desk.open(at_bench(shift, ticket))
    return diagnosis(desk)


def diagnosis(desk: Driver) -> DiagnosisPage:
    found = desk.window.pane.page
    assert isinstance(found, DiagnosisPage)
    return found


def approval(desk: Driver) -> ApprovalPage:
    found = desk.window.pane.page
    assert isinstance(found, ApprovalPage)
    return found


def record(desk: Driver, check: str, reading: str) -> None:
    desk.press("<Alt-k>")
    desk.type(check)
    desk.press("<Return>")
    desk.type(reading)
    desk.press("<Return>")


def test_a_whole_visit_from_complaint_to_cause_takes_no_mouse(
    desk: Driver, shift: Shift, ticket: TicketView
) -> None:
    desk.open(ticket)
    desk.press("<Control-Return>")
    page = diagnosis(desk)
    desk.press("<Alt-w>")
    desk.type("seen")
    desk.press("<Return>")
    assert page.causes.steps.words[0].startswith("F7  Spark in a tester  (check, 2 min)")
    desk.press("<F7>")
    desk.type("s")
    desk.press("<Return>")
    assert page.causes.steps.words[0].startswith("F7  Strokes until the primer bulb is full")
    desk.press("<F7>")
    desk.type("b")
    desk.press("<Return>")
    likeliest = page.causes.bars.bars[0]
    assert likeliest.title == "cracked or collapsed fuel line"
    assert likeliest.share > 0.8
    record(desk, "fuel lines", "h")
    desk.shots("visit-causes")
    desk.press("<Alt-c>", "<Return>", "<Return>")
    assert desk.kept(ticket).cause_title == "cracked or collapsed fuel line"
    assert "fix" in page.causes.steps.words[0]
    desk.dialogs.answers += [False, True]
    desk.press("<F7>")
    assert desk.dialogs.asked[-1].startswith("Put this repair on the ticket?")
    assert desk.window.pane.page is page
    desk.press("<F7>")
    assert approval(desk).entry.form.text_of("description") == (
        "Renew the fuel lines and the grommet"
    )
    desk.press("<Return>")
    (line,) = desk.kept(ticket).lines
    assert line.evidence.startswith("Fuel lines and grommet: hard or cracked")
    desk.shots("visit-line")


def test_the_bars_say_and_draw_how_likely_each_cause_is(
    desk: Driver, shift: Shift, page: DiagnosisPage, ticket: TicketView
) -> None:
    odds = ranking(shift, ticket.id)
    bars = page.causes.bars
    assert [bar.words for bar in bars.bars] == [cause.words for cause in odds.in_short(5)]
    assert any(bar.title == "something else" for bar in bars.bars)
    assert bars.bars[-1].title.endswith("others together")
    assert sum(bar.share for bar in bars.bars) == pytest.approx(1)
    drawn = [
        bars.coords(item)
        for item in bars.find_all()
        if str(bars.type(item)) == "rectangle" and bars.itemcget(item, "fill")
    ]
    widths = [right - left for left, _, right, _ in drawn][::2]
    assert widths[0] / widths[1] == pytest.approx(bars.bars[0].share / bars.bars[1].share, rel=0.1)


def test_a_finding_moves_the_bars_at_once(desk: Driver, page: DiagnosisPage) -> None:
    before = {bar.key: bar.share for bar in page.causes.bars.bars}
    record(desk, "strokes until", "b")
    after = {bar.key: bar.share for bar in page.causes.bars.bars}
    assert after["cracked-fuel-line"] > 3 * before["cracked-fuel-line"]


def test_a_suggested_check_is_ready_with_the_cursor_in_its_reading(
    desk: Driver, page: DiagnosisPage
) -> None:
    desk.press("<F8>")
    assert page.pad.chooser.chosen is not None
    assert page.pad.chooser.chosen.key == "compression"
    assert desk.focus is page.pad.form["reading"].input
    assert page.pad.card.cautions.words
    assert not page.pad.chooser.list.winfo_ismapped()
    desk.press("<Alt-k>")
    assert page.pad.chooser.list.winfo_ismapped()


def test_what_is_typed_for_another_check_goes_first(desk: Driver, page: DiagnosisPage) -> None:
    desk.press("<F8>")
    desk.type("14")
    desk.press("<F7>")
    assert desk.notice.startswith("Something is typed for another check")
    assert page.pad.form.text_of("reading") == "14"
    assert page.pad.form.text_of("check_key") == "compression"


def test_a_line_that_is_typed_is_not_lost_to_a_suggested_fix(
    desk: Driver, shift: Shift, page: DiagnosisPage, ticket: TicketView
) -> None:
    record_finding(shift, ticket.id, "spark", "s")
    record_finding(shift, ticket.id, "primer", "b")
    desk.open(ticket)
    desk.press("<Alt-Key-3>", "<Alt-a>", "<Tab>")
    desk.type("Fuel line kit")
    desk.dialogs.answers.append(True)
    desk.press("<Alt-Key-2>", "<F7>")
    assert desk.notice.startswith("Something is typed on Approval and not saved yet")
    assert approval(desk).entry.form.text_of("description") == "Fuel line kit"


def test_complaint_causes_and_steps_are_in_sight_without_scrolling(
    desk: Driver, page: DiagnosisPage
) -> None:
    desk.press("<F7>")
    foot = desk.window.pane.ways.winfo_rooty()
    for widget in (page.pad.form, page.causes.bars, page.causes.steps):
        assert widget.winfo_rooty() + widget.winfo_height() <= foot


def test_checks_for_safety_are_listed_until_they_are_made(
    desk: Driver, page: DiagnosisPage
) -> None:
    assert "Guards and shields" in page.safety
    record(desk, "guards", "g")
    assert "Guards and shields" not in page.safety
    assert "Stop switch" in page.safety


def test_findings_that_do_not_go_together_are_said_plainly(
    desk: Driver, page: DiagnosisPage
) -> None:
    assert "does not go with" not in page.causes.said
    record(desk, "spark in", "n")
    record(desk, "known-good fuel", "r")
    assert "does not go with the other findings" in page.causes.said


def test_what_the_shops_own_tickets_say_stands_beside_the_odds(page: DiagnosisPage) -> None:
    assert "these are trade odds" in page.causes.said


def test_a_cause_is_overruled_with_a_reason_and_counts_again(
    desk: Driver, page: DiagnosisPage, ticket: TicketView
) -> None:
    desk.dialogs.answers += [None, "", "drained and filled fresh"]
    desk.press("<Alt-c>", "<Down>", "<Delete>")
    assert "stale fuel" in [bar.title for bar in page.causes.bars.bars]
    desk.press("<Delete>")
    assert desk.notice == "The reason is empty: type it."
    desk.press("<Alt-x>")
    last = page.causes.bars.bars[-1]
    assert (last.title, last.words) == ("stale fuel: drained and filled fresh", "ruled out")
    assert last.share == 0
    desk.press("<Alt-x>")
    assert desk.notice == "That cause counts again."
    assert page.causes.bars.bars[1].title == "stale fuel"


def test_the_rest_together_cant_be_overruled(desk: Driver, page: DiagnosisPage) -> None:
    desk.press("<Alt-c>", *["<Down>"] * 9, "<Delete>")
    assert desk.notice == "Choose one cause with the arrows first."


def test_something_else_is_said_in_words(
    desk: Driver, page: DiagnosisPage, ticket: TicketView
) -> None:
    desk.press("<Alt-t>")
    desk.type("something")
    desk.press("<Return>")
    assert page.found.form["words"].error.startswith("What it was is empty")
    desk.type("mouse nest in the shroud")
    desk.press("<Return>")
    kept = desk.kept(ticket)
    assert (kept.cause, kept.cause_words) == ("something-else", "mouse nest in the shroud")
    desk.press("<Alt-t>", "<Control-a>", "<BackSpace>", "<Return>")
    assert desk.kept(ticket).cause == ""
    assert desk.notice == "No cause is noted any more."


def test_what_is_no_cause_is_said_at_its_field(desk: Driver, page: DiagnosisPage) -> None:
    desk.press("<Alt-t>")
    desk.type("gremlins")
    desk.press("<Return>")
    assert "“gremlins” is" in page.found.form["cause"].error


def test_the_likeliest_causes_are_offered_first_and_all_of_them(
    shift: Shift, page: DiagnosisPage, ticket: TicketView
) -> None:
    offered = page.found.form["cause"].input.cget("values")
    assert list(offered)[1:] == [cause.title for cause in ranking(shift, ticket.id).causes]


def test_the_cause_is_asked_for_at_the_repair_and_before_pickup(
    desk: Driver, shift: Shift, ticket: TicketView
) -> None:
    desk.open(approved(shift, ticket))
    page = desk.window.pane.page
    assert isinstance(page, RepairPage)
    assert page.found.hint.startswith("Say what it turned out to be")
    desk.press("<Alt-t>")
    desk.type("fouled")
    desk.press("<Return>")
    assert desk.kept(ticket).cause == "bad-plug"
    assert page.found.hint == ""


def test_the_hint_stops_nothing(desk: Driver, shift: Shift, ticket: TicketView) -> None:
    desk.open(repaired(shift, ticket))
    page = desk.window.pane.page
    assert isinstance(page, PickupPage)
    assert page.hint.endswith("Repair (Alt+4), then Alt+T.")
    assert desk.kept(ticket).stage is Stage.PICKUP
    say_cause(shift, ticket.id, "bad-plug")
    desk.open(ticket)
    assert page.hint == ""


def test_a_cause_half_typed_waits_while_another_page_is_open(
    desk: Driver, page: DiagnosisPage, ticket: TicketView
) -> None:
    desk.press("<Alt-t>")
    desk.type("stale")
    desk.press("<Alt-Key-3>", "<Alt-Key-2>")
    assert page.found.form.text_of("cause") == "stale-fuel"
    desk.press("<Control-s>")
    assert desk.kept(ticket).cause == "stale-fuel"
