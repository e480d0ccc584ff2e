"""The repair by keyboard: work ticked off, settings, the proof run, and why there is none."""

import tkinter as tk
from decimal import Decimal

import pytest

from shopdesk.desk.repair_page import RepairPage
from shopdesk.job.causes import say_cause
from shopdesk.job.diagnosis import record_finding
from shopdesk.job.lines import turn_down
from shopdesk.job.parts.supply import set_supply
from shopdesk.job.shift import Shift
from shopdesk.job.stages import Stage
from shopdesk.job.views import TicketView
from tests.window.conftest import Driver
from tests.window.so_far import approved


@pytest.fixture
def page(desk: Driver, shift: Shift, ticket: TicketView) -> RepairPage:
    """The Repair page of an approved ticket with three lines of work."""
    desk.open(approved(shift, ticket))
    found = desk.window.pane.page
    assert isinstance(found, RepairPage)
    return found


def test_space_ticks_the_work_off_line_by_line(
    desk: Driver, page: RepairPage, ticket: TicketView
) -> None:
    desk.press("<space>", "<Down>", "<space>")
    assert [one.done for one in desk.kept(ticket).lines] == [True, True, False]
    assert desk.notice == "Fuel filter: done."
    desk.press("<space>")
    assert [one.done for one in desk.kept(ticket).lines] == [True, False, False]
    desk.shots("repair")


def test_far_keys_go_to_the_ends_of_the_work(
    desk: Driver, page: RepairPage, ticket: TicketView
) -> None:
    first, *_, last = [line.id for line in desk.kept(ticket).lines]
    for key, chosen in (
        ("<End>", last),
        ("<Home>", first),
        ("<Next>", last),
        ("<Prior>", first),
    ):
        desk.press(key)
        assert page.work.list.selected == chosen


def test_the_key_for_no_proof_run_asks_for_the_reason_first(
    desk: Driver, page: RepairPage, ticket: TicketView
) -> None:
    desk.press("<Alt-n>")
    assert desk.notice.startswith("Type why the machine goes without a proof run")
    assert desk.focus is page.reason["proof_reason"].input
    desk.type("owner is in a hurry")
    desk.press("<Alt-n>")
    assert desk.notice == "Noted."
    desk.press("<Control-a>", "<BackSpace>", "<Alt-n>")
    assert desk.notice == "The reason is taken back."
    assert desk.kept(ticket).proof_reason == ""


def test_a_part_that_is_not_here_cant_be_fitted_until_it_is(
    desk: Driver, shift: Shift, page: RepairPage, ticket: TicketView
) -> None:
    set_supply(shift, desk.kept(ticket).lines[0].id, "on order")
    desk.open(ticket)
    desk.press("<space>")
    assert desk.notice == "“Spark plug” is on order: receive it before fitting it."
    desk.press("<Alt-h>", "<space>")
    assert desk.kept(ticket).lines[0].done


def test_what_the_owner_does_not_want_is_named_and_not_work(
    desk: Driver, shift: Shift, page: RepairPage, ticket: TicketView
) -> None:
    turn_down(shift, desk.kept(ticket).lines[1].id)
    desk.open(ticket)
    assert page.work.declined.endswith("the owner does not want it: Fuel filter.")
    assert [one.description for one in page.work.shown] == ["Spark plug", "Fit plug and filter"]


def test_a_setting_left_is_recorded_as_one(
    desk: Driver, page: RepairPage, ticket: TicketView
) -> None:
    desk.press("<Alt-s>", "<Alt-k>")
    desk.type("plug gap")
    desk.press("<Return>")
    desk.type(".025")
    desk.press("<Return>")
    finding = desk.kept(ticket).findings[-1]
    assert (finding.phase, finding.shown, finding.verdict) == ("setting", "0.025 in", "pass")


def test_the_proof_run_stands_beside_the_first_reading(
    desk: Driver, page: RepairPage, ticket: TicketView
) -> None:
    desk.press("<Alt-p>", "<Alt-k>")
    desk.type("plug gap")
    chosen = page.pad.chooser.list.selected
    assert page.pad.chooser.list.tree.set(str(chosen), "c2") == "0.040 in"
    desk.press("<Return>")
    desk.type(".026")
    desk.press("<Return>")
    finding = desk.kept(ticket).findings[-1]
    assert finding.phase == "proof"
    row = page.findings.list.tree.item(str(finding.id), "values")
    assert row[:5] == ("proof run", "Plug gap", "0.040 in", "0.026 in", "pass")
    desk.shots("repair-proof")


def test_the_proof_run_has_the_safety_checks_with_their_cautions(
    desk: Driver, page: RepairPage
) -> None:
    titles = [
        page.pad.chooser.list.tree.set(row, "c1")
        for row in page.pad.chooser.list.tree.get_children()
    ]
    assert {"Stop switch", "Guards and shields", "Idle speed, warm"} <= set(titles)
    assert "Known-good fuel" not in titles
    desk.press("<Alt-k>")
    desk.type("stop switch")
    assert any("carbon monoxide" in words for words in page.pad.card.cautions.words)


