"""A reading that is put right or taken back carries along what was judged by it."""

from dataclasses import replace
from pathlib import Path

import pytest

from shopdesk.job.diagnosis import correct_finding, drop_finding, record_finding
from shopdesk.job.history import ticket_journal
from shopdesk.job.lines import add_line
from shopdesk.job.moving import go_on
from shopdesk.job.opened import open_ticket
from shopdesk.job.photos import add_photo
from shopdesk.job.pickup import issue_invoice
from shopdesk.job.repair import do_line
from shopdesk.job.shift import Shift
from shopdesk.job.stages import Stage
from shopdesk.job.teardown import StepEntry, change_step, note_step, tick_step, untick_step
from shopdesk.job.views import FindingView, TicketView
from tests.job.test_photos import picture
from tests.job.workshop import KIT, at_stage, kept, refused
from tests.records.replay import kept_rows, replayed_rows

IDLE, CLUTCH = "idle-speed", "clutch-speed"
"""The clutch engages at 1.25 times the idle speed or more (see limits.toml)."""
ANEW = "judged anew: its limit hangs on another reading, which changed"


@pytest.fixture
def ticket(shift: Shift) -> TicketView:
    return at_stage(shift, Stage.DIAGNOSIS)


def found(shift: Shift, ticket: TicketView, check: str, reading: str) -> FindingView:
    return record_finding(shift, ticket.id, check, reading).findings[-1]


def as_it_stands(shift: Shift, ticket: TicketView, finding: FindingView) -> FindingView:
    rows = kept(shift, open_ticket(shift, ticket.id)).findings
    return next(row for row in rows if row.id == finding.id)


def test_a_corrected_idle_speed_judges_the_clutch_anew(shift: Shift, ticket: TicketView) -> None:
    idle = found(shift, ticket, IDLE, "2800")
    clutch = found(shift, ticket, CLUTCH, "3600")
    assert clutch.verdict == "pass"
    correct_finding(shift, idle.id, "3300")
    anew = as_it_stands(shift, ticket, clutch)
    assert anew.verdict == "fail"
    assert "3300" in anew.correction.replace(",", "")
    assert (anew.found_by, anew.found_at) == (clutch.found_by, clutch.found_at)
    noted = ticket_journal(shift, ticket.id)[-1]
    assert (noted.action, noted.table, noted.why) == ("changed", "finding", ANEW)
    assert '"verdict":"pass"' in noted.before
    assert '"verdict":"fail"' in noted.after


def test_without_its_idle_speed_the_clutch_waits_for_one(shift: Shift, ticket: TicketView) -> None:
    idle = found(shift, ticket, IDLE, "2800")
    clutch = found(shift, ticket, CLUTCH, "3600")
    drop_finding(shift, idle.id, "read on the wrong machine")
    alone = as_it_stands(shift, ticket, clutch)
    assert (alone.verdict, alone.limit) == ("noted", "")
    found(shift, ticket, IDLE, "3300")
    assert as_it_stands(shift, ticket, clutch).verdict == "fail"


def test_each_reading_is_held_against_the_one_before_it(shift: Shift, ticket: TicketView) -> None:
    first = found(shift, ticket, IDLE, "3300")
    failed = found(shift, ticket, CLUTCH, "3600")
    found(shift, ticket, IDLE, "2800")
    passed = found(shift, ticket, CLUTCH, "3600")
    assert (failed.verdict, passed.verdict) == ("fail", "pass")
    assert as_it_stands(shift, ticket, failed) == failed
    assert correct_finding(shift, failed.id, "3590").findings[1].verdict == "fail"
    drop_finding(shift, first.id)
    assert as_it_stands(shift, ticket, failed).verdict == "pass"


def test_what_hangs_on_no_other_reading_is_left_alone(shift: Shift, ticket: TicketView) -> None:
    cylinder = found(shift, ticket, "compression", "80")
    idle = found(shift, ticket, IDLE, "2800")
    before = len(ticket_journal(shift, ticket.id))
    correct_finding(shift, idle.id, "2900")
    assert as_it_stands(shift, ticket, cylinder) == cylinder
    assert len(ticket_journal(shift, ticket.id)) == before + 1


def test_an_idle_speed_set_on_the_way_back_counts_as_any_other(
    shift: Shift, ticket: TicketView
) -> None:
    clutch = found(shift, ticket, CLUTCH, "3600")
    step = note_step(shift, ticket.id, StepEntry("Carburettor", setting=IDLE)).teardown[0]
    tick_step(shift, step.id, setting="3300")
    assert as_it_stands(shift, ticket, clutch).verdict == "fail"
    tick_step(shift, step.id, setting="2800")
    assert as_it_stands(shift, ticket, clutch).verdict == "pass"
    untick_step(shift, step.id)
    assert as_it_stands(shift, ticket, clutch).verdict == "noted"
    tick_step(shift, step.id, setting="2800")
    change_step(shift, step.id, StepEntry("Carburettor"))
    assert as_it_stands(shift, ticket, clutch).verdict == "noted"


def test_a_clutch_set_to_a_limit_of_its_own_keeps_it(shift: Shift, ticket: TicketView) -> None:
    idle = found(shift, ticket, IDLE, "2800")
    entry = StepEntry("Clutch", setting=CLUTCH, setting_limit="at least 3000 rpm")
    step = note_step(shift, ticket.id, entry).teardown[0]
    clutch = tick_step(shift, step.id, setting="3100").findings[-1]
    assert clutch.verdict == "pass"
    correct_finding(shift, idle.id, "3300")
    assert as_it_stands(shift, ticket, clutch) == clutch


def test_a_verdict_that_turned_keeps_the_machine_here(shift: Shift) -> None:
    ticket = at_stage(shift, Stage.REPAIR)
    for line in ticket.lines:
        do_line(shift, line.id)
    idle = record_finding(shift, ticket.id, IDLE, "2800", phase="proof").findings[-1]
    record_finding(shift, ticket.id, CLUTCH, "3600", phase="proof")
    go_on(shift, ticket.id, Stage.PICKUP)
    correct_finding(shift, idle.id, "3300")
    with refused(shift, "stage", "the proof run failed (Speed at which the clutch takes up)"):
        issue_invoice(shift, ticket.id)


def test_what_pointed_to_a_finding_lets_go_of_it(
    shift: Shift, ticket: TicketView, tmp_path: Path
) -> None:
    step = note_step(shift, ticket.id, StepEntry("Carburettor", setting=IDLE)).teardown[0]
    idle = tick_step(shift, step.id, setting="2800").findings[-1]
    add_line(shift, ticket.id, replace(KIT, finding_id=idle.id))
    add_photo(shift, ticket.id, picture(tmp_path), "the tachometer", idle.id)
    after = kept(shift, untick_step(shift, step.id))
    assert after.findings == ()
    assert after.lines[0].finding_id is after.photos[0].finding_id is None
    assert replayed_rows(shift.records) == kept_rows(shift.records)
