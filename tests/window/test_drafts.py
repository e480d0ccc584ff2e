"""What is typed and not saved survives whatever happens to the window, and says that it did."""

import os
import sqlite3
import subprocess
import sys
import time
from collections.abc import Callable
from contextlib import closing
from dataclasses import replace
from pathlib import Path

import pytest

from shopdesk.desk.diagnosis_page import DiagnosisPage
from shopdesk.desk.intake_new import NewTicket
from shopdesk.desk.intake_page import IntakePage
from shopdesk.desk.machine_card import MachineCard
from shopdesk.desk.owner_card import OwnerCard
from shopdesk.desk.settings import Settings
from shopdesk.desk.unfinished import named
from shopdesk.job.drafts import MOST_LETTERS, Content, Place, drafts_left, keep_draft
from shopdesk.job.intake import TicketEntry, change_intake
from shopdesk.job.moving import go_on
from shopdesk.job.settings import as_entry, set_up_shop
from shopdesk.job.shift import Shift
from shopdesk.job.stages import Stage
from shopdesk.job.units import UnitEntry, add_unit
from shopdesk.job.views import TicketView
from shopdesk.records.store import open_records
from tests.window.conftest import NOW, PATIENCE, Driver
from tests.window.test_window import tab_words

ROOT = Path(__file__).parents[2]
HERE = "Not saved yet: what you typed here on "
POLL_SECONDS = 0.05
Drive = Callable[[Shift], Driver]


def left(shift: Shift) -> dict[str, object]:
    """Return by its name what the records hold of what is typed."""
    return {draft.called: draft.content for draft in drafts_left(shift)}


def kept_aside(desk: Driver, *called: str) -> None:
    """Wait until exactly this is in the records."""
    desk.until(lambda: left(desk.shift).keys() == set(called), f"drafts of {called}")


def power_cut(desk: Driver, drive: Drive) -> Driver:
    """End the window without a question, and open another one on the same records."""
    desk.app.shut()
    return drive(desk.shift)


def intake(desk: Driver, ticket: TicketView) -> IntakePage:
    desk.open(ticket)
    page = desk.window.pane.page
    assert isinstance(page, IntakePage)
    return page


def complaint(page: IntakePage) -> str:
    return page._forms["visit"].text_of("complaint")


def new_ticket(desk: Driver) -> NewTicket:
    desk.press("<Control-n>")
    assert isinstance(desk.window.in_sight, NewTicket)
    return desk.window.in_sight


def test_a_killed_window_gives_back_what_was_typed(
    shift: Shift, ticket: TicketView, drive: Drive
) -> None:
    child = subprocess.Popen(
        [
            sys.executable,
            "-m",
            "tests.window.half_typed",
            str(shift.records.file),
            str(ticket.id),
        ],
        cwd=ROOT,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
    )
    try:
        give_up = time.monotonic() + 3 * PATIENCE
        wanted = {"the new ticket", "T1001 Intake", "T1001 Diagnosis"}
        while left(shift).keys() != wanted or "14" not in str(left(shift)["T1001 Diagnosis"]):
            assert child.poll() is None, "the window ended by itself"
            assert time.monotonic() < give_up, left(shift)
    finally:
        child.kill()
        child.wait(PATIENCE)

    desk = drive(shift)
    assert sorted(name for name in wanted if name in desk.window.unfinished.words) == sorted(wanted)
    assert new_ticket(desk).owner.form.text_of("name") == "Oona Verhaal"
    assert complaint(intake(desk, ticket)).endswith("trigger. Often.")
    assert tab_words(desk).count("not saved yet") == 2
    desk.press("<Alt-Key-2>")
    page = desk.window.pane.page
    assert isinstance(page, DiagnosisPage)
    assert page.pad.form.text_of("reading") == "14"
    assert desk.focus is page.pad.form["reading"].input
    assert page.pad.chooser.chosen is not None
    assert page.pad.chooser.chosen.key == "compression"
    assert page.put_back.words.startswith("Not saved yet: what you typed here on ")
    assert "the new ticket" in desk.window.unfinished.words
    assert "T1001" not in desk.window.unfinished.words, "that one is open, and its tabs say it"
    desk.shots("put-back-diagnosis")
    desk.type("2")
    assert page.pad.form.text_of("reading") == "142", "one types on where one was"
    desk.press("<Alt-Key-1>")
    desk.shots("put-back-intake")


