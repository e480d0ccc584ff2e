"""Turnaround, promises, the queue, causes and estimates, on small shops worked out by hand."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest

from shopdesk.job.diagnosis import record_observation
from shopdesk.job.labour.clock import TimeEntry, add_time
from shopdesk.job.lines import LineEntry, add_line
from shopdesk.job.moving import go_on, send_back
from shopdesk.job.payments import take_payment
from shopdesk.job.pickup import credit_invoice, hand_over, issue_invoice
from shopdesk.job.repair import do_line
from shopdesk.job.reports import causes, estimates, promises, queue_now, turnaround
from shopdesk.job.reports.causes import Quarter, season_of
from shopdesk.job.reports.middle import ENOUGH
from shopdesk.job.reports.period import Period
from shopdesk.job.reports.report import Report
from shopdesk.job.shift import Shift, save_shop
from shopdesk.job.stages import Stage
from tests.job.mended import mended
from tests.job.reports_shop import mended_in
from tests.job.workshop import INTAKE, SAW, SHOP, Clock, another, at_stage

YEAR = Period(date(2031, 1, 1), date(2031, 12, 31))


def cells(report: Report, table: int = 0) -> list[tuple[object, ...]]:
    return [row.cells for row in report.tables[table].rows]


def test_half_and_nine_of_ten_are_told_of_enough_tickets(shift: Shift, clock: Clock) -> None:
    for number, days in enumerate((1, 2, 3, 4, 10)):
        mended_in(shift, clock, number, days, until_looked_at=0.5)
    looked, agreed, ready, home = cells(turnaround.report(shift, YEAR))
    assert looked == ("looked at", 5, Decimal("0.5"), Decimal("0.5"), Decimal("0.5"))
    assert agreed[:3] == ("agreed to", 5, Decimal("3.0"))
    assert ready == ("ready", 5, Decimal("3.0"), Decimal("7.6"), Decimal("10.0"))
    assert home[1:3] == (5, Decimal("3.0"))


def test_of_few_no_percentile_is_told_but_each_case(shift: Shift, clock: Clock) -> None:
    tickets = [mended_in(shift, clock, number, 2) for number in range(ENOUGH - 1)]
    report = turnaround.report(shift, YEAR)
    assert cells(report)[2] == ("ready", 4, None, None, Decimal("2.0"))
    assert report.pictures == ()
    listed = report.tables[-1]
    assert listed.title == "All of them: fewer than 5, one by one"
    assert [row.ticket_id for row in listed.rows] == [ticket.id for ticket in tickets]


def test_a_ticket_that_went_back_counts_when_it_was_ready_at_last(
    shift: Shift, clock: Clock
) -> None:
    ticket = at_stage(shift, Stage.PICKUP)
    clock.forward(3)
    send_back(shift, ticket.id, Stage.REPAIR, "it stalls")
    clock.forward(2)
    go_on(shift, ticket.id, Stage.PICKUP)
    clock.forward(1)
    bill = issue_invoice(shift, ticket.id)
    take_payment(shift, ticket.id, str(bill.balance), "card")
    hand_over(shift, ticket.id)
    (row,) = turnaround.report(shift, YEAR).tables[-1].rows
    assert row.cells[2:] == (Decimal("5.0"), Decimal("6.0"))


def test_reopening_for_its_papers_makes_it_ready_no_second_time(shift: Shift, clock: Clock) -> None:
    ticket = at_stage(shift, Stage.CLOSED)
    clock.forward(4)
    send_back(shift, ticket.id, Stage.PICKUP, "wrong price")
    credit_invoice(shift, ticket.id, "wrong price")
    bill = issue_invoice(shift, ticket.id)
    if bill.balance:
        take_payment(shift, ticket.id, str(bill.balance), "card")
    hand_over(shift, ticket.id)
    (row,) = turnaround.report(shift, YEAR).tables[-1].rows
    assert row.cells[2] == Decimal("0.0")


def test_an_empty_shop_has_nothing_to_tell(shift: Shift) -> None:
    for report in (turnaround, promises, causes, estimates):
        made = report.report(shift, YEAR)
        assert made.pictures == ()
        assert all(not row.cells[1] for row in made.tables[0].rows)


def test_promises_kept_and_late_by_month(shift: Shift, clock: Clock) -> None:
    mended_in(shift, clock, 1, 2, promised="12 apr 2031")
    mended_in(shift, clock, 2, 2, promised="9 apr 2031")
    mended_in(shift, clock, 3, 40, promised="20 apr 2031")
    report = promises.report(shift, YEAR)
    april, may, whole = cells(report)
    assert april == ("Apr 2031", 2, 1, Decimal("50.0"), None, 2)
    assert may == ("May 2031", 1, 0, Decimal("0.0"), None, 31)
    assert whole == ("All", 3, 1, Decimal("33.3"), None, 31)
    assert [row.cells[5] for row in report.tables[1].rows] == [31, 2]


def test_the_queue_is_of_now(shift: Shift) -> None:
    another(shift, 1)
    ticket = at_stage(shift, Stage.REPAIR)
    report = queue_now.report(shift, YEAR)
    assert cells(report) == [
        ("Intake", 1, 1, Decimal(1)),
        ("Repair", 1, 0, Decimal(1)),
        ("All", 2, 1, Decimal(2)),
    ]
    assert "2 machines before it, about 2 h," in report.notes[0]
    assert "a ticket with no work on it yet counts as 1 h" in report.basis
    assert ticket.stage is Stage.REPAIR


def test_a_machine_in_pickup_waits_for_its_owner_not_for_the_bench(shift: Shift) -> None:
    at_stage(shift, Stage.PICKUP)
    report = queue_now.report(shift, YEAR)
    assert (cells(report), report.pictures) == ([], ())
    assert "no machine before it" in report.notes[0]


def test_a_machine_taken_in_today_comes_after_the_queue(shift: Shift) -> None:
    ticket = at_stage(shift, Stage.DIAGNOSIS)
    before = queue_now.if_taken_in_today(shift)
    add_line(shift, ticket.id, LineEntry("labour", "Rebuild", "40", reason="failed"))
    after = queue_now.if_taken_in_today(shift)
    assert after.ready_on > before.ready_on
    assert "1 machine before it, about 40 h" in after.words


def test_the_days_go_by_what_was_ticked_off_over_eight_weeks(shift: Shift, clock: Clock) -> None:
    mended(shift, 1, hours="3")
    clock.forward(50)
    mended(shift, 2, hours="160")
    clock.forward(10)
    another(shift, 3, replace(INTAKE, promised_on="20 jun 2031"))  # 4 h a day from Fri 6 Jun
    report = queue_now.report(shift, YEAR)
    assert report.notes == (
        "A machine taken in today: 1 machine before it, about 1 h, then about 1 h of its own, "
        "at 20.0 h a week, as ticked off over the last 8 weeks: Fri 6 Jun 2031.",
        "At that pace the queue lasts 0.1 weeks.",
    )
    assert f"A machine taken in today: {queue_now.if_taken_in_today(shift).words}." in report.notes


def test_without_eight_weeks_of_work_the_days_go_by_the_hours_set(
    shift: Shift, clock: Clock
) -> None:
    mended(shift, 1, hours="16")
    clock.forward(50)
    mended(shift, 2, hours="16")
    clock.forward(1)
    first, second = queue_now.report(shift, YEAR).notes
    assert "at 6 h a working day, as set for the shop: Wed 28 May 2031" in first
    assert "too little was ticked off over the last 8 weeks" in second


@pytest.mark.parametrize("lately", [0, 100])
def test_a_bench_with_little_to_do_is_not_taken_for_a_slow_one(
    shift: Shift, clock: Clock, lately: int
) -> None:
    mended(shift, 1, hours="16")
    clock.forward(50)
    if lately:
        mended(shift, 2, hours=str(lately))
    clock.forward(10)
    assert "as set for the shop" in queue_now.report(shift, YEAR).notes[0]


@pytest.mark.parametrize(
    ("month", "north", "south"),
    [
        (1, Quarter.WINTER, Quarter.SUMMER),
        (2, Quarter.WINTER, Quarter.SUMMER),
        (3, Quarter.SPRING, Quarter.AUTUMN),
        (6, Quarter.SUMMER, Quarter.WINTER),
        (11, Quarter.AUTUMN, Quarter.SPRING),
        (12, Quarter.WINTER, Quarter.SUMMER),
    ],
)
def test_seasons_are_those_of_the_shops_half_of_the_earth(
    month: int, north: Quarter, south: Quarter
) -> None:
    assert season_of(month, SHOP) is north
    assert season_of(month, replace(SHOP, southern=True)) is south


def test_causes_stand_by_kind_and_season(shift: Shift, clock: Clock) -> None:
    mended(shift, 1, "bad-plug")
    mended(shift, 2, "bad-plug")
    mended(shift, 3, "air-filter", SAW)
    clock.forward(90)
    mended(shift, 4, "bad-plug")
    trimmers, saws, parts = causes.report(shift, YEAR).tables
    assert (trimmers.title, saws.title) == ("String trimmer", "Chain saw")
    assert trimmers.rows[0].cells[1:] == (2, 1, None, None, 3)
    assert saws.rows[0].cells[1:] == (1, None, None, None, 1)
    assert parts.rows == ()


def test_the_parts_that_went_in_are_counted(shift: Shift) -> None:
    at_stage(shift, Stage.CLOSED)
    assert causes.report(shift, YEAR).tables[-1].rows[0].cells == ("Carburettor kit", Decimal(1), 1)


def test_estimates_stand_against_the_clock(shift: Shift, clock: Clock) -> None:
    ticket = at_stage(shift, Stage.REPAIR)
    add_time(shift, ticket.id, TimeEntry("90 min"))
    for line in ticket.lines:
        do_line(shift, line.id)
    record_observation(shift, ticket.id, "Run", "Ran 10 minutes", "pass", phase="proof")
    go_on(shift, ticket.id, Stage.PICKUP)
    issue_invoice(shift, ticket.id)
    report = estimates.report(shift, YEAR)
    assert cells(report)[0] == (
        "string trimmer",
        1,
        Decimal(1),
        Decimal("1.5"),
        Decimal("150.0"),
    )
    assert cells(report, 1)[0][0] == "not said"
    assert report.tables[2].rows[0].ticket_id == ticket.id


def test_days_are_the_shops(shift: Shift, clock: Clock) -> None:
    save_shop(shift, replace(SHOP, zone="Pacific/Auckland"))
    mended_in(shift, clock, 1, 0, promised="8 apr 2031")
    (april, *_) = cells(promises.report(shift, YEAR))
    assert april[:3] == ("Apr 2031", 1, 1)
