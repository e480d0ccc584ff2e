"""Hours over some days, worked out by hand, and the edges of a day in the shop's zone."""

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from decimal import Decimal

from shopdesk.job.labour.bill import bill_time, count_toward
from shopdesk.job.labour.clock import TimeEntry, add_time, start_clock, stop_clock
from shopdesk.job.labour.flat_times import FlatTimeEntry, add_flat_time, flat_time_line
from shopdesk.job.labour.report import (
    clocked_against_billed,
    flat_against_clocked,
    hours_by_person,
)
from shopdesk.job.lines import change_line
from shopdesk.job.pickup import credit_invoice, issue_invoice
from shopdesk.job.shift import Shift
from shopdesk.job.stages import Stage
from tests.job.labour.at_work import finished
from tests.job.mended import closed, mended, on_the_bench
from tests.job.workshop import HOUR, Clock, another, at_stage

SEVENTH = date(2031, 4, 7)
"""The day of the clock, a Monday."""
DAYS = (SEVENTH, SEVENTH)


def test_each_person_has_their_hours(shift: Shift, clock: Clock) -> None:
    one, other = another(shift, 1), another(shift, 2)
    add_time(shift, one.id, TimeEntry("30 min"))
    add_time(shift, one.id, TimeEntry("1:00", work="repair"))
    add_time(shift, other.id, TimeEntry("10 min", work="repair"))
    add_time(shift, other.id, TimeEntry("2:00", person="Mira"))
    add_time(shift, other.id, TimeEntry("5:00", on="yesterday"))
    start_clock(shift, other.id)
    mira, sam = hours_by_person(shift, *DAYS)
    assert (mira.person, mira.diagnosis_seconds, mira.repair_seconds) == ("Mira", 7200, 0)
    assert (sam.person, sam.diagnosis_seconds, sam.repair_seconds) == ("Sam", 1800, 4200)
    assert (sam.spells, sam.tickets, sam.unsure, sam.hours) == (3, 2, 0, Decimal("1.7"))
    (sunday,) = hours_by_person(shift, date(2031, 4, 6), date(2031, 4, 6))
    assert sunday.hours == 5
    both = hours_by_person(shift, date(2031, 4, 6), SEVENTH)
    assert sum(one.hours for one in both) == Decimal("8.7")


def test_a_forgotten_clock_counts_nothing_and_is_named(shift: Shift, clock: Clock) -> None:
    start_clock(shift, another(shift, 1).id)
    clock.forward(1)
    start_clock(shift, another(shift, 2).id)
    (sam,) = hours_by_person(shift, *DAYS)
    assert (sam.hours, sam.unsure) == (Decimal("0.0"), 1)


def test_a_day_is_the_shops_and_ends_at_its_midnight(shift: Shift, clock: Clock) -> None:
    clock.moment = datetime(2031, 4, 8, 5, 55, tzinfo=UTC)
    start_clock(shift, another(shift, 1).id)
    clock.moment += timedelta(minutes=20)
    stop_clock(shift)
    assert [one.hours for one in hours_by_person(shift, *DAYS)] == [Decimal("0.3")]
    clock.moment = datetime(2031, 4, 8, 6, 0, tzinfo=UTC)
    assert len(hours_by_person(shift, date(2031, 4, 8), date(2031, 4, 8))) == 0
    add_time(shift, another(shift, 2).id, TimeEntry("30 min"))
    assert len(hours_by_person(shift, date(2031, 4, 8), date(2031, 4, 8))) == 1


def test_the_day_that_the_clocks_go_forward_has_all_its_hours(shift: Shift, clock: Clock) -> None:
    day = date(2031, 3, 9)
    for moment in (datetime(2031, 3, 9, 7, 5), datetime(2031, 3, 10, 5, 50)):
        clock.moment = moment.replace(tzinfo=UTC)
        add_time(shift, another(shift, moment.hour).id, TimeEntry("6 min"))
    (sam,) = hours_by_person(shift, day, day)
    assert sam.spells == 2