def test_what_is_saved_leaves_no_draft_behind(
    desk: Driver, ticket: TicketView, drive: Drive
) -> None:
    page = intake(desk, ticket)
    desk.type(" Often.")
    kept_aside(desk, "T1001 Intake")
    desk.press("<Control-s>")
    kept_aside(desk)
    desk.type(" Again.")
    kept_aside(desk, "T1001 Intake")
    for _ in " Again.":
        desk.press("<BackSpace>")
    kept_aside(desk)
    assert not page.changed
    again = power_cut(desk, drive)
    assert again.window.unfinished.words == ""
    assert complaint(intake(again, ticket)).endswith("trigger. Often.")
    assert "not saved" not in tab_words(again)


def test_a_reading_recorded_after_the_power_cut_is_recorded_once(
    desk: Driver, shift: Shift, ticket: TicketView, drive: Drive
) -> None:
    go_on(shift, ticket.id, Stage.DIAGNOSIS)
    desk.open(ticket)
    desk.type("compr\n142")
    kept_aside(desk, "T1001 Diagnosis")
    again = power_cut(desk, drive)
    again.press("<Control-u>")
    page = again.window.pane.page
    assert page.put_back.words.startswith(HERE)
    again.press("<Alt-r>")
    kept_aside(again)
    assert page.put_back.words == ""
    assert [one.typed for one in again.kept(ticket).findings] == ["142"]
    assert power_cut(again, drive).window.unfinished.words == ""


def test_ctrl_u_goes_on_with_the_one_or_asks_which(
    desk: Driver, ticket: TicketView, drive: Drive
) -> None:
    intake(desk, ticket)
    desk.type(" Often.")
    kept_aside(desk, "T1001 Intake")
    one = power_cut(desk, drive)
    assert one.window.unfinished.words == "Not saved yet: T1001 Intake"
    one.shots("unfinished")
    one.press("<Control-u>")
    assert isinstance(one.window.pane.page, IntakePage)
    assert one.window.pane.page.put_back.words.startswith(HERE)
    assert one.window.unfinished.words == ""
    new_ticket(one)
    one.type("Oona")
    kept_aside(one, "T1001 Intake", "the new ticket")
    two = power_cut(one, drive)
    two.dialogs.answers.append("the new")
    two.press("<Control-u>")
    assert isinstance(two.window.in_sight, NewTicket)
    assert two.window.unfinished.words == "Not saved yet: T1001 Intake"


def test_what_was_left_can_be_thrown_away(desk: Driver, ticket: TicketView, drive: Drive) -> None:
    intake(desk, ticket)
    desk.type(" Often.")
    kept_aside(desk, "T1001 Intake")
    again = power_cut(desk, drive)
    page = intake(again, ticket)
    again.dialogs.answers += [False, True]
    again.press("<Alt-q>")
    assert complaint(page).endswith("trigger. Often.")
    again.press("<Alt-q>")
    assert complaint(page) == ticket.complaint
    assert page.put_back.words == ""
    assert "not saved" not in tab_words(again)
    kept_aside(again)


def test_closing_says_that_it_waits_and_it_does(
    desk: Driver, ticket: TicketView, drive: Drive
) -> None:
    intake(desk, ticket)
    desk.type("x")
    desk.dialogs.answers.append(False)
    desk.app.close()
    assert desk.dialogs.asked[-1].startswith("Not saved yet: T1001 Intake. It waits here until")
    assert left(desk.shift).keys() == {"T1001 Intake"}, "it is written before the question"
    assert complaint(intake(power_cut(desk, drive), ticket)).endswith("x")


