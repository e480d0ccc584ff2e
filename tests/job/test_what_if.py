"""What lines would come to is what they come to once they are on the ticket."""

from dataclasses import replace
from decimal import Decimal

import pytest

from shopdesk.job.lines import LineEntry, add_line, drop_line
from shopdesk.job.opened import open_ticket
from shopdesk.job.shift import Shift, save_shop
from shopdesk.job.shop import Shop, Supplies
from shopdesk.job.stages import Stage
from shopdesk.job.standing import find_ticket, rows_of
from shopdesk.job.what_if import PlainLine, price_lines
from shopdesk.pricing.totals import LineKind, Totals
from tests.job.workshop import HOUR, KIT, SHOP, at_stage, everything

SUPPLIES = Supplies(Decimal(5), frozenset({LineKind.LABOUR, LineKind.PART}), Decimal("3.00"))
SHOPS = {
    "plain": SHOP,
    "supplies": replace(SHOP, supplies=SUPPLIES),
    "included": replace(SHOP, supplies=SUPPLIES, tax_included=True),
    "credited": replace(SHOP, credit_diagnosis=True),
}
LINES = (
    PlainLine(LineKind.PART, Decimal(1), Decimal("18.40")),
    PlainLine(LineKind.LABOUR, Decimal("1.0"), Decimal("60.00")),
    PlainLine(LineKind.FEE, Decimal(1), Decimal("35.00"), reason="diagnosis"),
)


def thought(shift: Shift, ticket_id: int, lines: tuple[PlainLine, ...] = LINES) -> Totals:
    with shift.records.reading():
        return price_lines(rows_of(find_ticket(ticket_id)), shift.shop, lines)


@pytest.mark.parametrize("shop", SHOPS.values(), ids=SHOPS)
@pytest.mark.parametrize("discount", ["", "10 %"])
def test_it_is_to_the_cent_what_the_ticket_comes_to_with_them(
    shift: Shift, shop: Shop, discount: str
) -> None:
    save_shop(shift, shop)
    ticket = at_stage(shift, Stage.DIAGNOSIS)
    if discount:
        add_line(shift, ticket.id, LineEntry("discount", "Neighbour", unit_price=discount))
    before = everything(shift)
    found = thought(shift, ticket.id)
    assert everything(shift) == before, "nothing is kept"
    for entry in (KIT, HOUR, LineEntry("fee", "Looking", unit_price="35")):
        add_line(shift, ticket.id, entry)
    assert found == open_ticket(shift, ticket.id).totals


def test_supplies_left_out_of_the_ticket_are_not_counted(shift: Shift) -> None:
    save_shop(shift, SHOPS["supplies"])
    ticket = at_stage(shift, Stage.APPROVAL)
    assert thought(shift, ticket.id).fees == Decimal("38.00")
    supplies = next(line for line in ticket.lines if line.reckoned)
    drop_line(shift, supplies.id, "a neighbour")
    assert thought(shift, ticket.id).fees == Decimal("35.00")


def test_what_comes_off_a_line_is_counted(shift: Shift) -> None:
    ticket = at_stage(shift, Stage.APPROVAL)
    line = PlainLine(LineKind.PART, Decimal(2), Decimal("10.00"), Decimal("5.00"))
    assert thought(shift, ticket.id, (line,)).net == Decimal("15.00")
