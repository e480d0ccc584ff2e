"""Taken apart and put back by keyboard: the log, the way back, what is over, the bench sheet."""

import pytest
from pypdf import PdfReader

from shopdesk.desk.diagnosis_page import DiagnosisPage
from shopdesk.desk.repair_page import RepairPage
from shopdesk.desk.teardown_page import TeardownPage
from shopdesk.job.history import ticket_journal
from shopdesk.job.shift import Shift
from shopdesk.job.teardown import StepEntry, note_step, tick_step
from shopdesk.job.views import TicketView
from tests.window.conftest import Driver
from tests.window.so_far import approved, at_bench

SHROUD = StepEntry(
    "Shroud",
    fasteners="4 M5 x 20 T27 in cup 1\n1 M6 nut in cup 1",
    mark="arrow to the front",
    cautions=("sharp-edges", "hot-exhaust"),
)
PLUG = StepEntry("Spark plug", setting="plug torque", setting_limit="M14 gasket")


@pytest.fixture
def page(desk: Driver, shift: Shift, ticket: TicketView) -> TeardownPage:
    """The Teardown page of a machine in Repair, nothing off yet."""
    desk.open(approved(shift, ticket))
    return turned_to(desk)


def turned_to(desk: Driver) -> TeardownPage:
    desk.press("<Alt-Key-6>")
    found = desk.window.pane.page
    assert isinstance(found, TeardownPage)
    return found


def apart(desk: Driver, shift: Shift, ticket: TicketView, *entries: StepEntry) -> TeardownPage:
    """Note steps beforehand, and open the page on them."""
    for entry in entries:
        note_step(shift, ticket.id, entry)
    desk.open(ticket)
    return turned_to(desk)


def test_a_step_is_noted_with_all_that_goes_with_it(
    desk: Driver, page: TeardownPage, ticket: TicketView
) -> None:
    desk.fill("Muffler", "engine")
    desk.type("2 M6 x 35 hex in cup 2\n1 M6 nut in cup 2")
    desk.press("<Tab>")
    desk.fill("gasket bead outwards", "lead behind the post", "plug torque", "M14 gasket", "")
    desk.type("Blade, ch")
    desk.press("<Return>")
    (step,) = desk.kept(ticket).teardown
    assert step.caution_keys == ("sharp-edges",)
    assert (step.off, step.sub_assembly) == ("Muffler", "engine")
    assert step.fasteners == ("2 × M6 x 35 hex in cup 2", "1 × M6 nut in cup 2")
    assert (step.mark, step.routing) == ("gasket bead outwards", "lead behind the post")
    assert step.setting == "plug torque"
    assert desk.notice == "Muffler is noted."
    assert desk.focus is page.entry.form["off"].input
    assert page.entry.form.text_of("off") == ""


def test_enter_notes_a_step_that_is_only_named(
    desk: Driver, page: TeardownPage, ticket: TicketView
) -> None:
    for part in ("Starter cover", "Shroud"):
        desk.type(part)
        desk.press("<Return>")
    assert [step.off for step in desk.kept(ticket).teardown] == ["Starter cover", "Shroud"]
    assert page.log.tree.get_children()
    shown = page.back.list.tree
    assert [shown.set(row, "c1")[0] for row in shown.get_children()] == ["2", "1"]


def test_what_is_wrong_is_said_at_its_field_and_stays(
    desk: Driver, page: TeardownPage, ticket: TicketView
) -> None:
    desk.fill("Muffler", "")
    desk.type("some screws")
    desk.press("<Tab>", "<Return>")
    field = page.entry.form["fasteners"]
    assert "how many" in field.error
    assert field.get() == "some screws"
    assert desk.kept(ticket).teardown == ()


def test_nothing_is_taken_apart_at_the_counter(desk: Driver, ticket: TicketView) -> None:
    desk.open(ticket)
    turned_to(desk)
    desk.type("Muffler")
    desk.press("<Return>")
    assert "move it to Diagnosis or Repair" in desk.notice


def test_the_way_back_counts_fasteners_and_judges_the_setting_at_once(
    desk: Driver, shift: Shift, page: TeardownPage, ticket: TicketView
) -> None:
    page = apart(desk, shift, ticket, SHROUD, PLUG)
    desk.press("<Alt-g>")
    assert page.back.chosen
    assert page.back.chosen.setting == "plug torque"
    assert "18.0 to 21.6 lbf·ft" in page.back.words
    desk.press("<space>")
    assert desk.focus is page.back.form["setting"].input
    desk.type("20")
    desk.press("<Return>")
    first, second = desk.kept(ticket).reassembly
    assert (first.done, first.verdict) == (True, "pass")
    assert desk.focus is page.back.list.tree
    assert page.back.chosen.step_id == second.step_id
    desk.press("<space>")
    desk.type("4, 1")
    desk.press("<Return>")
    assert all(step.done and not step.left_over for step in desk.kept(ticket).reassembly)
    desk.shots("teardown-back")


