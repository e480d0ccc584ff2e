"""What a machine's history says on paper, gathered from the records."""

from decimal import Decimal

from shopdesk.job.history_paper import history_content
from shopdesk.job.shift import Shift
from shopdesk.job.stages import Stage
from tests.job.workshop import at_stage


def test_the_owners_paper_has_all_of_it(shift: Shift) -> None:
    ticket = at_stage(shift, Stage.CLOSED)
    content = history_content(shift, ticket.unit.id)
    assert content.owner is not None
    assert content.owner.name == "Mara Quill"
    assert not content.for_buyer
    (visit,) = content.visits
    assert (visit.ticket, visit.charged, visit.hours) == ("T1001", Decimal("84.67"), Decimal(1))
    assert visit.complaint.startswith("Starts, then dies")
    assert content.courses[0].points[0].shown == "142 psi"
    assert content.next_steps


def test_the_buyers_paper_names_nobody(shift: Shift) -> None:
    ticket = at_stage(shift, Stage.CLOSED)
    content = history_content(shift, ticket.unit.id, for_buyer=True)
    assert content.for_buyer
    assert "Quill" not in repr(content)
    assert "84.67" not in repr(content)
    assert "dies" not in repr(content)
    assert content.visits[0].done
