"""Taken apart and put back: the log, the way back, and what is left over."""

from dataclasses import replace
from functools import partial
from pathlib import Path

import pytest
from PIL import Image

from shopdesk.errors import JobError
from shopdesk.job.bench_sheet import bench_sheet_content
from shopdesk.job.diagnosis import correct_finding, drop_finding, record_observation
from shopdesk.job.limits import LimitEntry, set_model_limit, set_unit_limit
from shopdesk.job.moving import go_on, send_back
from shopdesk.job.opened import open_ticket
from shopdesk.job.photos import add_photo, drop_photo
from shopdesk.job.reference import cautions
from shopdesk.job.repair import do_line
from shopdesk.job.shift import Shift
from shopdesk.job.stages import Stage
from shopdesk.job.summary import summary_content
from shopdesk.job.teardown import (
    StepEntry,
    as_entry,
    cautions_for,
    change_step,
    drop_step,
    explain_left_over,
    note_step,
    tick_step,
    untick_step,
)
from shopdesk.job.views import ReassemblyStepView, TicketView
from shopdesk.records.tables import JournalEntry
from tests.job.workshop import at_stage, declined, kept, refused

MUFFLER = StepEntry(
    "Muffler",
    fasteners="2 M5 x 20 T27 in cup 3\n1 M6 nut in cup 3",
    mark="arrow towards the exhaust",
    routing="plug lead behind the post",
)
PLUG = StepEntry("Spark plug", setting="plug torque", setting_limit="M14 gasket")


@pytest.fixture
def ticket(shift: Shift) -> TicketView:
    return at_stage(shift, Stage.REPAIR)


def noted(shift: Shift, ticket: TicketView, *entries: StepEntry) -> TicketView:
    for entry in entries:
        ticket = note_step(shift, ticket.id, entry)
    return ticket


def back(shift: Shift, ticket: TicketView, number: int) -> ReassemblyStepView:
    return next(step for step in open_ticket(shift, ticket.id).reassembly if step.number == number)


def missing_before_pickup(ticket: TicketView) -> str:
    return " | ".join(ticket.missing_before(Stage.PICKUP))


def test_a_step_is_kept_with_all_that_was_said(shift: Shift, ticket: TicketView) -> None:
    entry = replace(MUFFLER, sub_assembly="engine", cautions=("sharp-edges",))
    (step,) = kept(shift, note_step(shift, ticket.id, entry)).teardown
    assert (step.number, step.off, step.sub_assembly) == (1, "Muffler", "engine")
    assert step.fasteners == ("2 × M5 x 20 T27 in cup 3", "1 × M6 nut in cup 3")
    assert (step.mark, step.routing) == (MUFFLER.mark, MUFFLER.routing)
    assert step.noted_by == "Sam"
    assert step.caution_keys == ("sharp-edges",)
    assert any("gloves on" in words for words in step.cautions)
    assert any("burn skin" in words for words in step.cautions)


def test_what_is_shown_can_be_typed_again(shift: Shift, ticket: TicketView) -> None:
    first, second = noted(shift, ticket, MUFFLER, replace(PLUG, after="none")).teardown
    change_step(shift, first.id, as_entry(first))
    again = change_step(shift, second.id, as_entry(second))
    assert again.teardown == (first, second)


