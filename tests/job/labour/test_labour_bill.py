"""Charging time at the bench: a line of the clock beside lines whose hours were agreed."""

from collections.abc import Callable
from dataclasses import replace
from decimal import Decimal
from itertools import count

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from shopdesk.job.audit import audit
from shopdesk.job.labour.bill import (
    bill_time,
    count_toward,
    left_to_charge,
    own_hours,
)
from shopdesk.job.labour.clock import TimeEntry, change_time, drop_time, start_clock
from shopdesk.job.lines import add_line, change_line, drop_line, turn_down
from shopdesk.job.opened import open_ticket
from shopdesk.job.pickup import credit_invoice, issue_invoice
from shopdesk.job.reasons import Reason
from shopdesk.job.shift import Shift, save_shop
from shopdesk.job.shop import LabourRate
from shopdesk.job.stages import Stage
from shopdesk.job.views import TicketView
from shopdesk.pricing.labour import TenthRule, billed_hours
from tests.job.labour.at_work import worked
from tests.job.mended import on_the_bench
from tests.job.workshop import (
    HOUR,
    KIT,
    SHOP,
    TRIMMER,
    Clock,
    at_stage,
    each,
    kept,
    refused,
    taken_in,
)

RATED = replace(SHOP, labour_rates=(LabourRate("Electrical", Decimal("85.00")),))


def test_time_makes_one_line_rounded_once(shift: Shift) -> None:
    ticket = worked(shift, on_the_bench(shift, 1), "2 min", "2 min", "23 min")
    ticket = kept(shift, bill_time(shift, ticket.id))
    (line,) = ticket.lines
    assert (str(line.kind), line.description, line.reason) == (
        *("labour", "Repair, time at the bench"),
        "asked",
    )
    assert (line.quantity, line.unit_price, line.net) == (
        *(Decimal("0.5"), Decimal("60.00")),
        Decimal("30.00"),
    )
    assert {spell.line_id for spell in ticket.spells} == {line.id}


def test_the_shop_says_which_tenth(shift: Shift) -> None:
    save_shop(shift, replace(SHOP, tenths=TenthRule.UP))
    ticket = worked(shift, on_the_bench(shift, 1), "31 min")
    assert bill_time(shift, ticket.id).lines[0].quantity == Decimal("0.6")


def test_each_rate_has_its_line_and_its_price(shift: Shift) -> None:
    save_shop(shift, RATED)
    ticket = worked(shift, on_the_bench(shift, 1), "30 min")
    ticket = worked(shift, ticket, "1:00", rate="Electrical")
    ticket = bill_time(shift, ticket.id)
    told = [(line.description, line.rate, line.net) for line in ticket.lines]
    assert told == [
        ("Repair, time at the bench", "", Decimal("30.00")),
        ("Repair, time at the bench (Electrical)", "Electrical", Decimal("85.00")),
    ]


def test_one_rate_alone_may_be_charged(shift: Shift) -> None:
    save_shop(shift, RATED)
    ticket = worked(shift, on_the_bench(shift, 1), "30 min")
    ticket = worked(shift, ticket, "1:00", rate="Electrical")
    assert [line.rate for line in bill_time(shift, ticket.id, rate="electrical").lines] == [
        "Electrical"
    ]
    assert len(bill_time(shift, ticket.id, rate="").lines) == 2


def test_a_rate_that_is_no_more_is_said(shift: Shift) -> None:
    save_shop(shift, RATED)
    ticket = worked(shift, on_the_bench(shift, 1), "1:00", rate="Electrical")
    save_shop(shift, SHOP)
    with refused(shift, "rate", "Electrical"):
        bill_time(shift, ticket.id)


def test_more_time_renews_the_line(shift: Shift) -> None:
    ticket = bill_time(shift, worked(shift, on_the_bench(shift, 1), "20 min").id)
    assert ticket.lines[0].quantity == Decimal("0.3")
    ticket = bill_time(shift, worked(shift, ticket, "20 min").id)
    (line,) = kept(shift, ticket).lines
    assert line.quantity == Decimal("0.7")


def test_hours_typed_by_hand_stay_as_they_are(shift: Shift) -> None:
    ticket = add_line(shift, on_the_bench(shift, 1).id, HOUR)
    ticket = bill_time(shift, worked(shift, ticket, "2:00").id)
    assert [line.quantity for line in ticket.lines] == [Decimal(1), Decimal(2)]
    assert own_hours(ticket) == (ticket.lines[0].id,)
    assert own_hours(ticket, "diagnosis") == ()


