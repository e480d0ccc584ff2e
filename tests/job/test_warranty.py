"""The warranty on what was done: as the invoice says, part by part, whatever is said later."""

from dataclasses import replace
from datetime import date

from shopdesk.job.approval import approve, quote
from shopdesk.job.diagnosis import record_observation
from shopdesk.job.intake import under_warranty
from shopdesk.job.lines import change_line
from shopdesk.job.moving import go_on, send_back
from shopdesk.job.parts.catalogue import PartEntry, add_part
from shopdesk.job.parts.counting import count_part
from shopdesk.job.pickup import credit_invoice, issue_invoice
from shopdesk.job.repair import do_line
from shopdesk.job.shift import Shift, save_shop
from shopdesk.job.stages import Stage
from shopdesk.job.warranty import Warranty, unit_warranty, warranty_of
from shopdesk.records.tables import Ticket
from tests.job.workshop import KIT, SAYS, SHOP, Clock, at_stage, declined


def of(shift: Shift, ticket_id: int) -> Warranty:
    with shift.records.reading():
        return warranty_of(Ticket.get_by_id(ticket_id))


def test_work_and_parts_are_covered_from_the_day_of_the_invoice(shift: Shift) -> None:
    ticket = at_stage(shift, Stage.CLOSED)
    found = of(shift, ticket.id)
    assert found.until == date(2031, 7, 6)
    assert found.words == "labour until 6 Jul 2031; parts until 6 Jul 2031"


def test_parts_may_have_days_of_their_own(shift: Shift) -> None:
    save_shop(shift, replace(SHOP, part_warranty_days=365))
    found = of(shift, at_stage(shift, Stage.CLOSED).id)
    assert found.words == "labour until 6 Jul 2031; parts until 6 Apr 2032"


def test_a_part_with_its_own_days_is_named(shift: Shift) -> None:
    kit = PartEntry("CK-2201", "Carburettor kit", price="18.40", warranty_days="730")
    part = add_part(shift, kit)
    count_part(shift, part.id, "1")
    ticket = at_stage(shift, Stage.APPROVAL)
    change_line(shift, ticket.lines[0].id, replace(KIT, part_id=part.id))
    quote(shift, ticket.id)
    approve(shift, ticket.id, SAYS)
    go_on(shift, ticket.id, Stage.REPAIR)
    for line in ticket.lines:
        do_line(shift, line.id)
    record_observation(shift, ticket.id, "Run", "Ran 10 minutes", "pass", phase="proof")
    go_on(shift, ticket.id, Stage.PICKUP)
    done = issue_invoice(shift, ticket.id)
    found = of(shift, done.id)
    assert found.words == "labour until 6 Jul 2031; parts until 6 Apr 2033"


def test_what_the_shop_says_later_changes_nothing(shift: Shift) -> None:
    ticket = at_stage(shift, Stage.CLOSED)
    save_shop(shift, replace(SHOP, warranty_days=5))
    assert of(shift, ticket.id).until == date(2031, 7, 6)


def test_a_machine_that_went_home_as_it_came_has_none(shift: Shift) -> None:
    ticket = declined(shift)
    issue_invoice(shift, ticket.id)
    assert of(shift, ticket.id) == Warranty(())


def test_what_was_credited_is_not_covered(shift: Shift) -> None:
    ticket = at_stage(shift, Stage.CLOSED)
    send_back(shift, ticket.id, Stage.PICKUP, "wrong price")
    credit_invoice(shift, ticket.id, "wrong price")
    assert of(shift, ticket.id) == Warranty(())


def test_the_machine_knows_what_runs_on_it(shift: Shift, clock: Clock) -> None:
    ticket = at_stage(shift, Stage.CLOSED)
    ((tag, found),) = unit_warranty(shift, ticket.unit.id)
    assert (tag, found.until) == (ticket.tag, date(2031, 7, 6))
    clock.forward(90)
    assert unit_warranty(shift, ticket.unit.id) != ()
    clock.forward(1)
    assert unit_warranty(shift, ticket.unit.id) == ()


def test_a_machine_that_comes_back_says_what_is_still_covered(shift: Shift, clock: Clock) -> None:
    save_shop(shift, replace(SHOP, warranty_days=10, part_warranty_days=60))
    ticket = at_stage(shift, Stage.CLOSED)
    clock.forward(19)
    earlier = under_warranty(shift, ticket.unit.id)
    assert earlier is not None
    assert (earlier.tag, earlier.days_ago) == (ticket.tag, 19)
    assert earlier.warranty == "parts until 6 Jun 2031"