@pytest.mark.parametrize(
    ("entry", "field", "words"),
    [
        (replace(MUFFLER, off=" "), "off", "What came off is empty"),
        (replace(MUFFLER, off="x" * 201), "off", "201 characters"),
        (replace(MUFFLER, fasteners="some screws"), "fasteners", "how many"),
        (replace(MUFFLER, fasteners="2 M5\n0 M6"), "fasteners", "0 fasteners"),
        (replace(MUFFLER, after="2"), "after", "“2” is no step"),
        (replace(MUFFLER, after="first"), "after", "“first” is no step"),
        (replace(MUFFLER, cautions=("mind it",)), "cautions", "choose one of"),
        (replace(PLUG, setting=""), "setting", "Say what is set"),
        (replace(PLUG, setting_limit=""), "setting_limit", "Type the limit of plug torque"),
        (replace(PLUG, setting_limit="tight"), "setting_limit", "is no limit"),
        (replace(PLUG, setting="Plug gap", setting_limit="9 to 11 N·m"), "setting_limit", "N·m"),
        (replace(PLUG, setting="idle-speed", setting_limit="at most 5 m"), "setting_limit", "in m"),
    ],
)
def test_what_can_not_be_noted_is_refused_at_its_field(
    shift: Shift, ticket: TicketView, entry: StepEntry, field: str, words: str
) -> None:
    with refused(shift, field, words):
        note_step(shift, ticket.id, entry)


@pytest.mark.parametrize("stage", [Stage.INTAKE, Stage.PICKUP, Stage.CLOSED])
def test_nothing_is_taken_apart_off_the_bench(shift: Shift, stage: Stage) -> None:
    ticket = at_stage(shift, stage)
    with refused(shift, "stage", stage, "move it to Diagnosis or Repair"):
        note_step(shift, ticket.id, MUFFLER)


def test_odd_text_is_kept_as_typed(shift: Shift, ticket: TicketView) -> None:
    entry = StepEntry("<b>Shroud</b> & \ud800guard 🙂\x07", mark="'; DROP TABLE teardown_step;--")
    (step,) = note_step(shift, ticket.id, entry).teardown
    assert step.off == "<b>Shroud</b> & guard 🙂"
    assert step.mark == "'; DROP TABLE teardown_step;--"


def test_the_way_back_is_turned_round_by_sub_assembly(shift: Shift, ticket: TicketView) -> None:
    ticket = noted(
        shift,
        ticket,
        StepEntry("Cover"),
        StepEntry("Carburettor"),
        StepEntry("Diaphragm cover", "carburettor"),
        StepEntry("Starter rope", "starter"),
        StepEntry("Diaphragm", "carburettor"),
    )
    assert [step.number for step in ticket.reassembly] == [4, 5, 3, 2, 1]
    assert back(shift, ticket, 2).waits_for == ("step 3, Diaphragm cover", "step 4, Starter rope")
    tick_step(shift, ticket.teardown[3].id)
    assert back(shift, ticket, 2).waits_for == ("step 3, Diaphragm cover",)
    assert "Try the throttle linkage" in " ".join(back(shift, ticket, 2).care)


def test_steps_in_a_circle_are_refused(shift: Shift, ticket: TicketView) -> None:
    ticket = noted(shift, ticket, StepEntry("Cover"), StepEntry("Clutch", after="1"))
    with refused(shift, "after", "wait for each other"):
        change_step(shift, ticket.teardown[0].id, StepEntry("Cover", after="2"))


def test_a_dropped_step_leaves_no_gap(shift: Shift, ticket: TicketView) -> None:
    ticket = noted(
        shift,
        ticket,
        StepEntry("Cover"),
        StepEntry("Clutch drum"),
        StepEntry("Clutch", after="2"),
        StepEntry("Key", after="3, 2"),
    )
    after = drop_step(shift, ticket.teardown[1].id, "was never off")
    assert [(step.number, step.off, step.after) for step in kept(shift, after).teardown] == [
        (1, "Cover", ""),
        (2, "Clutch", "1"),
        (3, "Key", "2, 1"),
    ]
    with shift.records.reading():
        entry = JournalEntry.get(JournalEntry.action == "removed")
    assert (entry.table, entry.ticket_id, entry.why) == (
        "teardown_step",
        ticket.id,
        "was never off",
    )


def test_a_step_that_is_gone_says_so(shift: Shift, ticket: TicketView) -> None:
    for act in (
        partial(change_step, shift, 99, MUFFLER),
        partial(drop_step, shift, 99),
        partial(tick_step, shift, 99),
        partial(untick_step, shift, 99),
        partial(explain_left_over, shift, 99, "why"),
    ):
        with refused(shift, "step", "not in the teardown any more"):
            act()


