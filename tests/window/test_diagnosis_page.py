"""At the bench by keyboard: a check in a few keystrokes, its verdict, and findings put right."""

import pytest

from shopdesk.desk.diagnosis_card import asked
from shopdesk.desk.diagnosis_choosing import matching
from shopdesk.desk.diagnosis_page import DiagnosisPage
from shopdesk.job.customers import CustomerEntry
from shopdesk.job.diagnosis import record_finding, record_observation
from shopdesk.job.history import ticket_journal
from shopdesk.job.intake import TicketEntry, change_intake, take_in
from shopdesk.job.reference import catalogue
from shopdesk.job.shift import Shift
from shopdesk.job.units import UnitEntry, change_unit
from shopdesk.job.views import TicketView
from tests.window.conftest import Driver
from tests.window.so_far import at_bench


@pytest.fixture
def page(desk: Driver, shift: Shift, ticket: TicketView) -> DiagnosisPage:
    """The Diagnosis page of a ticket with nothing found yet."""
    desk.open(at_bench(shift, ticket))
    return page_of(desk)


def page_of(desk: Driver) -> DiagnosisPage:
    found = desk.window.pane.page
    assert isinstance(found, DiagnosisPage)
    return found


def test_a_check_is_recorded_in_a_few_keystrokes(
    desk: Driver, page: DiagnosisPage, ticket: TicketView
) -> None:
    desk.type("comp")
    desk.press("<Return>")
    desk.type("142")
    desk.press("<Return>")
    (finding,) = desk.kept(ticket).findings
    assert (finding.check_key, finding.shown, finding.verdict) == ("compression", "142 psi", "pass")
    assert desk.notice == "Compression 142 psi: pass, at least 107 psi. It is recorded."
    assert page.so_far == "Found so far: Compression: 142 psi, pass"
    assert desk.focus is page.pad.chooser.box
    assert page.pad.chooser.typed == ""
    assert page.findings.list.tree.set(str(finding.id), "c2") == "142 psi"


def test_cautions_and_how_to_stand_there_before_the_hands_move(
    desk: Driver, page: DiagnosisPage
) -> None:
    desk.type("compression")
    assert page.pad.card.cautions.words[0].startswith("The plug lead carries many thousand volts")
    assert "8 full pulls" in page.pad.card.text
    assert "compression gauge" in page.pad.card.text
    assert "4 min" in page.pad.card.text


def test_the_verdict_is_shown_before_enter_with_limit_correction_and_source(
    desk: Driver, page: DiagnosisPage, ticket: TicketView
) -> None:
    desk.type("comp")
    desk.press("<Return>")
    desk.type("60")
    words = page.pad.verdict.text
    assert words.startswith("Fail 60 psi;  limit: at least 107 psi")
    assert "130 psi at sea level, lowered to 107 psi for 1,609 m" in words
    assert "Source: common practice, no published source." in words
    assert "Points to: the cylinder leaks" in words
    assert desk.kept(ticket).findings == ()
    desk.shots("diagnosis-verdict")


def test_a_look_see_takes_the_letter_of_what_is_seen(
    desk: Driver, page: DiagnosisPage, ticket: TicketView
) -> None:
    desk.type("firing end")
    assert "w  wet with fuel" in [str(one.cget("text")) for one in page.pad.card.choices]
    desk.press("<Return>")
    desk.type("w")
    assert page.pad.verdict.text.startswith(
        "Fail wet with fuel;  should be: tan or light grey, dry"
    )
    desk.press("<Return>")
    assert desk.kept(ticket).findings[0].shown == "wet with fuel"


def test_a_click_on_what_is_seen_types_its_letter(desk: Driver, page: DiagnosisPage) -> None:
    desk.type("firing end")
    page.pad.card.choices[0].event_generate("<Button-1>")
    desk.settle()
    assert page.pad.form.text_of("reading") == "t"
    assert page.pad.verdict.text.startswith("Pass")


def test_arrows_in_the_box_go_through_the_list(desk: Driver, page: DiagnosisPage) -> None:
    first = page.pad.chooser.chosen
    desk.press("<Down>", "<Down>")
    third = page.pad.chooser.chosen
    desk.press("<Up>", "<Up>", "<Up>")
    assert first
    assert first.key == "spark"
    assert third
    assert third.title == "Firing end of the plug"
    assert page.pad.chooser.chosen == first


def test_what_is_no_reading_is_said_at_the_field_and_stays(
    desk: Driver, page: DiagnosisPage, ticket: TicketView
) -> None:
    desk.type("comp")
    desk.press("<Return>")
    desk.type("plenty")
    desk.press("<Return>")
    field = page.pad.form["reading"]
    assert "does not begin with a number" in field.error
    assert field.get() == "plenty"
    assert desk.focus is field.input
    assert desk.kept(ticket).findings == ()


