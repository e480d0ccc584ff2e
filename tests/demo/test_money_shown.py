"""The demo shows the money: ways out, baskets, orders, labour, payments, each explained."""

from datetime import timedelta
from decimal import Decimal

import pytest

from shopdesk.job.buying.baskets import baskets_for_shop, buying
from shopdesk.job.buying.views import BY_DAY, CHEAPEST, SOONEST
from shopdesk.job.labour.clock import running_of
from shopdesk.job.labour.flat_times import flat_times
from shopdesk.job.labour.report import clocked_against_billed, flat_against_clocked
from shopdesk.job.opened import open_ticket
from shopdesk.job.options.worked_out import options_for
from shopdesk.job.parts.catalogue import part_numbered
from shopdesk.job.parts.cost_history import cost_history
from shopdesk.job.parts.find import find_parts
from shopdesk.job.parts.order_views import list_orders
from shopdesk.job.parts.reorder import reorder_list
from shopdesk.job.reports.open_balances import open_balances
from shopdesk.job.reports.till import till
from shopdesk.job.shift import Shift
from shopdesk.job.stages import Stage
from shopdesk.job.views import TicketView
from shopdesk.pricing.totals import LineKind
from shopdesk.records.tables import Line, StockMove, Supplier, Ticket, WriteOff
from tests.demo.conftest import TODAY

YEARS_AGO = TODAY - timedelta(days=1500)


def _of(shift: Shift, owner: str, **wanted: object) -> TicketView:
    """Return the newest ticket of an owner."""
    with shift.records.reading():
        rows = Ticket.select().filter(customer__name=owner, **wanted).order_by(Ticket.id.desc())
        newest = rows.first().id
    return open_ticket(shift, newest)


@pytest.mark.parametrize(
    ("owner", "way"),
    [
        ("Marigold Fensby", "kit"),
        ("Leopold Hathersedge", "failed"),
        ("Clementine Ashgrove-Rudd", "another"),
    ],
)
def test_a_ticket_waits_where_this_way_is_the_best_one(shift: Shift, owner: str, way: str) -> None:
    ticket = _of(shift, owner)
    assert ticket.stage is Stage.APPROVAL
    assert ticket.estimates, "the ways were put before the owner"
    seen = options_for(shift, ticket.id)
    (best,) = [one for one in seen.options if one.suggested]
    assert best.key == way
    assert best.title in seen.suggestion
    assert all(one.words for one in seen.options)


def test_the_kit_is_better_though_not_all_of_it_is_needed(shift: Shift) -> None:
    ticket = _of(shift, "Marigold Fensby")
    seen = options_for(shift, ticket.id)
    failed, kit = seen.option("failed"), seen.option("kit")
    assert failed is not None
    assert kit is not None
    assert kit.stands
    assert kit.price_now > failed.price_now
    assert kit.expected < failed.expected + failed.later
    sound = [one.title for one in ticket.findings if "fuel line" in one.title.lower()]
    assert sound, "the lines were looked at"
    assert "fuel line" in kit.words


def test_the_single_part_is_better_beside_a_dearer_kit(shift: Shift) -> None:
    seen = options_for(shift, _of(shift, "Leopold Hathersedge").id)
    failed, kit = seen.option("failed"), seen.option("kit")
    assert failed is not None
    assert kit is not None
    assert failed.expected < kit.expected


def test_another_machine_is_better_than_ours_and_than_the_mechanics_own_way(shift: Shift) -> None:
    seen = options_for(shift, _of(shift, "Clementine Ashgrove-Rudd").id)
    (own,) = [one for one in seen.options if one.own_id]
    assert own.title == "Used cylinder and piston"
    assert "looked over" in own.words
    assert seen.price_new == Decimal("189.00")


def test_three_baskets_differ_and_each_says_when(shift: Shift) -> None:
    ticket = _of(shift, "Barnaby Thistlecombe")
    assert ticket.stage is Stage.PARTS
    seen = buying(shift, ticket.id)
    cheapest, soonest, by_day = (seen.basket(aim) for aim in (CHEAPEST, SOONEST, BY_DAY))
    assert cheapest is not None
    assert soonest is not None
    assert by_day is not None
    totals = [one.total for one in (cheapest, by_day, soonest)]
    assert None not in totals
    assert totals == sorted(set(totals), key=lambda total: total or 0)
    days = [one.ready_on for one in (soonest, by_day, cheapest)]
    assert days == sorted(set(days), key=str)
    assert any("kit" in note.lower() for note in cheapest.notes)


def test_one_basket_for_the_whole_shop_shares_postage(shift: Shift) -> None:
    whole = baskets_for_shop(shift).basket(CHEAPEST)
    alone = buying(shift, _of(shift, "Clement Ivywood").id).basket(CHEAPEST)
    assert whole is not None
    assert alone is not None
    (paid,) = alone.purchases
    (shared,) = [one for one in whole.purchases if one.supplier == paid.supplier]
    assert "+ $6.00 postage" in paid.words
    assert "postage free" in shared.words


