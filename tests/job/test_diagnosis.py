"""At the bench: findings recorded, judged, corrected and taken back."""

from dataclasses import replace
from decimal import Decimal

import pytest

from shopdesk.job.diagnosis import (
    CONFIRMED,
    VERDICTS,
    checks_for,
    confirm_complaint,
    correct_finding,
    drop_finding,
    proof_checks_for,
    record_finding,
    record_observation,
    say_no_proof,
    setting_checks_for,
    try_reading,
)
from shopdesk.job.history import ticket_journal
from shopdesk.job.lines import add_line
from shopdesk.job.opened import open_ticket
from shopdesk.job.reasons import NO_FINDING
from shopdesk.job.shift import Shift, save_shop
from shopdesk.job.stages import Stage
from shopdesk.job.views import TicketView
from tests.job.workshop import (
    KIT,
    SHOP,
    TRIMMER,
    at_stage,
    each,
    everything,
    kept,
    refused,
    taken_in,
)


@pytest.fixture
def ticket(shift: Shift) -> TicketView:
    return at_stage(shift, Stage.DIAGNOSIS)


def test_a_reading_is_kept_with_its_verdict_limit_and_source(
    shift: Shift, ticket: TicketView
) -> None:
    after = kept(shift, record_finding(shift, ticket.id, "compression", "142", note="cold"))
    finding = after.findings[-1]
    assert (finding.title, finding.system, finding.phase) == (
        *("Compression", "compression"),
        "diagnosis",
    )
    assert (finding.typed, finding.verdict, finding.note) == ("142", "pass", "cold")
    assert "142 psi" in finding.shown
    assert "130" in finding.limit
    assert finding.source == "common practice, no published source"
    assert finding.rules_out.startswith("Piston, rings and cylinder hold")
    assert finding.found_by == "Sam"


def test_a_reading_that_fails_says_what_it_points_to(shift: Shift, ticket: TicketView) -> None:
    finding = record_finding(shift, ticket.id, "compression", "80 psi").findings[-1]
    assert finding.verdict == "fail"
    assert "cylinder leaks" in finding.points_to
    assert finding.rules_out == ""


def test_a_reading_is_judged_for_the_shops_altitude(shift: Shift, ticket: TicketView) -> None:
    save_shop(shift, replace(SHOP, altitude_m=Decimal(1609)))
    finding = record_finding(shift, ticket.id, "compression", "110").findings[-1]
    assert finding.verdict == "pass"
    assert "1,609 m" in finding.correction


def test_a_look_see_is_kept_in_words(shift: Shift, ticket: TicketView) -> None:
    finding = record_finding(shift, ticket.id, "piston-look", "e").findings[-1]
    assert finding.shown == "scored on the exhaust side"
    assert finding.verdict == "fail"


def test_trying_a_reading_records_nothing(shift: Shift, ticket: TicketView) -> None:
    before = everything(shift)
    assert try_reading(shift, ticket.id, "compression", "142").verdict == "pass"
    assert everything(shift) == before
    with refused(shift, "reading", "type"):
        try_reading(shift, ticket.id, "compression", "good")


@pytest.mark.parametrize(
    ("check", "reading", "words"),
    [
        ("compression", "", "The reading is empty: type it"),
        ("compression", "psi", "psi"),
        ("compression", "142 furlongs", "furlongs"),
        ("compression", "-5", "-5"),
        ("compression", "1" * 60, "far outside any pressure"),
        ("compression", "\x00\x01", "The reading is empty"),
        ("compression", "x" * 201, "201 characters"),
        ("compression", "<b>142</b>", "<b>"),
        ("piston-look", "purple", "is none of the choices"),
        ("no-such-check", "1", "There is no check “no-such-check”"),
    ],
)
def test_what_is_no_reading_is_refused(
    shift: Shift, ticket: TicketView, check: str, reading: str, words: str
) -> None:
    with refused(shift, "reading", words):
        record_finding(shift, ticket.id, check, reading)


def test_a_reading_with_characters_that_cannot_be_printed_loses_them(
    shift: Shift, ticket: TicketView
) -> None:
    finding = record_finding(shift, ticket.id, "compression", "\ufeff142\x00\u200b psi\ud800")
    assert finding.findings[-1].typed == "142 psi"


@pytest.mark.parametrize("seen", CONFIRMED)
def test_whether_the_complaint_was_seen_is_kept(
    shift: Shift, ticket: TicketView, seen: str
) -> None:
    after = kept(shift, confirm_complaint(shift, ticket.id, seen.upper(), "with fresh fuel"))
    assert (after.confirmed, after.confirmed_note) == (seen, "with fresh fuel")


def test_what_is_no_answer_to_whether_it_was_seen_is_refused(
    shift: Shift, ticket: TicketView
) -> None:
    with refused(shift, "confirmed", "choose one of seen, not seen, not safe to try"):
        confirm_complaint(shift, ticket.id, "perhaps")
    with refused(shift, "confirmed", "is empty"):
        confirm_complaint(shift, ticket.id, "")
    with refused(shift, "confirmed_note", "10,001"):
        confirm_complaint(shift, ticket.id, "seen", "x" * 10_001)


@pytest.mark.parametrize("verdict", VERDICTS)
def test_an_observation_has_the_mechanics_own_verdict(
    shift: Shift, ticket: TicketView, verdict: str
) -> None:
    after = kept(
        shift,
        record_observation(
            *(shift, ticket.id, "Wasp nest", "In the muffler", verdict),
            system="exhaust",
            note="empty",
        ),
    )
    finding = after.findings[-1]
    assert (finding.title, finding.shown, finding.verdict) == (
        *("Wasp nest", "In the muffler"),
        verdict,
    )
    assert finding.source == "the mechanic's own judgement"
    assert finding.says == f"In the muffler, {verdict}."