def test_the_clocks_line_changed_by_hand_is_the_hands_from_then_on(shift: Shift) -> None:
    ticket = bill_time(shift, worked(shift, on_the_bench(shift, 1), "1:00").id)
    ticket = change_line(shift, ticket.lines[0].id, replace(HOUR, quantity="0.8"))
    ticket = bill_time(shift, worked(shift, ticket, "30 min").id)
    assert [line.quantity for line in ticket.lines] == [Decimal("0.8"), Decimal("0.5")]


def test_the_line_has_the_why_of_what_is_on_the_ticket(shift: Shift) -> None:
    ticket = on_the_bench(shift, 1, checks=[("compression", "80")])
    finding = ticket.findings[0].id
    alone = bill_time(shift, worked(shift, ticket, "30 min").id)
    assert (alone.lines[0].reason, alone.lines[0].finding_id) == ("failed", finding)
    drop_line(shift, alone.lines[0].id)
    add_line(shift, ticket.id, replace(KIT, reason="worn", finding_id=finding))
    line = bill_time(shift, ticket.id).lines[-1]
    assert (line.reason, line.finding_id) == ("worn", finding)
    said = bill_time(shift, worked(shift, ticket, "1:00", work="diagnosis").id, "diagnosis")
    assert (said.lines[-1].reason, said.lines[-1].finding_id) == ("diagnosis", None)
    assert said.lines[-1].description == "Finding the cause, time at the bench"


def test_a_reason_may_be_given_and_our_own_comeback_costs_nothing(shift: Shift) -> None:
    ticket = worked(shift, on_the_bench(shift, 1), "1:00")
    line = bill_time(shift, ticket.id, reason=Reason.COMEBACK).lines[0]
    assert (line.net, line.value) == (Decimal("0.00"), Decimal("60.00"))


def test_what_cant_be_charged_is_said(shift: Shift, clock: Clock) -> None:
    ticket = on_the_bench(shift, 1)
    with refused(shift, "time", "No time for the repair is left"):
        bill_time(shift, ticket.id)
    with refused(shift, "work", "diagnosis, repair"):
        bill_time(shift, ticket.id, "polish")
    ticket = worked(shift, ticket, "2 min")
    with refused(shift, "time", "2 min at the bench rate come to 0.0 h"):
        bill_time(shift, ticket.id)
    start_clock(shift, ticket.id, "repair")
    with refused(shift, "time", "Sam’s clock still runs here: stop it first (F11)"):
        bill_time(shift, ticket.id)
    clock.forward(1)
    start_clock(shift, on_the_bench(shift, 2).id)
    with refused(shift, "time", "Sam’s clock ran on for over 10 h"):
        bill_time(shift, ticket.id)


def test_time_counts_toward_hours_that_were_agreed_and_nothing_more_is_charged(
    shift: Shift,
) -> None:
    ticket = add_line(shift, on_the_bench(shift, 1).id, HOUR)
    ticket = worked(shift, ticket, "1:20", "5 min")
    before = ticket.totals
    ticket = kept(shift, count_toward(shift, ticket.lines[0].id))
    assert ticket.totals == before
    assert {spell.line_id for spell in ticket.spells} == {ticket.lines[0].id}
    with refused(shift, "time", "No time for the repair is left"):
        bill_time(shift, ticket.id)
    change_time(shift, ticket.spells[0].id, TimeEntry("1:30"))
    assert open_ticket(shift, ticket.id).lines[0].quantity == 1


def test_time_counts_toward_labour_with_hours_of_its_own_only(shift: Shift) -> None:
    ticket = add_line(shift, on_the_bench(shift, 1).id, KIT)
    ticket = bill_time(shift, worked(shift, ticket, "30 min").id)
    worked(shift, ticket, "30 min")
    for line in ticket.lines:
        with refused(shift, "line", "no hours of its own"):
            count_toward(shift, line.id)


def test_the_line_follows_the_time_that_is_put_right(shift: Shift) -> None:
    save_shop(shift, RATED)
    ticket = bill_time(shift, worked(shift, on_the_bench(shift, 1), "1:00", "30 min").id)
    first, second = ticket.spells
    ticket = change_time(shift, first.id, TimeEntry("1:30", work="repair"))
    assert ticket.lines[0].quantity == Decimal("2.0")
    ticket = change_time(shift, second.id, TimeEntry("30 min", work="repair", rate="Electrical"))
    assert ticket.lines[0].quantity == Decimal("1.5")
    assert ticket.spells[1].line_id is None
    assert kept(shift, drop_time(shift, first.id, "not this ticket")).lines == ()
    assert audit_is_sound(shift)


