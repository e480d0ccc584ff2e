"""Shop supplies, discounts in percent, the disposal fee, and the diagnosis that is credited."""

from collections.abc import Iterator
from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import pytest

from shopdesk.job.approval import SayEntry, approve, decline, drop_approval
from shopdesk.job.lines import LineEntry, add_line, change_line, drop_line, offer_again, turn_down
from shopdesk.job.moving import go_on
from shopdesk.job.opened import open_ticket
from shopdesk.job.pickup import issue_invoice
from shopdesk.job.reckoned import charge_disposal
from shopdesk.job.shift import Shift, save_shop
from shopdesk.job.shop import Shop, Supplies
from shopdesk.job.stages import Stage
from shopdesk.job.views import LineView, TicketView
from shopdesk.pricing.totals import ZERO, LineKind
from tests.job.workshop import HOUR, KIT, SAYS, SHOP, Clock, at_stage, kept, open_shop, refused

LABOUR = frozenset({LineKind.LABOUR})
BOTH = frozenset({LineKind.LABOUR, LineKind.PART})
CHARGING = replace(
    SHOP,
    tax_rates=(),
    supplies=Supplies(Decimal(5), LABOUR, Decimal("15.00")),
    disposal_fee=Decimal("8.00"),
)


@pytest.fixture
def charging(tmp_path: Path, clock: Clock) -> Iterator[Shift]:
    """A shop that charges 5 % of labour for supplies, at most 15.00, and 8.00 for disposal."""
    shift = open_shop(tmp_path, clock, CHARGING)
    yield shift
    shift.records.close()


@pytest.fixture
def ticket(charging: Shift) -> TicketView:
    """A kit for 18.40 and an hour for 60.00, to be approved."""
    return at_stage(charging, Stage.APPROVAL)


def reckoned(ticket: TicketView, what: str) -> LineView | None:
    return next((line for line in ticket.lines if line.reckoned == what), None)


def one(ticket: TicketView, what: str) -> LineView:
    found = reckoned(ticket, what)
    assert found is not None
    return found


def with_shop(shift: Shift, shop: Shop) -> None:
    save_shop(shift, shop)


def test_supplies_are_a_line_in_plain_words(charging: Shift, ticket: TicketView) -> None:
    ticket = kept(charging, open_ticket(charging, ticket.id))
    line = one(ticket, "supplies")
    assert line.description == "Shop supplies, 5% of labour, at most $15.00"
    assert (line.kind, line.net, line.reason_words) == (
        LineKind.FEE,
        Decimal("3.00"),
        "goes with the repair",
    )
    assert ticket.totals.total == Decimal("81.40")


@pytest.mark.parametrize(("hours", "supplies"), [("1", "6.00"), ("0.1", "3.30"), ("9", "15.00")])
def test_supplies_follow_the_labour_up_to_the_cap(
    charging: Shift, ticket: TicketView, hours: str, supplies: str
) -> None:
    more = add_line(charging, ticket.id, replace(HOUR, quantity=hours))
    assert one(more, "supplies").net == Decimal(supplies)
    assert one(turn_down(charging, more.lines[-1].id), "supplies").net == Decimal("3.00")


def test_supplies_of_parts_as_well(charging: Shift, ticket: TicketView) -> None:
    with_shop(charging, replace(CHARGING, supplies=Supplies(Decimal("2.5"), BOTH)))
    ticket = change_line(charging, ticket.lines[0].id, replace(KIT, unit_price="20"))
    line = one(ticket, "supplies")
    assert (line.description, line.net) == (
        "Shop supplies, 2.5% of parts and labour",
        Decimal("2.00"),
    )


def test_supplies_are_left_out_of_a_ticket_for_a_reason(
    charging: Shift, ticket: TicketView
) -> None:
    line = one(ticket, "supplies")
    with refused(charging, "why", "The reason is empty"):
        drop_line(charging, line.id)
    ticket = drop_line(charging, line.id, "agreed with the club")
    line = one(ticket, "supplies")
    assert (line.declined, line.left_out_because) == (True, "agreed with the club")
    assert ticket.totals.total == Decimal("78.40")
    ticket = add_line(charging, ticket.id, HOUR)
    assert ticket.totals.total == Decimal("138.40"), "it stays left out"
    ticket = offer_again(charging, line.id)
    assert (one(ticket, "supplies").net, one(ticket, "supplies").left_out_because) == (
        Decimal("6.00"),
        "",
    )