def test_a_tick_counts_the_fasteners(shift: Shift, ticket: TicketView) -> None:
    (step,) = note_step(shift, ticket.id, MUFFLER).teardown
    with refused(shift, "fasteners_back", "3 came off"):
        tick_step(shift, step.id)
    (ticked,) = kept(shift, tick_step(shift, step.id, "2, 1")).reassembly
    assert (ticked.done, ticked.done_by, ticked.back, ticked.left_over) == (True, "Sam", (2, 1), "")
    assert ticked.fasteners == ("2 × M5 x 20 T27 from cup 3", "1 × M6 nut from cup 3")
    (ticked,) = untick_step(shift, step.id).reassembly
    assert (ticked.done, ticked.done_at, ticked.back) == (False, None, ())


@pytest.mark.parametrize(
    ("typed", "verdict"),
    [("20", "pass"), ("27 N·m", "pass"), ("30 ft lb", "fail"), ("10 lbf·ft", "fail")],
)
def test_a_plugs_torque_is_judged_by_the_plug_makers_table(
    shift: Shift, ticket: TicketView, typed: str, verdict: str
) -> None:
    ticket = note_step(shift, ticket.id, PLUG)
    assert back(shift, ticket, 1).limit == "18.0 to 21.6 lbf·ft"
    ticket = kept(shift, tick_step(shift, ticket.teardown[0].id, setting=typed))
    (ticked,) = ticket.reassembly
    assert ticked.verdict == verdict
    assert "plug maker's table" in ticked.says
    assert ticked.left_over == (
        "step 1, Spark plug: plug torque failed" if verdict == "fail" else ""
    )
    finding = ticket.findings[-1]
    assert (finding.phase, finding.title, finding.typed) == ("setting", "plug torque", typed)
    assert finding.system == ""


def test_a_limit_of_ones_own_and_a_unit_alone(shift: Shift, ticket: TicketView) -> None:
    nut = StepEntry("Clutch", setting="clutch nut", setting_limit="18 to 22 N·m")
    rod = StepEntry("Rod", setting="rod length", setting_limit="mm")
    ticket = noted(shift, ticket, nut, rod)
    tick_step(shift, ticket.teardown[0].id, setting="24 N·m")
    tick_step(shift, ticket.teardown[1].id, setting="112.5")
    assert back(shift, ticket, 1).verdict == "fail"
    assert "maker's manual governs" in back(shift, ticket, 1).says
    assert (back(shift, ticket, 2).entered, back(shift, ticket, 2).verdict) == ("112.5 mm", "noted")


def test_a_check_of_the_catalogue_is_set_by_its_own_limit_or_by_a_typed_one(
    shift: Shift, ticket: TicketView
) -> None:
    coil = StepEntry("Coil", setting="air gap of the ignition coil")
    wider = replace(coil, setting_limit="0.5 to 0.6 mm")
    ticket = noted(shift, ticket, coil, wider)
    assert ticket.teardown[0].setting == "Air gap of the ignition coil"
    assert back(shift, ticket, 1).limit == "0.010 to 0.014 in"
    assert back(shift, ticket, 2).limit == "0.5 to 0.6 mm"
    tick_step(shift, ticket.teardown[0].id, setting=".012")
    ticket = tick_step(shift, ticket.teardown[1].id, setting=".012")
    assert back(shift, ticket, 1).verdict == "pass"
    assert back(shift, ticket, 2).verdict == "fail"
    assert [finding.check_key for finding in ticket.findings[-2:]] == ["coil-gap"] * 2