def test_a_step_with_nothing_to_count_is_ticked_by_space_alone(
    desk: Driver, shift: Shift, page: TeardownPage, ticket: TicketView
) -> None:
    apart(desk, shift, ticket, StepEntry("Air box"))
    desk.press("<Alt-g>", "<space>")
    assert desk.kept(ticket).reassembly[0].done
    desk.press("<space>")
    assert not desk.kept(ticket).reassembly[0].done
    assert desk.notice == "Step 1 is not back: its tick is off."


def test_a_count_that_is_none_is_said_at_its_field(
    desk: Driver, shift: Shift, page: TeardownPage, ticket: TicketView
) -> None:
    page = apart(desk, shift, ticket, SHROUD)
    desk.press("<Alt-g>", "<space>", "<Return>")
    assert "5 came off" in page.back.form["fasteners_back"].error
    assert not desk.kept(ticket).reassembly[0].done


def test_what_is_left_over_is_said_and_explained(
    desk: Driver, shift: Shift, page: TeardownPage, ticket: TicketView
) -> None:
    page = apart(desk, shift, ticket, SHROUD)
    desk.press("<Alt-g>", "<space>")
    desk.type("3, 1")
    desk.press("<Return>")
    step = desk.kept(ticket).reassembly[0]
    assert "1 of 4 M5 x 20 T27" in step.left_over
    row = page.back.list.tree.item(str(step.step_id), "values")
    assert row[0] == "look again"
    assert "Left over:" in page.back.words
    desk.press("<Alt-Key-4>")
    repair = desk.window.pane.page
    assert isinstance(repair, RepairPage)
    assert "Not right yet: step 1, Shroud: 1 of 4" in repair.teardown.words
    desk.press("<Alt-Key-6>")
    desk.dialogs.answers.append("thread stripped, owner knows")
    desk.press("<Alt-g>", "<Alt-e>")
    assert desk.kept(ticket).reassembly[0].explained == "thread stripped, owner knows"
    assert "Explained: thread stripped" in page.back.words


def test_too_few_put_back_are_counted_again_at_once(
    desk: Driver, shift: Shift, page: TeardownPage, ticket: TicketView
) -> None:
    page = apart(desk, shift, ticket, StepEntry("Air box"), SHROUD)
    desk.press("<Alt-g>", "<Return>")
    desk.type("3, 1")
    desk.press("<Return>")
    assert desk.notice.startswith("Left over at step 2, Shroud: 1 of 4 M5 x 20 T27")
    assert desk.focus is page.back.form["fasteners_back"].input
    assert page.back.form.text_of("fasteners_back") == "3, 1"
    desk.type("4, 1")
    desk.press("<Return>")
    first = desk.kept(ticket).reassembly[0]
    assert (first.done, first.left_over, first.back) == (True, "", (4, 1))
    assert page.back.chosen
    assert page.back.chosen.number == 1, "the next step is marked"


def test_enter_on_a_step_that_is_back_takes_nothing_off(
    desk: Driver, shift: Shift, page: TeardownPage, ticket: TicketView
) -> None:
    page = apart(desk, shift, ticket, SHROUD)
    desk.press("<Alt-g>", "<Return>")
    desk.type("4, 1")
    desk.press("<Return>", "<Return>")
    assert desk.focus is page.back.form["fasteners_back"].input
    assert desk.kept(ticket).reassembly[0].done
    desk.dialogs.answers += [False, True]
    desk.press("<Alt-g>", "<space>")
    assert "What was counted and set at it goes with the tick." in desk.dialogs.asked[0]
    assert desk.kept(ticket).reassembly[0].done
    desk.press("<space>")
    assert not desk.kept(ticket).reassembly[0].done


def test_a_count_put_right_keeps_what_was_set(
    desk: Driver, shift: Shift, page: TeardownPage, ticket: TicketView
) -> None:
    plug = StepEntry(PLUG.off, fasteners="2 M5", setting="plug torque", setting_limit="M14 gasket")
    apart(desk, shift, ticket, plug)
    desk.press("<Alt-g>", "<Return>")
    desk.type("1")
    desk.press("<Return>")
    desk.type("20")
    desk.press("<Return>")
    assert desk.notice.startswith("Left over at step 1")
    desk.type("2")
    desk.press("<Return>")
    (step,) = desk.kept(ticket).reassembly
    assert (step.back, step.left_over, step.verdict) == ((2,), "", "pass")


def test_what_to_beware_of_is_said_while_it_is_typed(
    desk: Driver, page: TeardownPage, ticket: TicketView
) -> None:
    desk.type("Carb")
    assert " ".join(page.entry.cautions.words) == ""
    desk.type("urettor")
    assert "Petrol vapour" in " ".join(page.entry.cautions.words)
    desk.shots("teardown-caution")
    desk.press("<Return>")
    assert page.entry.cautions.words == ()