def test_what_is_saved_just_before_closing_is_dropped_too(desk: Driver, ticket: TicketView) -> None:
    intake(desk, ticket)
    desk.type("x")
    assert desk.window.front.drafts.keep_now()
    desk.press("<Control-s>")
    desk.app._may_leave(desk.window)
    assert left(desk.shift) == {}


def test_a_locked_file_lets_one_type_on_and_is_said_once(
    shift: Shift, ticket: TicketView, drive: Drive
) -> None:
    records = open_records(shift.records.file, NOW, wait=0.05)
    desk = drive(replace(shift, records=records))
    page = intake(desk, ticket)
    with closing(sqlite3.connect(desk.shift.records.file)) as other:
        other.execute("BEGIN IMMEDIATE")
        desk.type(" Often.")
        desk.until(lambda: desk.notice, "a sentence")
        assert desk.notice.startswith("What is typed is safe only once it is saved. The records ")
        assert "in use by another program" in desk.notice
        desk.window.front.notices.clear()
        desk.type(" Very.")
        assert not desk.window.front.drafts.keep_now()
        desk.dialogs.answers.append(False)
        desk.app.close()
        assert "closing loses it" in desk.dialogs.asked[-1]
        assert desk.notice == "", "once is enough"
        assert complaint(page).endswith("trigger. Often. Very.")
    assert desk.window.front.drafts.keep_now()
    assert left(desk.shift).keys() == {"T1001 Intake"}
    records.close()


def test_a_file_that_is_not_to_be_written_is_tried_again_by_itself(
    desk: Driver, ticket: TicketView
) -> None:
    with closing(sqlite3.connect(desk.shift.records.file)) as other, other:
        other.execute(
            "CREATE TRIGGER closed BEFORE INSERT ON draft"
            " BEGIN SELECT RAISE(ABORT, 'attempt to write a readonly database'); END"
        )
    intake(desk, ticket)
    desk.type(" Often.")
    desk.until(lambda: "make the file and its folder writable" in desk.notice, "a sentence")
    with closing(sqlite3.connect(desk.shift.records.file)) as other, other:
        other.execute("DROP TRIGGER closed")
    kept_aside(desk, "T1001 Intake")


def test_what_is_too_long_is_said_and_stays_on_the_page(desk: Driver, ticket: TicketView) -> None:
    page = intake(desk, ticket)
    page._forms["visit"]["complaint"].input.insert("1.0", "y" * MOST_LETTERS)  # type: ignore[attr-defined]
    desk.until(lambda: "T1001 Intake is too long" in desk.notice, "a sentence")
    assert left(desk.shift) == {}
    assert len(complaint(page)) > MOST_LETTERS


def test_cards_and_settings_come_back_as_well(
    desk: Driver, ticket: TicketView, drive: Drive
) -> None:
    desk.window.open_owner(ticket.owner.id)
    card = desk.window.in_sight
    assert isinstance(card, OwnerCard)
    card.form["email"].focus_input()
    desk.type("ansel@")
    desk.window.open_machine(ticket.unit.id)
    machine = desk.window.in_sight
    assert isinstance(machine, MachineCard)
    machine.form["model"].focus_input()
    desk.type("X")
    desk.press("<F10>")
    desk.type("My ")
    owner = "the card of Ansel Brightwater"
    unit = "the card of String trimmer, Tarnbeck TB-26"
    kept_aside(desk, owner, unit, "the settings")
    again = power_cut(desk, drive)
    assert all(one in again.window.unfinished.words for one in (owner, unit, "the settings"))
    again.dialogs.answers.append(owner)
    again.press("<Control-u>")
    card = again.window.in_sight
    assert isinstance(card, OwnerCard)
    assert card.form.text_of("email") == "ansel@"
    assert card._put_back.words.startswith(HERE)
    again.shots("put-back-owner")
    again.dialogs.answers.append(True)
    again.press("<Alt-q>")
    assert card.form.text_of("email") == ""
    again.dialogs.answers.append(unit)
    again.press("<Control-u>")
    machine = again.window.in_sight
    assert isinstance(machine, MachineCard)
    assert machine.form.text_of("model") == "XTB-26"
    assert again.window.unfinished.words == "Not saved yet: the settings"
    again.press("<Control-u>")
    sheet = again.window.in_sight
    assert isinstance(sheet, Settings)
    assert sheet._form.text_of("name").startswith("My ")
    again.press("<Control-s>")
    kept_aside(again, unit)
    assert again.shift.shop.name.startswith("My ")
    assert sheet._put_back.words == ""


