"""The diagnosis credited with the repair: what is agreed, what is invoiced, and a no that owes."""

from dataclasses import replace
from decimal import Decimal

import pytest

from shopdesk.job.approval import approve, decline, quote
from shopdesk.job.labour.bill import bill_time
from shopdesk.job.labour.clock import TimeEntry, add_time
from shopdesk.job.lines import LineEntry, add_line, turn_down
from shopdesk.job.moving import go_on
from shopdesk.job.pickup import invoice_as_issued, issue_invoice
from shopdesk.job.shift import Shift, save_shop
from shopdesk.job.stages import Stage
from shopdesk.job.views import TicketView
from shopdesk.pricing.totals import LineKind
from tests.job.labour.at_work import finished
from tests.job.mended import on_the_bench
from tests.job.workshop import HOUR, KIT, SAYS, SHOP, kept

CREDITS = replace(SHOP, credit_diagnosis=True)
FEE = LineEntry("fee", "Diagnosis", unit_price="35.00", reason="diagnosis")


def looked_at(shift: Shift) -> TicketView:
    """Return a ticket in Diagnosis with one finding."""
    return on_the_bench(shift, 1, checks=[("compression", "142")])


def agreed(shift: Shift, ticket: TicketView) -> TicketView:
    go_on(shift, ticket.id, Stage.APPROVAL)
    quote(shift, ticket.id)
    approve(shift, ticket.id, SAYS)
    return go_on(shift, ticket.id, Stage.REPAIR)


def test_a_yes_to_the_repair_pays_for_the_repair_alone(shift: Shift) -> None:
    save_shop(shift, CREDITS)
    ticket = add_line(shift, looked_at(shift).id, FEE)
    assert ticket.totals.total == Decimal("37.80")
    add_line(shift, ticket.id, KIT)
    ticket = add_line(shift, ticket.id, HOUR)
    assert ticket.totals.total == Decimal("84.67")
    ticket = agreed(shift, ticket)
    assert (ticket.approved, ticket.may_charge) == (Decimal("84.67"), Decimal("93.13"))
    finished(shift, ticket)
    ticket = kept(shift, issue_invoice(shift, ticket.id))
    assert ticket.balance == Decimal("84.67")
    content = invoice_as_issued(shift, ticket.invoices[-1].id)
    assert content.totals.total == Decimal("84.67")
    assert "Diagnosis" in [row.description for row in content.rows]
    assert sum(row.net for row in content.rows) == content.totals.net == Decimal("78.40")


def test_a_no_owes_the_fee_with_its_tax_and_nothing_else(shift: Shift) -> None:
    save_shop(shift, CREDITS)
    ticket = add_line(shift, looked_at(shift).id, FEE)
    add_line(shift, ticket.id, KIT)
    ticket = kept(shift, decline(shift, ticket.id, SAYS))
    assert ticket.totals.total == ticket.may_charge == Decimal("37.80")
    go_on(shift, ticket.id, Stage.PICKUP)
    assert issue_invoice(shift, ticket.id).balance == Decimal("37.80")


def test_once_the_repair_is_left_out_the_fee_is_owed_again(shift: Shift) -> None:
    save_shop(shift, CREDITS)
    ticket = add_line(shift, looked_at(shift).id, FEE)
    ticket = add_line(shift, ticket.id, HOUR)
    assert ticket.totals.total == Decimal("64.80")
    ticket = kept(shift, turn_down(shift, ticket.lines[-1].id))
    assert ticket.totals.total == Decimal("37.80")


def test_the_time_of_the_diagnosis_is_credited_as_the_fee_is(shift: Shift) -> None:
    save_shop(shift, CREDITS)
    ticket = add_time(shift, looked_at(shift).id, TimeEntry("30 min", work="diagnosis"))
    ticket = bill_time(shift, ticket.id, "diagnosis")
    assert ticket.totals.net == Decimal("30.00")
    ticket = add_line(shift, ticket.id, HOUR)
    assert ticket.totals.net == Decimal("60.00")
    add_time(shift, ticket.id, TimeEntry("30 min", work="diagnosis"))
    ticket = kept(shift, bill_time(shift, ticket.id, "diagnosis"))
    assert (ticket.lines[0].quantity, ticket.totals.net) == (Decimal("1.0"), Decimal("60.00"))


def test_repair_time_by_the_clock_is_a_repair(shift: Shift) -> None:
    save_shop(shift, CREDITS)
    ticket = add_line(shift, looked_at(shift).id, FEE)
    add_time(shift, ticket.id, TimeEntry("1:00", work="repair"))
    assert bill_time(shift, ticket.id).totals.net == Decimal("60.00")


def test_a_shop_that_does_not_credit_it_charges_both(shift: Shift) -> None:
    ticket = add_line(shift, looked_at(shift).id, FEE)
    assert add_line(shift, ticket.id, HOUR).totals.net == Decimal("95.00")


@pytest.mark.parametrize(
    "taxed", [frozenset({LineKind.FEE}), frozenset({LineKind.LABOUR}), frozenset()]
)
def test_whatever_is_taxed_nothing_of_the_fee_is_left(
    shift: Shift, taxed: frozenset[LineKind]
) -> None:
    save_shop(shift, replace(CREDITS, taxed=taxed))
    hour = add_line(shift, looked_at(shift).id, HOUR).totals
    save_shop(shift, replace(CREDITS, taxed=taxed))
    ticket = on_the_bench(shift, 2, checks=[("compression", "142")])
    add_line(shift, ticket.id, FEE)
    assert add_line(shift, ticket.id, HOUR).totals.total == hour.total