def test_a_failed_setting_stands_out_in_words(
    desk: Driver, shift: Shift, page: TeardownPage, ticket: TicketView
) -> None:
    page = apart(desk, shift, ticket, PLUG)
    desk.press("<Alt-g>", "<space>")
    desk.type("35 lbf.ft")
    desk.press("<Return>")
    row = page.back.list.tree.item(page.back.list.tree.get_children()[0], "values")
    assert row[0] == "look again"
    assert row[2].endswith("fail")


def test_cautions_and_care_stand_at_the_step(
    desk: Driver, shift: Shift, page: TeardownPage, ticket: TicketView
) -> None:
    page = apart(desk, shift, ticket, StepEntry("Carburettor"), StepEntry("Muffler"))
    desk.press("<Alt-l>")
    assert page.cautions.words
    desk.press("<Alt-g>", "<Down>")
    assert "Try the throttle linkage" in page.back.words
    assert "Before it: step 2, Muffler." in page.back.words


def test_a_step_is_put_right_with_all_its_cautions(
    desk: Driver, shift: Shift, page: TeardownPage, ticket: TicketView
) -> None:
    before = apart(desk, shift, ticket, SHROUD).ticket.teardown[0]
    desk.press("<Alt-l>", "<F2>", "<Control-a>")
    desk.type("Starter shroud")
    desk.press("<Return>")
    (step,) = desk.kept(ticket).teardown
    assert step.off == "Starter shroud"
    assert (step.fasteners, step.mark) == (before.fasteners, before.mark)
    assert step.caution_keys == before.caution_keys == ("sharp-edges", "hot-exhaust")


def test_escape_leaves_a_step_as_it_was(
    desk: Driver, shift: Shift, page: TeardownPage, ticket: TicketView
) -> None:
    page = apart(desk, shift, ticket, SHROUD)
    desk.press("<Alt-l>", "<Return>")
    desk.type("x")
    desk.press("<Escape>")
    assert not page.changed
    assert desk.kept(ticket).teardown[0].off == "Shroud"


def test_a_step_is_dropped_with_a_reason(
    desk: Driver, shift: Shift, page: TeardownPage, ticket: TicketView
) -> None:
    apart(desk, shift, ticket, SHROUD)
    desk.dialogs.answers += [None, "never came off"]
    desk.press("<Alt-l>", "<Delete>")
    assert len(desk.kept(ticket).teardown) == 1
    desk.press("<Alt-d>")
    assert desk.kept(ticket).teardown == ()
    assert any("never came off" in line.why for line in ticket_journal(shift, ticket.id))


def test_keys_without_a_chosen_step_say_what_to_do(desk: Driver, page: TeardownPage) -> None:
    desk.press("<F2>")
    assert desk.notice == "Choose a step of the log first."
    desk.press("<Alt-e>")
    assert desk.notice == "Choose a step of the way back first."


def test_a_count_half_typed_waits_while_another_page_is_open(
    desk: Driver, shift: Shift, page: TeardownPage, ticket: TicketView
) -> None:
    page = apart(desk, shift, ticket, SHROUD, StepEntry("Fan", fasteners="1 M8 nut"))
    desk.press("<Alt-g>", "<Down>", "<space>")
    desk.type("4, 1")
    desk.press("<Alt-Key-4>", "<Alt-Key-6>")
    assert page.back.chosen
    assert page.back.chosen.number == 1
    desk.press("<Control-s>")
    assert [step.number for step in desk.kept(ticket).reassembly if step.done] == [1]


def test_it_may_begin_at_the_diagnosis_which_says_where_it_stands(
    desk: Driver, shift: Shift, ticket: TicketView
) -> None:
    desk.open(at_bench(shift, ticket))
    page = desk.window.pane.page
    assert isinstance(page, DiagnosisPage)
    assert page.teardown.words.startswith("Taken apart: nothing yet")
    step = note_step(shift, ticket.id, StepEntry("Air box")).teardown[0]
    note_step(shift, ticket.id, StepEntry("Carburettor"))
    tick_step(shift, step.id)
    desk.open(ticket)
    assert page.teardown.words.startswith("Taken apart: 2 steps, 1 back.")


def test_the_bench_sheet_is_printed(
    desk: Driver, shift: Shift, page: TeardownPage, ticket: TicketView
) -> None:
    apart(desk, shift, ticket, SHROUD)
    desk.press("<Control-p>")
    assert desk.notice.startswith("The bench sheet is in ")
    text = " ".join(sheet.extract_text() for sheet in PdfReader(desk.opened[-1]).pages)
    assert "Shroud" in text


def test_once_something_is_back_the_page_opens_on_the_way_back(
    desk: Driver, shift: Shift, page: TeardownPage, ticket: TicketView
) -> None:
    apart(desk, shift, ticket, StepEntry("Air box"), StepEntry("Carburettor"))
    tick_step(shift, desk.kept(ticket).teardown[1].id)
    desk.open(ticket)
    page = turned_to(desk)
    assert desk.focus is page.back.list.tree
    assert page.back.chosen
    assert page.back.chosen.number == 1