def test_a_new_ticket_remembers_whose_and_which_machine_it_is_for(
    desk: Driver, shift: Shift, ticket: TicketView, drive: Drive
) -> None:
    saw = add_unit(shift, ticket.owner.id, UnitEntry(kind="chain saw", engine="two-stroke"))
    desk.window.new_ticket(None, saw.id)
    desk.type("Chain creeps.")
    kept_aside(desk, "the new ticket")
    new = new_ticket(power_cut(desk, drive))
    assert new.owner.known is not None
    assert new.machine.known is not None
    assert (new.owner.known.id, new.machine.known.id) == (ticket.owner.id, saw.id)
    assert new.visit.text_of("complaint") == "Chain creeps."


def test_a_new_machine_of_a_known_owner_is_not_taken_for_their_other_one(
    desk: Driver, ticket: TicketView, drive: Drive
) -> None:
    desk.window.new_ticket(ticket.owner.id, None)
    new = desk.window.in_sight
    assert isinstance(new, NewTicket)
    new.machine.take(None)
    new.machine.form.focus_first()
    desk.fill("chain saw")
    kept_aside(desk, "the new ticket")
    again = new_ticket(power_cut(desk, drive))
    assert again.owner.known is not None
    assert again.machine.known is None
    assert again.machine.form.text_of("kind") == "chain saw"


def test_a_new_ticket_for_somebody_else_waits_for_the_one_that_is_begun(
    desk: Driver, ticket: TicketView
) -> None:
    new = new_ticket(desk)
    desk.type("Oona Verhaal")
    desk.window.new_ticket(ticket.owner.id, None)
    assert "take it in or clear it first" in desk.notice
    assert new.owner.known is None
    assert new.owner.form.text_of("name") == "Oona Verhaal"


def test_what_another_desk_changed_meanwhile_is_shown_under_what_was_typed(
    desk: Driver, shift: Shift, ticket: TicketView, drive: Drive
) -> None:
    intake(desk, ticket)
    desk.type(" Often.")
    kept_aside(desk, "T1001 Intake")
    desk.app.shut()
    change_intake(
        shift, ticket.id, TicketEntry(complaint="Theirs.", fuel="drained"), ticket.version
    )
    page = intake(drive(shift), ticket)
    assert complaint(page).endswith("trigger. Often.")
    assert page._forms["visit"].text_of("fuel") == "drained"


def test_what_was_saved_a_moment_before_the_power_cut_is_not_called_unsaved(
    shift: Shift, ticket: TicketView, drive: Drive
) -> None:
    keep_draft(shift, Place("Intake", ticket.id), "x", {"visit": {"fuel": ticket.fuel}})
    desk = drive(shift)
    assert not intake(desk, ticket).changed
    kept_aside(desk)
    assert desk.window.pane.page.put_back.words == ""


def test_many_that_are_unfinished_are_counted() -> None:
    assert named(["T1001 Intake"]) == "T1001 Intake"
    assert named(["a", "b", "c", "d", "e"]) == "a, b, c and 2 more"
    assert named(["x" * 80]) == "x" * 59 + "…"


def test_the_first_page_comes_back_and_goes_once_the_shop_is_open(
    empty_shift: Shift, drive: Drive
) -> None:
    desk = drive(empty_shift)
    desk.type("Fernhollow")
    kept_aside(desk, "the shop's particulars")
    again = power_cut(desk, drive)
    welcome = again.app.welcome
    assert welcome is not None
    assert welcome.notices.text.startswith("What you typed here before is still here")
    assert welcome.form.text_of("name") == "Fernhollow"
    again.type(" Repairs")
    again.press("<Control-s>")
    assert empty_shift.shop.name == "Fernhollow Repairs"
    assert left(empty_shift) == {}
    assert again.window.unfinished.words == ""


