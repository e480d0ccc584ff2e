"""From a cause to the line that puts it right, resting on the finding that speaks for it."""

from decimal import Decimal

import pytest

from shopdesk.job.diagnosis import record_finding
from shopdesk.job.fixing import line_for_fix
from shopdesk.job.lines import add_line
from shopdesk.job.shift import Shift
from shopdesk.job.stages import Stage
from shopdesk.job.views import TicketView
from tests.job.workshop import at_stage, refused


@pytest.fixture
def ticket(shift: Shift) -> TicketView:
    return at_stage(shift, Stage.DIAGNOSIS)


def test_a_fix_is_labour_for_as_long_as_it_takes(shift: Shift, ticket: TicketView) -> None:
    entry = line_for_fix(shift, ticket.id, "cracked-fuel-line")
    assert (entry.kind, entry.description) == ("labour", "Renew the fuel lines and the grommet")
    assert (entry.reason, entry.finding_id) == ("failed", None)
    line = add_line(shift, ticket.id, entry).lines[-1]
    assert line.quantity == Decimal("0.3")
    assert line.is_work


def test_it_rests_on_the_finding_that_speaks_most_for_the_cause(
    shift: Shift, ticket: TicketView
) -> None:
    record_finding(shift, ticket.id, "air-filter", "d")
    record_finding(shift, ticket.id, "spark", "s")
    lines = record_finding(shift, ticket.id, "fuel-lines", "h").findings[-1]
    record_finding(shift, ticket.id, "compression", "60")
    assert line_for_fix(shift, ticket.id, "cracked-fuel-line").finding_id == lines.id


def test_what_was_found_after_the_repair_bears_nothing_out(
    shift: Shift, ticket: TicketView
) -> None:
    record_finding(shift, ticket.id, "fuel-lines", "h", phase="setting")
    assert line_for_fix(shift, ticket.id, "cracked-fuel-line").finding_id is None


def test_looking_further_is_work_to_find_the_cause(shift: Shift, ticket: TicketView) -> None:
    record_finding(shift, ticket.id, "compression", "60")
    entry = line_for_fix(shift, ticket.id, "something-else")
    assert entry.reason == "diagnosis"


def test_a_cause_of_another_machine_is_refused(shift: Shift, ticket: TicketView) -> None:
    with refused(shift, "cause", "no cause that this machine can have"):
        line_for_fix(shift, ticket.id, "weak-pack")