def test_no_check_by_that_name_says_so(desk: Driver, page: DiagnosisPage) -> None:
    desk.type("zzz")
    assert page.pad.chooser.chosen is None
    desk.press("<Alt-r>")
    assert desk.notice.startswith("No check is chosen")


def test_a_finding_is_put_right_and_judged_anew(
    desk: Driver, shift: Shift, page: DiagnosisPage, ticket: TicketView
) -> None:
    finding = record_finding(shift, ticket.id, "compression", "14").findings[0]
    desk.open(ticket)
    desk.press("<Alt-l>", "<F2>")
    assert page.pad.form.text_of("reading") == "14"
    desk.type("142")
    desk.press("<Return>")
    (kept,) = desk.kept(ticket).findings
    assert (kept.id, kept.shown, kept.verdict) == (finding.id, "142 psi", "pass")


def test_escape_leaves_a_correction_as_it_was(
    desk: Driver, shift: Shift, page: DiagnosisPage, ticket: TicketView
) -> None:
    record_finding(shift, ticket.id, "compression", "142")
    desk.open(ticket)
    desk.press("<Alt-l>", "<Return>")
    desk.type("90")
    desk.press("<Escape>")
    assert page.pad.form.values()["reading"] == ""
    assert not page.changed
    assert desk.kept(ticket).findings[0].shown == "142 psi"


def test_a_finding_is_dropped_with_a_reason(
    desk: Driver, shift: Shift, page: DiagnosisPage, ticket: TicketView
) -> None:
    record_finding(shift, ticket.id, "compression", "142")
    desk.open(ticket)
    desk.dialogs.answers += [None, "gauge was leaking"]
    desk.press("<Alt-l>", "<Delete>")
    assert len(desk.kept(ticket).findings) == 1
    desk.press("<Delete>")
    assert desk.kept(ticket).findings == ()
    assert desk.dialogs.asked[0] == "Why is “Compression: 142 psi” taken back?"
    assert any("gauge was leaking" in line.why for line in ticket_journal(shift, ticket.id))


def test_keys_without_a_chosen_finding_say_what_to_do(desk: Driver, page: DiagnosisPage) -> None:
    desk.press("<F2>")
    assert desk.notice == "Choose a finding in the list first."


def test_something_else_seen_gets_the_mechanics_own_verdict(
    desk: Driver, page: DiagnosisPage, ticket: TicketView
) -> None:
    desk.press("<Alt-e>")
    desk.fill("Harness clip", "cracked through")
    desk.type("fail")
    desk.press("<Return>")
    (finding,) = desk.kept(ticket).findings
    assert (finding.title, finding.shown, finding.verdict) == (
        "Harness clip",
        "cracked through",
        "fail",
    )
    assert "own judgement" in finding.source


def test_something_else_without_words_is_asked_for_at_its_field(
    desk: Driver, page: DiagnosisPage, ticket: TicketView
) -> None:
    desk.press("<Alt-e>")
    desk.type("Harness clip")
    desk.press("<Return>")
    assert page.observation["reading"].error == "What was found is empty: type it."
    assert desk.focus is page.observation["reading"].input
    assert page.observation.text_of("title") == "Harness clip"


def test_an_observation_is_put_right_in_its_own_row(
    desk: Driver, shift: Shift, page: DiagnosisPage, ticket: TicketView
) -> None:
    record_observation(shift, ticket.id, "Harness clip", "cracked", "fail")
    desk.open(ticket)
    desk.press("<Alt-l>", "<F2>", "<Tab>")
    desk.press("<Control-a>")
    desk.type("worn")
    desk.press("<Return>")
    assert [one.shown for one in desk.kept(ticket).findings] == ["worn"]


def test_whether_the_complaint_was_seen_is_noted(
    desk: Driver, page: DiagnosisPage, ticket: TicketView
) -> None:
    desk.press("<Alt-w>")
    desk.type("not se")
    desk.press("<Tab>")
    desk.type("ran ten minutes")
    desk.press("<Return>")
    kept = desk.kept(ticket)
    assert (kept.confirmed, kept.confirmed_note) == ("not seen", "ran ten minutes")


def test_what_can_be_no_answer_is_said_at_its_field(desk: Driver, page: DiagnosisPage) -> None:
    desk.press("<Alt-w>")
    desk.type("perhaps")
    desk.press("<Alt-n>")
    assert "choose one of seen, not seen, not safe to try" in page.confirmed["confirmed"].error
    assert page.confirmed.text_of("confirmed") == "perhaps"