def test_a_line_that_is_dropped_lets_go_of_its_time(shift: Shift) -> None:
    ticket = bill_time(shift, worked(shift, on_the_bench(shift, 1), "1:00").id)
    ticket = kept(shift, drop_line(shift, ticket.lines[0].id, "on the house"))
    assert [spell.line_id for spell in ticket.spells] == [None]
    assert audit_is_sound(shift)
    assert len(bill_time(shift, ticket.id).lines) == 1


def test_a_line_that_is_not_wanted_is_left_alone_by_later_time(shift: Shift) -> None:
    ticket = bill_time(shift, worked(shift, on_the_bench(shift, 1), "1:00").id)
    turn_down(shift, ticket.lines[0].id)
    ticket = bill_time(shift, worked(shift, ticket, "30 min").id)
    assert [(line.quantity, line.declined) for line in ticket.lines] == [
        (Decimal("1.0"), True),
        (Decimal("0.5"), False),
    ]


def test_once_invoiced_the_time_stays_until_the_invoice_is_credited(shift: Shift) -> None:
    ticket = at_stage(shift, Stage.PICKUP)
    hour = ticket.lines[-1].id
    worked(shift, ticket, "30 min")
    ticket = count_toward(shift, hour)
    issue_invoice(shift, ticket.id)
    worked(shift, ticket, "10 min")
    for action in each(
        lambda: bill_time(shift, ticket.id),
        lambda: change_time(shift, ticket.spells[0].id, TimeEntry("1:00")),
        lambda: drop_time(shift, ticket.spells[0].id, "no"),
        lambda: count_toward(shift, hour),
    ):
        with refused(shift, "stage", "Invoice 5001 stands"):
            action()
    credit_invoice(shift, ticket.id, "wrong hours")
    assert change_time(shift, ticket.spells[0].id, TimeEntry("1:00")).spells[0].seconds == 3600


def test_time_is_left_to_charge_where_no_hours_were_agreed(shift: Shift) -> None:
    ticket = worked(shift, on_the_bench(shift, 1), "30 min")
    ticket = worked(shift, ticket, "10 min", work="diagnosis")
    assert left_to_charge(ticket) == 1800
    assert left_to_charge(bill_time(shift, ticket.id)) == 0
    assert left_to_charge(worked(shift, ticket, "5 min")) == 300
    assert left_to_charge(add_line(shift, ticket.id, HOUR)) == 0


def test_a_closed_ticket_is_charged_nothing_more(shift: Shift) -> None:
    ticket = at_stage(shift, Stage.CLOSED)
    worked(shift, ticket, "30 min")
    with refused(shift, "stage", "closed"):
        bill_time(shift, ticket.id)


def test_more_hours_than_were_agreed_stop_the_invoice_until_a_new_yes(shift: Shift) -> None:
    ticket = at_stage(shift, Stage.REPAIR)
    ticket = bill_time(shift, worked(shift, ticket, "3:00").id)
    (missing,) = (way.missing for way in ticket.ways_on if way.to is Stage.PICKUP)
    assert any("no approval recorded for" in words for words in missing)


def audit_is_sound(shift: Shift) -> bool:
    return not audit(shift).faults


@given(st.data())
@settings(max_examples=20, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_however_the_time_is_cut_up_the_line_is_the_sum_rounded_once(
    shift: Shift, again: Callable[[], TicketView], data: st.DataObject
) -> None:
    spells = data.draw(st.lists(st.integers(1, 600), min_size=1, max_size=6))
    rule = data.draw(st.sampled_from(TenthRule))
    save_shop(shift, replace(SHOP, tenths=rule))
    ticket = worked(shift, again(), *(f"{minutes} min" for minutes in spells))
    hours = billed_hours((minutes * 60 for minutes in spells), rule)
    if hours:
        (line,) = bill_time(shift, ticket.id).lines
        assert line.quantity == hours
    else:
        with refused(shift, "time", "too little to charge"):
            bill_time(shift, ticket.id)


@pytest.fixture
def again(shift: Shift) -> Callable[[], TicketView]:
    """Return what brings one more machine of the same owner in."""
    owner, numbers = on_the_bench(shift, 1).owner.id, count(2)
    return lambda: taken_in(shift, owner, replace(TRIMMER, serial=f"N-{next(numbers)}"))
