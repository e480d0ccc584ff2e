"""What the shop knows of a model, shown when it comes in and kept by one key."""

import pytest

from shopdesk.desk.diagnosis_page import DiagnosisPage
from shopdesk.desk.model_page import ModelPage
from shopdesk.job.customers import CustomerEntry
from shopdesk.job.diagnosis import record_finding
from shopdesk.job.intake import TicketEntry, take_in
from shopdesk.job.limits import LimitEntry, limits_of_unit, set_model_limit
from shopdesk.job.model_notes import (
    NOTE,
    PART,
    SETTING,
    TRAP,
    ModelCardView,
    NoteEntry,
    add_note,
    model_card,
)
from shopdesk.job.shift import Shift
from shopdesk.job.units import UnitEntry
from shopdesk.job.views import TicketView
from tests.window.conftest import Driver
from tests.window.so_far import approved, at_bench, diagnosed


@pytest.fixture
def page(desk: Driver, shift: Shift, ticket: TicketView) -> ModelPage:
    """The Model card page of a trimmer whose model came in the first time."""
    desk.open(at_bench(shift, ticket))
    return turned_to(desk)


def turned_to(desk: Driver) -> ModelPage:
    desk.press("<Alt-Key-7>")
    found = desk.window.pane.page
    assert isinstance(found, ModelPage)
    return found


def card(shift: Shift) -> ModelCardView:
    found = model_card(shift, "Tarnbeck", "TB-26")
    assert found is not None
    return found


def test_a_card_that_says_something_stands_on_the_diagnosis(
    desk: Driver, shift: Shift, ticket: TicketView
) -> None:
    desk.open(at_bench(shift, ticket))
    page = desk.window.pane.page
    assert isinstance(page, DiagnosisPage)
    assert page.model.words == ""
    add_note(shift, "tarnbeck", "TB 26", NoteEntry(TRAP, "hidden screw\nunder the badge"))
    add_note(shift, "Tarnbeck", "TB-26", NoteEntry(SETTING, "0.025 in", "Plug gap"))
    add_note(shift, "Tarnbeck", "TB-26", NoteEntry(PART, "Line kit", part_number="FL-2"))
    set_model_limit(
        shift, "Tarnbeck", "TB-26", LimitEntry("compression", "at least 115 psi", "the manual")
    )
    desk.open(ticket)
    assert page.model.words.startswith("This model (Alt+7):  1 ticket of ours, 0 mended.")
    for words in (
        "Trap:  hidden screw under the badge.",
        "Limit:  Compression: at least 115 psi.",
        "Setting:  Plug gap: 0.025 in.",
        "Usual part:  Line kit (FL-2).",
    ):
        assert words in page.model.words
    desk.shots("diagnosis-model")


def test_one_key_keeps_a_finding_on_the_card(
    desk: Driver, shift: Shift, ticket: TicketView
) -> None:
    at_bench(shift, ticket)
    record_finding(shift, ticket.id, "plug-gap", ".025")
    desk.open(ticket)
    desk.press("<Alt-l>", "<Control-k>")
    (note,) = card(shift).notes
    assert (note.kind, note.title, note.words) == (SETTING, "Plug gap", "0.025 in")
    assert desk.notice == "Plug gap: 0.025 in stands on the model's card (Alt+7)."


def test_a_reading_out_of_limits_is_no_setting_to_keep(
    desk: Driver, shift: Shift, ticket: TicketView
) -> None:
    at_bench(shift, ticket)
    record_finding(shift, ticket.id, "plug-gap", ".050")
    desk.open(ticket)
    desk.press("<Alt-l>", "<Control-k>")
    assert "was out of limits at 0.050 in" in desk.notice
    assert card(shift).notes == ()


def test_one_key_keeps_a_setting_left_at_the_repair(
    desk: Driver, shift: Shift, ticket: TicketView
) -> None:
    approved(shift, ticket)
    record_finding(shift, ticket.id, "plug-gap", ".026", phase="setting")
    desk.open(ticket)
    desk.press("<Alt-l>", "<Control-k>")
    assert [note.words for note in card(shift).notes] == ["0.026 in"]


def test_one_key_keeps_a_part_on_the_card(desk: Driver, shift: Shift, ticket: TicketView) -> None:
    desk.open(diagnosed(shift, ticket))
    desk.press("<Control-k>")
    (note,) = card(shift).notes
    assert (note.kind, note.words, note.part_number) == (PART, "Spark plug", "SP-7")
    desk.press("<Down>", "<Down>", "<Control-k>")
    assert desk.notice == "“Fit plug and filter” is labour, no part: keep a part."