def test_a_setting_is_held_against_the_machines_own_limit_and_first_of_all_the_steps(
    shift: Shift, ticket: TicketView
) -> None:
    coil = StepEntry("Coil", setting="coil-gap")
    typed_here = replace(coil, setting_limit="0.016 to 0.018 in")
    set_model_limit(shift, "Tarnbeck", "TB 26", LimitEntry("coil-gap", "0.3 ± 0.05 mm", "manual"))
    ticket = noted(shift, ticket, coil, typed_here)
    assert back(shift, ticket, 1).limit == "0.25 to 0.35 mm"
    set_unit_limit(shift, ticket.unit.id, LimitEntry("coil-gap", "0.4 to 0.5 mm"))
    assert back(shift, ticket, 1).limit == "0.4 to 0.5 mm"
    assert back(shift, ticket, 2).limit == "0.016 to 0.018 in"
    for step in ticket.teardown:
        ticket = tick_step(shift, step.id, setting="0.017 in")
    by_unit, by_step = ticket.findings[-2:]
    assert (by_unit.verdict, by_unit.source) == ("pass", "shop's own figure for this machine")
    assert (by_step.verdict, by_step.source) == (
        "pass",
        "as noted at the teardown; the maker's manual governs",
    )
    assert tick_step(shift, ticket.teardown[0].id, setting=".012").findings[-1].verdict == "fail"


def test_what_was_set_stands_in_the_summary(shift: Shift, ticket: TicketView) -> None:
    ticket = note_step(shift, ticket.id, PLUG)
    tick_step(shift, ticket.teardown[0].id, setting="20")
    (row,) = summary_content(shift, ticket.id).settings
    assert (row.title, row.before, row.verdict) == ("plug torque", "20 lbf·ft", "pass")


def test_a_setting_is_put_right_by_a_new_tick_alone(shift: Shift, ticket: TicketView) -> None:
    ticket = note_step(shift, ticket.id, PLUG)
    step_id, before = ticket.teardown[0].id, len(ticket.findings)
    with refused(shift, "setting", "does not begin with a number"):
        tick_step(shift, step_id, setting="tight")
    ticket = tick_step(shift, step_id, setting="30")
    for act in (
        partial(correct_finding, shift, ticket.findings[-1].id, "20"),
        partial(drop_finding, shift, ticket.findings[-1].id),
    ):
        with refused(shift, "finding", "tick that step of the teardown anew"):
            act()
    ticket = tick_step(shift, step_id, setting="20")
    assert len(ticket.findings) == before + 1
    assert ticket.findings[-1].verdict == "pass"
    assert len(untick_step(shift, step_id).findings) == before


def test_nothing_is_entered_where_nothing_is_set(shift: Shift, ticket: TicketView) -> None:
    ticket = note_step(shift, ticket.id, StepEntry("Cover"))
    with refused(shift, "setting", "Nothing is to be set"):
        tick_step(shift, ticket.teardown[0].id, setting="20")
    with refused(shift, "fasteners_back", "No fastener came off here"):
        tick_step(shift, ticket.teardown[0].id, "2")


def test_what_is_left_over_stops_the_proof_run_and_the_pickup(
    shift: Shift, ticket: TicketView
) -> None:
    ticket = noted(shift, ticket, MUFFLER, PLUG)
    for line in ticket.lines:
        do_line(shift, line.id)
    with refused(shift, "phase", "step 1, Muffler: not ticked as back"):
        record_observation(shift, ticket.id, "Run", "Ran", "pass", phase="proof")
    tick_step(shift, ticket.teardown[0].id, "1, 1")
    ticket = tick_step(shift, ticket.teardown[1].id)
    assert "1 of 2 M5 x 20 T27 (in cup 3) not put back" in missing_before_pickup(ticket)
    assert "plug torque not entered" in missing_before_pickup(ticket)
    with pytest.raises(JobError, match="not all is back together"):
        go_on(shift, ticket.id, Stage.PICKUP)
    explain_left_over(shift, ticket.teardown[0].id, "stripped; M5 x 25 put in")
    ticket = tick_step(shift, ticket.teardown[1].id, setting="20")
    assert "back together" not in missing_before_pickup(ticket)
    record_observation(shift, ticket.id, "Run", "Ran 10 minutes", "pass", phase="proof")
    assert go_on(shift, ticket.id, Stage.PICKUP).stage is Stage.PICKUP