def test_what_is_typed_waits_while_another_ticket_is_open(
    desk: Driver, shift: Shift, page: DiagnosisPage, ticket: TicketView
) -> None:
    other = at_bench(
        shift,
        take_in(
            shift,
            CustomerEntry(name="Oona Verhaal"),
            UnitEntry(kind="chain saw", engine="two-stroke"),
            TicketEntry(complaint="no power"),
        ),
    )
    desk.type("comp")
    desk.press("<Return>")
    desk.type("14")
    desk.open(other)
    assert page.pad.form.text_of("reading") == ""
    desk.open(ticket)
    assert page.pad.form.text_of("reading") == "14"
    chosen = page.pad.chooser.chosen
    assert chosen
    assert chosen.key == "compression"
    desk.press("<Alt-r>")
    assert desk.kept(ticket).findings[0].check_key == "compression"
    assert desk.kept(other).findings == ()


def test_ctrl_s_keeps_what_is_typed(desk: Driver, page: DiagnosisPage, ticket: TicketView) -> None:
    desk.type("comp")
    desk.press("<Return>")
    desk.type("142")
    assert page.changed
    desk.press("<Control-s>")
    assert desk.kept(ticket).findings[0].shown == "142 psi"
    assert not page.changed


def test_the_standing_line_is_in_sight(desk: Driver, page: DiagnosisPage) -> None:
    assert page.standing.words[0].startswith("The maker's manual, local codes")
    assert page.standing.winfo_viewable()


def test_findings_stand_by_system_and_the_chosen_one_is_told_whole(
    desk: Driver, shift: Shift, page: DiagnosisPage, ticket: TicketView
) -> None:
    record_finding(shift, ticket.id, "good-fuel", "n")
    record_finding(shift, ticket.id, "compression", "142", note="warm engine")
    record_finding(shift, ticket.id, "spark", "s")
    desk.open(ticket)
    tree = page.findings.list.tree
    systems = [tree.set(row, "c0") for row in tree.get_children()]
    assert systems == ["spark", "compression", "fuel"]
    desk.press("<Alt-l>", "<Down>")
    assert "Rules out: Piston, rings and cylinder hold" in page.findings.told
    assert "Note: warm engine" in page.findings.told
    assert "Mira, Mon 15 Mar 2027" in page.findings.told
    desk.shots("diagnosis-findings")


def test_letters_find_checks_that_begin_so_first() -> None:
    checks = tuple(catalogue().by_key.values())

    def titles(typed: str) -> list[str]:
        return [checks[place].title for place in matching(checks, typed)]

    assert len(titles("")) == len(checks)
    assert titles("idle")[0].startswith("Idle speed")
    assert titles("gap plug") == ["Plug gap"]
    assert titles("no such thing") == []


def test_a_finding_of_a_check_that_no_longer_fits_says_what_to_do(
    desk: Driver, shift: Shift, page: DiagnosisPage, ticket: TicketView
) -> None:
    record_finding(shift, ticket.id, "compression", "142")
    change_unit(shift, ticket.unit.id, UnitEntry(kind="string trimmer", engine="cordless"))
    desk.open(ticket)
    desk.press("<Alt-l>", "<F2>")
    assert desk.notice.startswith("Compression is no check for this machine any more")


def test_a_very_long_complaint_is_cut_and_leaves_room_for_the_work(
    desk: Driver, shift: Shift, page: DiagnosisPage, ticket: TicketView
) -> None:
    change_intake(shift, ticket.id, TicketEntry(complaint="It <b>rattles</b> & stops. " * 350))
    desk.open(ticket)
    assert "It <b>rattles</b> & stops." in page.complaint
    assert page.complaint.endswith("… (the whole of it is on Intake)”")
    assert page.pad.chooser.box.winfo_viewable()


def test_a_note_keeps_markup_and_drops_control_characters(
    desk: Driver, page: DiagnosisPage, ticket: TicketView
) -> None:
    desk.type("comp")
    desk.press("<Return>")
    desk.type("142")
    page.pad.form["note"].set("<b>warm</b> & \x07 Ωmega łąka")
    page.pad.form["note"].focus_input()
    desk.press("<Return>")
    assert desk.kept(ticket).findings[0].note == "<b>warm</b> & Ωmega łąka"


def test_a_unit_of_another_kind_is_refused_with_those_that_fit(
    desk: Driver, page: DiagnosisPage
) -> None:
    desk.type("comp")
    desk.press("<Return>")
    desk.type("12 volt")
    assert "bar" in page.pad.verdict.text
    desk.press("<Return>")
    assert "psi" in page.pad.form["reading"].error


@pytest.mark.parametrize(
    ("key", "asks"),
    [
        ("compression", "Type the reading; a bare number means psi. Or a letter:"),
        ("plug-gap", "Type the reading; a bare number means inches."),
        ("spark", "Type the letter of what you see:"),
    ],
)
def test_a_check_says_what_to_type(key: str, asks: str) -> None:
    assert asked(catalogue().check(key)) == asks