def test_a_note_is_written_with_the_ticket_that_it_comes_from(
    desk: Driver, shift: Shift, page: ModelPage, ticket: TicketView
) -> None:
    desk.type("trap")
    desk.press("<Tab>", "<Tab>")
    desk.type("left-hand thread on the clutch")
    desk.press("<Return>")
    (note,) = card(shift).notes
    assert (note.kind, note.words, note.tag) == (TRAP, "left-hand thread on the clutch", "T1001")
    row = page.notes.list.tree.item(str(note.id), "values")
    assert row[:3] == ("trap", "left-hand thread on the clutch", "T1001")
    desk.shots("model-card")


def test_a_setting_with_its_name_and_a_part_with_its_number(
    desk: Driver, shift: Shift, page: ModelPage
) -> None:
    desk.type("setting")
    desk.press("<Tab>")
    desk.fill("Air gap", "0.012 in")
    desk.press("<Return>")
    desk.type("usual part")
    desk.press("<Tab>", "<Tab>")
    desk.fill("Diaphragm kit", "CK-118")
    desk.press("<Shift-Tab>", "<Return>")
    assert {(one.kind, one.title, one.words, one.part_number) for one in card(shift).notes} == {
        (SETTING, "Air gap", "0.012 in", ""),
        (PART, "", "Diaphragm kit", "CK-118"),
    }


def test_an_entry_without_words_is_said_at_its_field(desk: Driver, page: ModelPage) -> None:
    desk.press("<Return>")
    assert page.notes.form["words"].error == "The entry is empty: type it."


def test_an_entry_is_changed_and_dropped(
    desk: Driver, shift: Shift, page: ModelPage, ticket: TicketView
) -> None:
    add_note(shift, "Tarnbeck", "TB-26", NoteEntry(NOTE, "hard to start"))
    desk.open(ticket)
    turned_to(desk)
    desk.press("<Alt-l>", "<F2>", "<Control-a>")
    desk.type("hard to start cold")
    desk.press("<Return>")
    assert [note.words for note in card(shift).notes] == ["hard to start cold"]
    desk.press("<Alt-l>", "<Return>", "<Escape>")
    assert not page.changed
    desk.dialogs.answers += [None, "all of them are"]
    desk.press("<Alt-l>", "<Delete>")
    assert len(card(shift).notes) == 1
    desk.press("<Alt-d>")
    assert card(shift).notes == ()
    desk.press("<F2>")
    assert desk.notice == "Choose an entry of the card first."


def test_a_limit_of_the_model_judges_the_next_reading(
    desk: Driver, shift: Shift, page: ModelPage, ticket: TicketView
) -> None:
    desk.press("<Alt-i>")
    desk.type("compression")
    desk.press("<Tab>")
    desk.type("at least 150 psi")
    desk.press("<Return>")
    (limit,) = limits_of_unit(shift, ticket.unit.id)
    assert (limit.check_key, limit.of_unit) == ("compression", False)
    finding = record_finding(shift, ticket.id, "compression", "115").findings[-1]
    assert finding.source == "shop's own card for this model"
    assert finding.verdict != "pass"


def test_a_limit_of_this_machine_goes_first_and_is_dropped(
    desk: Driver, shift: Shift, page: ModelPage, ticket: TicketView
) -> None:
    set_model_limit(shift, "Tarnbeck", "TB-26", LimitEntry("compression", "at least 150 psi"))
    desk.press("<Alt-i>")
    desk.type("compression")
    desk.press("<Tab>")
    desk.fill("at least 100 psi", "this machine", "measured when new")
    desk.press("<space>", "<Return>")
    (limit,) = limits_of_unit(shift, ticket.unit.id)
    assert (limit.of_unit, limit.measured_here) == (True, True)
    assert limit.named_by == "measured when new"
    row = page.limits.list.tree.item(str(limit.id), "values")
    assert row[2] == "this machine"
    desk.dialogs.answers.append("new rings")
    page.limits.list.focus_list()
    desk.press("<Delete>")
    assert [one.of_unit for one in limits_of_unit(shift, ticket.unit.id)] == [False]


def test_a_limit_that_is_none_is_said_at_its_field(desk: Driver, page: ModelPage) -> None:
    desk.press("<Alt-i>")
    desk.type("compression")
    desk.press("<Tab>")
    desk.type("plenty")
    desk.press("<Return>")
    assert page.limits.form["limit"].error
    assert page.limits.form.text_of("limit") == "plenty"
    desk.press("<Alt-x>")
    assert desk.notice == "Choose a limit in the list first."


def test_a_machine_of_no_model_says_what_to_do(desk: Driver, shift: Shift, page: ModelPage) -> None:
    other = at_bench(
        shift,
        take_in(
            shift,
            CustomerEntry(name="Oona Verhaal"),
            UnitEntry(kind="chain saw", engine="two-stroke"),
            TicketEntry(complaint="no power"),
        ),
    )
    desk.open(other)
    page = turned_to(desk)
    assert page.record.startswith("No make and model are known")
    desk.press("<Tab>", "<Tab>")
    desk.type("something")
    desk.press("<Return>")
    assert "model" in desk.notice
    assert page.notes.form.text_of("words") == "something"