def test_many_left_over_are_named_in_part(shift: Shift, ticket: TicketView) -> None:
    ticket = noted(shift, ticket, *(StepEntry(f"Part {number}") for number in range(5)))
    missing = missing_before_pickup(ticket)
    assert "step 3, Part 2" in missing
    assert "step 4" not in missing
    assert "(and 2 more)" in missing


def test_a_declined_machine_is_not_given_back_in_pieces(shift: Shift) -> None:
    ticket = declined(shift)
    ticket = send_back(shift, ticket.id, Stage.APPROVAL, "the cover was still off")
    ticket = note_step(shift, ticket.id, StepEntry("Cover"))
    assert "step 1, Cover: not ticked as back" in missing_before_pickup(ticket)
    ticket = explain_left_over(shift, ticket.teardown[0].id, "the owner takes it as it lies")
    assert missing_before_pickup(ticket) == ""


def test_an_explanation_holds_for_what_it_was_said_of(shift: Shift, ticket: TicketView) -> None:
    (step,) = note_step(shift, ticket.id, MUFFLER).teardown
    tick_step(shift, step.id, "1, 1")
    (told,) = explain_left_over(shift, step.id, "one was missing when it came").reassembly
    assert told.explained == "one was missing when it came"
    assert told.left_over.startswith("step 1, Muffler: 1 of 2")
    (anew,) = tick_step(shift, step.id, "1, 0").reassembly
    assert anew.explained == ""
    with_reason = explain_left_over(shift, step.id, "again")
    assert "back together" not in missing_before_pickup(with_reason)
    taken_back = explain_left_over(shift, step.id, "")
    assert "back together" in missing_before_pickup(taken_back)


def test_there_is_nothing_to_explain_where_all_is_right(shift: Shift, ticket: TicketView) -> None:
    (step,) = note_step(shift, ticket.id, MUFFLER).teardown
    tick_step(shift, step.id, "3")
    with refused(shift, "why", "Nothing is left over at step 1"):
        explain_left_over(shift, step.id, "just so")


def test_a_tick_outlives_new_words_but_not_new_fasteners_or_settings(
    shift: Shift, ticket: TicketView
) -> None:
    (step,) = note_step(shift, ticket.id, MUFFLER).teardown
    tick_step(shift, step.id, "3")
    (same,) = change_step(shift, step.id, replace(MUFFLER, mark="punch mark up")).reassembly
    assert same.done
    (other,) = change_step(shift, step.id, replace(MUFFLER, fasteners="2 M5 x 25")).reassembly
    assert not other.done
    tick_step(shift, step.id, "2")
    plug = replace(PLUG, fasteners="2 M5 x 25")
    (set_anew,) = change_step(shift, step.id, plug).reassembly
    assert not set_anew.done


def test_each_change_is_in_the_journal(shift: Shift, ticket: TicketView) -> None:
    (step,) = note_step(shift, ticket.id, PLUG).teardown
    tick_step(shift, step.id, setting="30")
    untick_step(shift, step.id)
    with shift.records.reading():
        entries = [
            (entry.table, entry.action)
            for entry in JournalEntry.select().where(JournalEntry.ticket_id == ticket.id)
        ][-5:]
    assert entries == [
        ("teardown_step", "added"),
        ("finding", "added"),
        ("teardown_step", "changed"),
        ("teardown_step", "changed"),
        ("finding", "removed"),
    ]