def test_what_was_clocked_stands_beside_estimate_and_bill(shift: Shift) -> None:
    ticket = at_stage(shift, Stage.REPAIR)
    hour = next(line for line in ticket.lines if line.kind == "labour")
    change_line(shift, hour.id, replace(HOUR, quantity="1.1"))
    add_time(shift, ticket.id, TimeEntry("1:30"))
    add_time(shift, ticket.id, TimeEntry("20 min", person="Mira", work="diagnosis"))
    assert clocked_against_billed(shift, *DAYS) == ()
    finished(shift, ticket)
    issue_invoice(shift, ticket.id)
    (told,) = clocked_against_billed(shift, *DAYS)
    assert (told.tag, told.machine, told.owner) == (
        *("T1001", "String trimmer, Tarnbeck TB-26"),
        "Mara Quill",
    )
    assert (told.estimated, told.clocked, told.clocked_seconds, told.billed) == (
        *(Decimal(1), Decimal("1.8"), 6600),
        Decimal("1.1"),
    )
    assert [(one.person, one.seconds) for one in told.people] == [("Mira", 1200), ("Sam", 5400)]


def test_a_credit_note_takes_its_hours_back_on_its_own_day(shift: Shift, clock: Clock) -> None:
    ticket = at_stage(shift, Stage.PICKUP)
    issue_invoice(shift, ticket.id)
    clock.forward(1)
    credit_invoice(shift, ticket.id, "wrong")
    (monday,) = clocked_against_billed(shift, *DAYS)
    (tuesday,) = clocked_against_billed(shift, date(2031, 4, 8), date(2031, 4, 8))
    (both,) = clocked_against_billed(shift, SEVENTH, date(2031, 4, 8))
    assert [one.billed for one in (monday, tuesday, both)] == [1, -1, 0]


def test_tickets_come_in_the_order_of_their_numbers(shift: Shift) -> None:
    tickets = [mended(shift, number, hours=f"{number}.5") for number in (1, 2, 3)]
    told = clocked_against_billed(shift, *DAYS)
    assert [one.ticket_id for one in told] == [ticket.id for ticket in tickets]
    assert [one.billed for one in told] == [Decimal("1.5"), Decimal("2.5"), Decimal("3.5")]
    assert [one.estimated for one in told] == [one.billed for one in told]


def test_a_flat_time_stands_against_the_time_that_went_into_it(shift: Shift) -> None:
    flat = add_flat_time(shift, FlatTimeEntry("Rebuild the carburettor", "0.8"))
    add_flat_time(shift, FlatTimeEntry("Sharpen the chain", "0.3"))
    for number, time in ((1, "60 min"), (2, "90 min"), (3, "")):
        ticket = flat_time_line(shift, on_the_bench(shift, number).id, flat.id)
        if time:
            add_time(shift, ticket.id, TimeEntry(time, work="repair"))
            count_toward(shift, ticket.lines[0].id)
        closed(shift, ticket)
    rebuild, sharpen = flat_against_clocked(shift, *DAYS)
    assert (rebuild.name, rebuild.set_hours, rebuild.jobs) == (
        *("Rebuild the carburettor", Decimal("0.8")),
        2,
    )
    assert (rebuild.clocked_seconds, rebuild.average) == (9000, Decimal("1.3"))
    assert (sharpen.jobs, sharpen.average) == (0, None)


def test_time_charged_by_the_clock_is_billed_as_worked(shift: Shift) -> None:
    ticket = on_the_bench(shift, 1)
    add_time(shift, ticket.id, TimeEntry("27 min", work="repair"))
    closed(shift, bill_time(shift, ticket.id), hours="1")
    (told,) = clocked_against_billed(shift, *DAYS)
    assert (told.clocked, told.billed) == (Decimal("0.5"), Decimal("1.5"))