def test_the_owner_may_not_want_to_pay_for_supplies(charging: Shift, ticket: TicketView) -> None:
    line = one(ticket, "supplies")
    ticket = approve(charging, ticket.id, replace(SAYS, declined_line_ids=(line.id,)))
    assert ticket.approved == Decimal("78.40")
    assert "does not want" in one(ticket, "supplies").left_out_because


def test_supplies_cannot_be_typed_over(charging: Shift, ticket: TicketView) -> None:
    with refused(charging, "unit_price", "follow the rule in the settings"):
        change_line(charging, one(ticket, "supplies").id, LineEntry("fee", "Less", unit_price="1"))


def test_a_no_owes_no_more_for_supplies(charging: Shift, ticket: TicketView) -> None:
    ticket = decline(charging, ticket.id, SAYS)
    assert reckoned(ticket, "supplies") is None
    assert ticket.totals.total == Decimal("35.00"), "the diagnosis fee alone"
    ticket = drop_approval(charging, ticket.approvals[-1].id, "said yes after all")
    assert one(ticket, "supplies").net == Decimal("3.00")
    assert ticket.totals.total == Decimal("81.40")


def test_work_without_charge_needs_no_supplies(charging: Shift) -> None:
    ticket = at_stage(charging, Stage.DIAGNOSIS)
    ticket = add_line(charging, ticket.id, replace(HOUR, reason="comeback"))
    assert reckoned(ticket, "supplies") is None


def test_a_ticket_begun_before_the_rule_follows_it_with_its_next_change(shift: Shift) -> None:
    ticket = at_stage(shift, Stage.APPROVAL)
    assert reckoned(ticket, "supplies") is None
    save_shop(shift, replace(SHOP, supplies=Supplies(Decimal(10), LABOUR)))
    assert reckoned(open_ticket(shift, ticket.id), "supplies") is None
    assert one(add_line(shift, ticket.id, HOUR), "supplies").net == Decimal("12.00")
    save_shop(shift, SHOP)
    assert reckoned(add_line(shift, ticket.id, HOUR), "supplies") is None


def test_once_invoiced_nothing_is_worked_out_anew(charging: Shift) -> None:
    ticket = at_stage(charging, Stage.PICKUP)
    issue_invoice(charging, ticket.id)
    with_shop(charging, replace(CHARGING, supplies=Supplies(Decimal(50), LABOUR)))
    with refused(charging, "stage", "Invoice 5001 stands"):
        add_line(charging, ticket.id, HOUR)
    with refused(charging, "stage", "can't be changed any more"):
        charge_disposal(charging, ticket.id)
    assert one(open_ticket(charging, ticket.id), "supplies").net == Decimal("3.00")


def test_a_discount_in_percent_follows_the_lines(charging: Shift, ticket: TicketView) -> None:
    ticket = add_line(charging, ticket.id, LineEntry("discount", "Neighbour", unit_price="10 %"))
    line = one(ticket, "discount")
    assert (line.net, line.percent, line.price_typed) == (
        Decimal("-8.14"),
        Decimal(10),
        "10 %",
    )
    assert ticket.totals.total == Decimal("73.26")
    ticket = turn_down(charging, ticket.lines[0].id)
    assert (one(ticket, "discount").net, ticket.totals.total) == (
        Decimal("-6.30"),
        Decimal("56.70"),
    )
    ticket = change_line(
        charging, line.id, LineEntry("discount", "Neighbour", unit_price="5", reason="asked")
    )
    assert (ticket.lines[-1].net, ticket.lines[-1].reckoned) == (Decimal("-5.00"), "")


def test_the_whole_bill_may_be_given_away(charging: Shift, ticket: TicketView) -> None:
    ticket = add_line(charging, ticket.id, LineEntry("discount", "Ours", unit_price="100%"))
    assert ticket.totals.total == 0
    assert add_line(charging, ticket.id, HOUR).totals.total == 0