def test_what_is_found_at_the_work_is_a_finding(
    desk: Driver, page: RepairPage, ticket: TicketView
) -> None:
    desk.press("<Alt-f>", "<Alt-e>")
    desk.fill("Flywheel key", "half sheared")
    desk.type("marginal")
    desk.press("<Return>")
    finding = desk.kept(ticket).findings[-1]
    assert (finding.phase, finding.title) == ("diagnosis", "Flywheel key")


def test_correcting_goes_to_what_the_finding_is_for(
    desk: Driver, shift: Shift, page: RepairPage, ticket: TicketView
) -> None:
    record_finding(shift, ticket.id, "plug-gap", ".05", phase="setting")
    desk.open(ticket)
    desk.press("<Alt-l>", "<F2>")
    assert page.phase == "setting"
    desk.type(".025")
    desk.press("<Return>")
    kept = [one for one in desk.kept(ticket).findings if one.phase == "setting"]
    assert [one.shown for one in kept] == ["0.025 in"]


def test_a_reading_typed_for_a_setting_waits_as_one(
    desk: Driver, page: RepairPage, ticket: TicketView
) -> None:
    desk.press("<Alt-s>", "<Alt-k>")
    desk.type("plug gap")
    desk.press("<Return>")
    desk.type(".025")
    desk.press("<Alt-Key-1>", "<Alt-Key-4>")
    assert page.phase == "setting"
    assert page.pad.form.text_of("reading") == ".025"
    desk.press("<Control-s>")
    assert desk.kept(ticket).findings[-1].phase == "setting"


def test_no_proof_run_needs_a_reason(desk: Driver, page: RepairPage, ticket: TicketView) -> None:
    desk.press("<space>", "<Down>", "<space>", "<Down>", "<space>")
    assert "no proof run recorded" in desk.window.pane.ways.missing
    page.reason["proof_reason"].focus_input()
    desk.type("owner wants it at once")
    desk.press("<Return>")
    assert desk.kept(ticket).proof_reason == "owner wants it at once"
    desk.dialogs.answers.append("leave it unsaid")
    desk.press("<Control-Return>")
    assert desk.kept(ticket).stage is Stage.PICKUP


def proved(desk: Driver, page: RepairPage) -> None:
    """Do the work and give a reason for no proof run."""
    desk.press("<space>", "<Down>", "<space>", "<Down>", "<space>")
    page.reason["proof_reason"].focus_input()
    desk.type("owner wants it at once")
    desk.press("<Return>")


def test_what_it_turned_out_to_be_is_asked_as_it_leaves_the_bench(
    desk: Driver, page: RepairPage, ticket: TicketView
) -> None:
    proved(desk, page)
    desk.dialogs.answers.append(None)
    desk.press("<Control-Return>")
    assert "Say what it turned out to be" in desk.dialogs.asked[0]
    assert desk.kept(ticket).stage is Stage.REPAIR, "the question was left: so is the ticket"
    desk.dialogs.answers.append("fouled or worn plug")
    desk.press("<Control-Return>")
    kept = desk.kept(ticket)
    assert (kept.stage, kept.cause) == (Stage.PICKUP, "bad-plug")


def test_a_cause_that_is_not_in_the_book_is_said_in_words(
    desk: Driver, page: RepairPage, ticket: TicketView
) -> None:
    proved(desk, page)
    desk.dialogs.answers += ["something else", "", "something else", "wasp nest in the inlet"]
    desk.press("<Control-Return>")
    assert desk.notice == "What it was is empty: type it."
    desk.press("<Control-Return>")
    kept = desk.kept(ticket)
    assert (kept.stage, kept.cause_words) == (Stage.PICKUP, "wasp nest in the inlet")


def test_the_cause_is_asked_for_only_where_it_is_not_said(
    desk: Driver, shift: Shift, page: RepairPage, ticket: TicketView
) -> None:
    proved(desk, page)
    say_cause(shift, ticket.id, "bad-plug")
    desk.open(ticket)
    desk.press("<Control-Return>")
    assert desk.kept(ticket).stage is Stage.PICKUP


def test_the_verdict_of_the_proof_run_is_wholly_in_sight(desk: Driver, page: RepairPage) -> None:
    desk.press("<Alt-k>")
    desk.type("plug gap")
    desk.press("<Return>")
    desk.type(".040")
    desk.until(lambda: in_sight(desk, page, page.pad.verdict), "the verdict in sight")
    assert "Fail" in page.pad.verdict.text
    assert in_sight(desk, page, page.pad.form["reading"])
    desk.shots("repair-verdict")


def in_sight(desk: Driver, page: RepairPage, widget: tk.Misc) -> bool:
    top, bottom = widget.winfo_rooty(), widget.winfo_rooty() + widget.winfo_height()
    return page.winfo_rooty() <= top and bottom <= page.winfo_rooty() + page.winfo_height()


def test_the_page_opens_at_the_proof_run_once_the_work_is_done(
    desk: Driver, page: RepairPage, ticket: TicketView
) -> None:
    desk.press("<space>", "<Down>", "<space>", "<Down>", "<space>")
    desk.open(ticket)
    assert desk.focus is page.pad.chooser.box
    assert sum(one.net for one in desk.kept(ticket).lines if one.done) == Decimal("44.50")