def test_a_photo_shows_its_step(shift: Shift, ticket: TicketView, tmp_path: Path) -> None:
    file = tmp_path / "muffler.png"
    Image.new("RGB", (60, 40), "grey").save(file)
    ticket = note_step(shift, ticket.id, MUFFLER)
    step_id = ticket.teardown[0].id
    ticket = kept(shift, add_photo(shift, ticket.id, file, "screws", step_id=step_id))
    assert ticket.teardown[0].photos == ticket.photos
    sheet = bench_sheet_content(shift, ticket.id)
    assert sheet.teardown[0].photos[0].file.is_file()
    dropped = drop_step(shift, step_id)
    assert dropped.photos[0].step_id is None
    assert drop_photo(shift, dropped.photos[0].id).photos == ()


def test_a_photo_goes_to_no_step_of_another_ticket(
    shift: Shift, ticket: TicketView, tmp_path: Path
) -> None:
    file = tmp_path / "a.png"
    Image.new("RGB", (10, 10)).save(file)
    with refused(shift, "step_id", "That step is not on this ticket"):
        add_photo(shift, ticket.id, file, step_id=99)


def test_the_bench_sheet_holds_what_the_bench_needs(shift: Shift) -> None:
    ticket = at_stage(shift, Stage.DIAGNOSIS)
    ticket = noted(shift, ticket, StepEntry("Cover", fasteners="3 M5 x 20"), PLUG)
    sheet = bench_sheet_content(shift, ticket.id)
    assert (sheet.ticket, sheet.owner) == (ticket.tag, "Mara Quill")
    assert "maker's manual" in sheet.standing.words
    assert [row.off for row in sheet.teardown] == ["Cover", "Spark plug"]
    assert [row.number for row in sheet.reassembly] == [2, 1]
    assert sheet.reassembly[0].limit == "18.0 to 21.6 lbf·ft"
    assert sheet.checks[0].title == "Spark in a tester"
    assert sheet.checks[0].limit == "strong, blue, at every pull"
    assert not sheet.proving
    known = {(each.words, each.backing) for each in cautions().by_key.values()}
    of_check, of_step = sheet.checks[0].cautions, sheet.teardown[1].cautions
    assert of_check
    assert {(row.words, row.backing) for row in (*of_check, *of_step)} <= known
    tick_step(shift, ticket.teardown[1].id, setting="20")
    assert bench_sheet_content(shift, ticket.id).reassembly[0].entered == "20 lbf·ft, pass"


def test_the_bench_sheet_names_the_machines_own_limits(shift: Shift) -> None:
    ticket = at_stage(shift, Stage.DIAGNOSIS)
    set_unit_limit(shift, ticket.unit.id, LimitEntry("compression", "at least 112 psi"))
    by_title = {row.title: row.limit for row in bench_sheet_content(shift, ticket.id).checks}
    assert by_title["Compression"] == "at least 112 psi"


def test_the_bench_sheet_says_what_a_step_comes_after_only_where_it_was_said(
    shift: Shift, ticket: TicketView
) -> None:
    noted(shift, ticket, MUFFLER, replace(PLUG, after="none"), StepEntry("Coil", after="1, 2"))
    sheet = bench_sheet_content(shift, ticket.id)
    assert [row.after for row in sheet.teardown] == ["", "", "1, 2"]


def test_the_bench_sheet_turns_to_the_proof_run(shift: Shift, ticket: TicketView) -> None:
    sheet = bench_sheet_content(shift, ticket.id)
    assert sheet.proving
    said = {row.words for check in sheet.checks for row in check.cautions}
    assert cautions().by_key["running-engine"].words in said
    assert cautions().by_key["battery-out"].words not in said
    titles = {row.title for row in sheet.checks}
    assert "Idle speed, warm" in titles
    assert "Spark in a tester" not in titles
    assert open_ticket(shift, ticket.id).teardown == ()


def test_what_to_beware_of_is_known_by_the_name_of_what_comes_off() -> None:
    (fuel,) = cautions_for("Carburettor and gasket")
    assert fuel.startswith("Petrol vapour")
    assert cautions_for("Air box") == ()