ODD = "<b>&amp;</b> \x00 \ud800 \U0001f642 [exec x] {\\"


STRANGE: Content = {
    "gone": {"complaint": "x"},
    "owner": {"name": True, "gone": "x"},
    "visit": {"old_parts_back": "yes", "comeback": "", "complaint": True, "fuel": "Kept."},
    "pad": {"check_key": "gone", "phase": "gone", "reading": "7", "finding": ""},
    "known": {"owner": True},
}
ODD_LETTERS: Content = {
    "visit": {"complaint": ODD, "promised_on": ODD, "complaint_kind": ODD, "fuel": "Kept."},
    "machine": {"kind": "x" * 50_000},
    "pad": {"check_key": ODD, "phase": ODD, "reading": ODD, "note": ODD},
    "confirmed": {"confirmed": ODD},
}


@pytest.mark.parametrize("content", [STRANGE, ODD_LETTERS], ids=["strange", "odd letters"])
@pytest.mark.parametrize("page", ["Intake", "Diagnosis", "new ticket"])
def test_whatever_stands_in_a_draft_its_page_opens(
    shift: Shift, ticket: TicketView, drive: Drive, page: str, content: Content
) -> None:
    place = Place(page, 0 if page == "new ticket" else ticket.id)
    keep_draft(shift, place, "odd", content)
    desk = drive(shift)
    desk.press("<Control-u>")
    desk.press("<Tab>")
    desk.type("a")
    visit = {
        "Intake": lambda: intake(desk, ticket)._forms["visit"],
        "new ticket": lambda: new_ticket(desk).visit,
    }
    if page in visit:
        assert visit[page]().text_of("fuel") == "Kept."
    else:
        assert desk.window.pane.page.title == page


@pytest.mark.parametrize(
    "known",
    [{"owner": "999"}, {"owner": "9" * 400, "machine": "-1"}, {"owner": "x", "machine": "77"}],
)
def test_an_owner_or_machine_that_is_no_more_leaves_the_rest_of_the_new_ticket(
    shift: Shift, drive: Drive, known: dict[str, str]
) -> None:
    keep_draft(shift, Place("new ticket"), "new", {"known": known, "visit": {"fuel": "old"}})
    new = new_ticket(drive(shift))
    assert new.owner.known is None
    assert new.machine.known is None
    assert new.visit.text_of("fuel") == "old"


@pytest.mark.parametrize(
    ("place", "said"),
    [
        (Place("Intake", 999), "not in the records any more"),
        (Place("owner", 999), "not in the records any more"),
        (Place("Weighing", 1), "There is no page Weighing any more."),
    ],
)
def test_what_has_no_place_any_more_is_said_and_dropped(
    shift: Shift, ticket: TicketView, drive: Drive, place: Place, said: str
) -> None:
    keep_draft(shift, place, "T0999 Intake", {"visit": {"complaint": "Dies\nhot.", "x": ""}})
    desk = drive(shift)
    desk.press("<Control-u>")
    assert said in desk.notice
    assert desk.notice.endswith("Typed there was: “Dies hot.”.")
    assert desk.window.unfinished.words == ""
    desk.until(lambda: drafts_left(shift) == (), "the draft dropped")


def test_the_time_it_says_is_the_shops(shift: Shift, ticket: TicketView, drive: Drive) -> None:
    set_up_shop(shift, replace(as_entry(shift.shop), zone="America/Denver"))
    keep_draft(shift, Place("Intake", ticket.id), "T1001 Intake", {"visit": {"fuel": "old"}})
    page = intake(drive(shift), ticket)
    assert page.put_back.words == f"{HERE}Mon 15 Mar 2027, 08:30."
