"""What the bench sheet lists: the checks that still wait."""

from shopdesk.job.bench_sheet import checks_to_do
from shopdesk.job.diagnosis import checks_for, proof_checks_for, record_finding
from shopdesk.job.shift import Shift
from shopdesk.job.stages import Stage
from tests.job.workshop import at_stage


def test_before_the_repair_the_first_looks_wait_in_their_order(shift: Shift) -> None:
    ticket = at_stage(shift, Stage.DIAGNOSIS)
    waiting = checks_to_do(ticket)
    assert [check.first_look for check in waiting] == sorted(
        check.first_look for check in checks_for(ticket.unit) if check.first_look
    )
    after = record_finding(shift, ticket.id, "compression", "142")
    assert {check.key for check in waiting} - {check.key for check in checks_to_do(after)} == {
        "compression"
    }


def test_from_the_repair_on_the_proof_run_waits(shift: Shift) -> None:
    ticket = at_stage(shift, Stage.REPAIR)
    waiting = checks_to_do(ticket)
    assert waiting == proof_checks_for(ticket)
    after = record_finding(shift, ticket.id, "idle-speed", "2800", phase="proof")
    assert [check.key for check in checks_to_do(after)] == [
        check.key for check in waiting if check.key != "idle-speed"
    ]