def test_the_catalogue_is_full_and_counted(shift: Shift) -> None:
    rows = find_parts(shift, "", most=500)
    assert 60 <= len(rows) <= 90
    assert 8 <= sum(row.is_kit for row in rows) <= 10
    assert {row.condition for row in rows} == {"new", "used"}
    with shift.records.reading():
        assert 4 <= Supplier.select().count() <= 6
        why = {row.why for row in StockMove.select()}
    assert why >= {"counted", "received", "fitted", "sold over the counter", "kit opened"}


def test_some_parts_run_low(shift: Shift) -> None:
    low = reorder_list(shift)
    assert len(low) >= 3
    assert all(row.supplier for row in low)


def test_a_part_tells_what_it_cost_over_the_years(shift: Shift) -> None:
    part = part_numbered(shift, "PL-6B")
    assert part is not None
    assert len({one.each for one in cost_history(shift, part.id)}) >= 2


def test_an_order_stands_in_each_state(shift: Shift) -> None:
    states = {row.state for row in list_orders(shift, closed=True)}
    assert states == {
        "being written",
        "ordered",
        "part received",
        "back-ordered",
        "received",
        "cancelled",
    }


def test_tickets_took_parts_of_the_catalogue(shift: Shift) -> None:
    with shift.records.reading():
        parts = list(Line.select().where(Line.kind == LineKind.PART))
    known = [line for line in parts if line.part_id is not None]
    assert len(known) > 0.95 * len(parts)
    assert len(known) > 180


def test_estimated_and_clocked_differ_believably(shift: Shift) -> None:
    tickets = clocked_against_billed(shift, YEARS_AGO, TODAY)
    timed = [one for one in tickets if one.clocked_seconds and one.billed]
    assert len(timed) >= 30
    over = [one for one in timed if one.clocked > one.billed]
    assert 0.2 < len(over) / len(timed) < 0.95
    assert all(one.clocked < 4 * one.billed + 1 for one in timed)


def test_set_times_were_charged_and_clocked(shift: Shift) -> None:
    assert {flat.rate for flat in flat_times(shift)} == {"", "Electrical"}
    assert len(flat_times(shift)) == 4
    assert sum(one.jobs for one in flat_against_clocked(shift, YEARS_AGO, TODAY)) >= 1


def test_a_clock_was_left_running_on_the_bench(shift: Shift) -> None:
    running = running_of(shift, "Bram")
    assert running is not None
    assert open_ticket(shift, running.ticket_id).stage is Stage.REPAIR


def test_one_ticket_was_charged_by_time_and_material(shift: Shift) -> None:
    ticket = _of(shift, "Zebulon Harker-Pyke", outcome="mended")
    clocked = [line for line in ticket.lines if line.reckoned == "clock"]
    assert {line.rate for line in clocked} == {"", "Electrical"}
    assert all(spell.by_hand for spell in ticket.spells)
    assert any(line.kind is LineKind.SUBLET for line in ticket.lines)
    assert {payment.method for payment in ticket.payments} == {"cash", "card"}


def test_the_diagnosis_was_credited_or_is_owed(shift: Shift) -> None:
    with shift.records.reading():
        rows = list(Line.select().where(Line.reason == "diagnosis"))
    assert any(line.off == line.unit_price for line in rows), "credited with the repair"
    assert any(not line.off for line in rows), "owed after a no"


def test_discounts_stand_on_a_line_and_on_the_whole_bill(shift: Shift) -> None:
    with shift.records.reading():
        lines = list(Line.select())
    assert any(line.off for line in lines if line.kind == LineKind.PART)
    assert any(line.percent for line in lines if line.kind == LineKind.DISCOUNT)


def test_what_is_owed_is_of_several_ages_and_one_debt_was_given_up(shift: Shift) -> None:
    owed = [one for one in open_balances(shift, TODAY).owed if one.agreed]
    assert len(owed) >= 3
    assert len({one.days // 30 for one in owed}) >= 3
    assert {open_ticket(shift, one.ticket_id).stage for one in owed} == {Stage.CLOSED}
    with shift.records.reading():
        (debt,) = WriteOff.select()
        assert debt.amount > 0
        assert "moved away" in debt.why


def test_a_part_of_a_bill_was_given_back(shift: Shift) -> None:
    with shift.records.reading():
        ids = [row.id for row in Ticket.select().where(Ticket.stage == Stage.CLOSED)]
    tickets = [open_ticket(shift, one) for one in ids]
    (ticket,) = [
        one
        for one in tickets
        if any(bill.credited_amount and not bill.credited for bill in one.invoices)
    ]
    assert ticket.balance == 0
    assert any(payment.amount < 0 for payment in ticket.payments)


def test_the_till_was_counted_and_was_out_once(shift: Shift) -> None:
    days = [till(shift, TODAY - timedelta(days=back)) for back in range(1, 20)]
    counted = [one for one in days if one.counted is not None]
    assert len(counted) >= 8
    out = [one for one in counted if one.difference]
    assert 1 <= len(out) <= 3
    assert any(one.note for one in out)