@pytest.mark.parametrize(
    ("entry", "field", "words"),
    [
        (LineEntry("discount", "x", unit_price="0 %"), "unit_price", "0 % takes nothing off"),
        (LineEntry("discount", "x", unit_price="101 %"), "unit_price", "is not a rate"),
        (LineEntry("discount", "x", "2", unit_price="5 %"), "quantity", "given once"),
        (LineEntry("discount", "x", unit_price="5", off="1"), "off", "itself what comes off"),
    ],
)
def test_what_is_wrong_with_a_discount_is_said(
    charging: Shift, ticket: TicketView, entry: LineEntry, field: str, words: str
) -> None:
    with refused(charging, field, words):
        add_line(charging, ticket.id, entry)


def test_the_disposal_fee_is_put_on_by_hand_and_follows_the_settings(
    charging: Shift, ticket: TicketView
) -> None:
    ticket = kept(charging, charge_disposal(charging, ticket.id))
    assert one(ticket, "disposal").net == Decimal("8.00")
    with refused(charging, "lines", "on this ticket already"):
        charge_disposal(charging, ticket.id)
    with_shop(charging, replace(CHARGING, disposal_fee=Decimal("9.50")))
    ticket = add_line(charging, ticket.id, HOUR)
    assert one(ticket, "disposal").net == Decimal("9.50")
    ticket = drop_line(charging, one(ticket, "disposal").id)
    assert reckoned(ticket, "disposal") is None


def test_a_shop_without_a_disposal_fee_says_so(shift: Shift) -> None:
    ticket = at_stage(shift, Stage.APPROVAL)
    with refused(shift, "lines", "no disposal fee: set one in the settings"):
        charge_disposal(shift, ticket.id)


FEE = LineEntry("fee", "Finding the trouble", unit_price="35")
LOOKING = LineEntry("labour", "Looking for it", "0.5", reason="diagnosis")


@pytest.fixture
def crediting(shift: Shift) -> Shift:
    """The same shop, which credits the diagnosis with the repair."""
    save_shop(shift, replace(SHOP, tax_rates=(), credit_diagnosis=True))
    return shift


def test_the_diagnosis_is_credited_with_a_repair(crediting: Shift) -> None:
    ticket = at_stage(crediting, Stage.APPROVAL)
    add_line(crediting, ticket.id, FEE)
    ticket = add_line(crediting, ticket.id, LOOKING)
    fee, looking = ticket.lines[-2:]
    assert (fee.net, fee.off, fee.off_typed) == (ZERO, Decimal("35.00"), "100 %")
    assert (looking.net, looking.off) == (ZERO, Decimal("30.00"))
    assert ticket.totals.total == Decimal("78.40")
    approved = approve(crediting, ticket.id, SAYS)
    assert approved.approved == Decimal("78.40")


def test_the_diagnosis_is_owed_with_a_no(crediting: Shift) -> None:
    ticket = at_stage(crediting, Stage.APPROVAL)
    ticket = add_line(crediting, ticket.id, FEE)
    ticket = decline(crediting, ticket.id, SayEntry("Mara Quill", "in person"))
    assert [line.net for line in ticket.lines if not line.declined] == [Decimal("35.00")]
    assert ticket.totals.total == ticket.may_charge == Decimal("35.00")
    ticket = drop_approval(crediting, ticket.approvals[-1].id, "said yes")
    assert ticket.totals.total == Decimal("78.40")


def test_the_diagnosis_alone_is_not_credited(crediting: Shift) -> None:
    ticket = go_on(crediting, at_stage(crediting, Stage.INTAKE).id, Stage.DIAGNOSIS)
    ticket = add_line(crediting, ticket.id, FEE)
    assert ticket.totals.total == Decimal("35.00")
    ticket = add_line(crediting, ticket.id, KIT)
    assert ticket.totals.total == Decimal("18.40")
    ticket = turn_down(crediting, ticket.lines[-1].id)
    assert ticket.totals.total == Decimal("35.00")