def test_an_observation_is_refused_at_its_field(shift: Shift, ticket: TicketView) -> None:
    with refused(shift, "title", "What was looked at is empty"):
        record_observation(shift, ticket.id, "", "x", "pass")
    with refused(shift, "reading", "What was found is empty"):
        record_observation(shift, ticket.id, "x", " ", "pass")
    with refused(shift, "verdict", "choose one of pass"):
        record_observation(shift, ticket.id, "x", "y", "ok")
    with refused(shift, "phase", "choose one of diagnosis, setting, proof"):
        record_observation(shift, ticket.id, "x", "y", "pass", phase="later")
    with refused(shift, "phase", "choose one of"):
        record_finding(shift, ticket.id, "compression", "142", phase="later")


def test_a_reading_is_put_right_and_judged_anew(shift: Shift, ticket: TicketView) -> None:
    wrong = record_finding(shift, ticket.id, "compression", "42", note="cold").findings[-1]
    right = kept(shift, correct_finding(shift, wrong.id, "142")).findings[-1]
    assert (right.id, right.verdict, right.note) == (wrong.id, "pass", "cold")
    change = ticket_journal(shift, ticket.id)[-1]
    assert (change.action, change.why) == ("changed", "corrected")
    assert '"typed":"42"' in change.before
    assert '"typed":"142"' in change.after


def test_an_observation_is_put_right(shift: Shift, ticket: TicketView) -> None:
    made = record_observation(shift, ticket.id, "Nest", "In the muffler", "fail").findings[-1]
    same = correct_finding(shift, made.id, "In the air box").findings[-1]
    assert (same.title, same.verdict, same.shown) == ("Nest", "fail", "In the air box")
    other = correct_finding(
        shift, made.id, "In the air box", title="Wasp nest", verdict="marginal", note="old"
    ).findings[-1]
    assert (other.title, other.verdict, other.note) == ("Wasp nest", "marginal", "old")


def test_a_finding_is_taken_back_and_its_lines_say_so(shift: Shift, ticket: TicketView) -> None:
    finding = record_finding(shift, ticket.id, "compression", "80").findings[-1]
    add_line(shift, ticket.id, replace(KIT, finding_id=finding.id))
    assert "Compression" in open_ticket(shift, ticket.id).lines[0].evidence
    after = kept(shift, drop_finding(shift, finding.id, "wrong gauge"))
    assert after.findings == ()
    assert after.lines[0].evidence == NO_FINDING
    assert ticket_journal(shift, ticket.id)[-1].why == "wrong gauge"


def test_a_finding_that_is_gone_is_said(shift: Shift, ticket: TicketView) -> None:
    with refused(shift, "finding", "open the ticket again"):
        correct_finding(shift, 77, "1")
    with refused(shift, "finding", "open the ticket again"):
        drop_finding(shift, 77)


def test_a_closed_ticket_takes_no_findings(shift: Shift) -> None:
    ticket = at_stage(shift, Stage.CLOSED)
    finding = ticket.findings[0].id
    for action in each(
        lambda: record_finding(shift, ticket.id, "compression", "142"),
        lambda: record_observation(shift, ticket.id, "x", "y", "pass"),
        lambda: confirm_complaint(shift, ticket.id, "seen"),
        lambda: correct_finding(shift, finding, "140"),
        lambda: drop_finding(shift, finding),
        lambda: say_no_proof(shift, ticket.id, "no fuel"),
    ):
        with refused(shift, "stage", "This ticket is closed: reopen it"):
            action()


def test_why_there_was_no_proof_run_is_kept_and_taken_back(shift: Shift) -> None:
    ticket = at_stage(shift, Stage.REPAIR)
    assert kept(shift, say_no_proof(shift, ticket.id, "no blade")).proof_reason == "no blade"
    assert say_no_proof(shift, ticket.id, "").proof_reason == ""


def test_the_checks_are_those_of_the_machine(shift: Shift) -> None:
    trimmer = taken_in(shift).unit
    keys = {check.key for check in checks_for(trimmer)}
    assert {"compression", "piston-look"} <= keys
    cordless = replace(trimmer, engine="cordless")
    assert "compression" not in {check.key for check in checks_for(cordless)}
    assert {check.key for check in setting_checks_for(trimmer)} >= {"plug-gap", "coil-gap"}


def test_the_proof_run_tries_again_what_failed(shift: Shift, ticket: TicketView) -> None:
    before = {check.key for check in proof_checks_for(ticket)}
    assert "compression" not in before
    after = record_finding(shift, ticket.id, "compression", "80")
    assert {check.key for check in proof_checks_for(after)} == before | {"compression"}


def test_a_limit_that_hangs_on_another_reading_takes_that(shift: Shift, ticket: TicketView) -> None:
    assert TRIMMER.kind == ticket.unit.kind
    check = next(
        check
        for check in checks_for(ticket.unit)
        if any(rule.limit.times_of for rule in check.limits)
    )
    other = next(rule.limit.times_of for rule in check.limits if rule.limit.times_of)
    alone = record_finding(shift, ticket.id, check.key, "3500").findings[-1]
    assert alone.verdict == "noted"
    assert other in alone.says
    record_finding(shift, ticket.id, other, "2800")
    held = record_finding(shift, ticket.id, check.key, "3600").findings[-1]
    assert held.verdict == "pass"
    assert "2800" in held.correction.replace(",", "")
