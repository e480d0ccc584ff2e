"""A machine's readings over the years: drifting towards their limit, put right, or all over."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest

from shopdesk.bench.checks import Verdict
from shopdesk.errors import JobError
from shopdesk.job.diagnosis import record_finding
from shopdesk.job.limits import LimitEntry, set_unit_limit
from shopdesk.job.moving import go_on
from shopdesk.job.readings_over_time import ReadingCourse, readings_over_time
from shopdesk.job.shift import Shift, save_shop
from shopdesk.job.stages import Stage
from shopdesk.job.units import get_unit
from tests.job.mended import closed
from tests.job.workshop import OWNER, SHOP, TRIMMER, Clock, taken_in


def visit(shift: Shift, unit: int | None, *readings: str) -> int:
    """Take the trimmer through one visit with these readings of its compression; return its id."""
    owner = OWNER if unit is None else get_unit(shift, unit).owner_id
    ticket = taken_in(shift, owner, TRIMMER if unit is None else unit)
    ticket = go_on(shift, ticket.id, Stage.DIAGNOSIS)
    for reading in readings:
        record_finding(shift, ticket.id, "compression", reading)
    closed(shift, ticket)
    return ticket.unit.id


def drifting(shift: Shift, clock: Clock, *readings: str) -> ReadingCourse:
    unit: int | None = None
    for reading in readings:
        unit = visit(shift, unit, *reading.split(", "))
        clock.forward(365)
    assert unit is not None
    (course,) = readings_over_time(shift, unit)
    return course


@pytest.fixture
def at_sea(shift: Shift) -> Shift:
    save_shop(shift, replace(SHOP, altitude_m=Decimal(0)))
    return shift


def test_compression_that_drifts_down_is_seen_before_it_is_out_of_limits(
    at_sea: Shift, clock: Clock
) -> None:
    course = drifting(at_sea, clock, "150", "145", "140")
    assert [point.value for point in course.points] == [150, 145, 140]
    assert (course.low, course.high, course.unit) == (Decimal(130), None, "psi")
    assert course.limit == "at least 130 psi"
    assert course.crosses_on is not None
    assert course.crosses_on.year == 2035
    assert course.heading == (
        "Falling about 5 psi a year since April 2031: at this pace it reaches 130 psi about "
        "April 2035, that is by the second visit from now. A guide only."
    )


def test_two_visits_say_nothing_of_where_it_is_heading(at_sea: Shift, clock: Clock) -> None:
    course = drifting(at_sea, clock, "150", "140")
    assert course.heading == ""
    assert course.crosses_on is None


def test_what_is_out_already_is_said(at_sea: Shift, clock: Clock) -> None:
    course = drifting(at_sea, clock, "150", "140", "88")
    assert course.points[-1].verdict is Verdict.FAIL
    assert course.heading == "It was out of its limit when last read: 88 psi."


def test_what_was_put_right_begins_anew(at_sea: Shift, clock: Clock) -> None:
    """90 psi came in, 150 went home: only what was read from then on counts."""
    course = drifting(at_sea, clock, "110", "100", "90, 150", "149", "148")
    assert len(course.points) == 6
    assert course.heading.startswith("Falling about 1 psi a year since April 2033")


def test_readings_all_over_are_not_gone_by(at_sea: Shift, clock: Clock) -> None:
    course = drifting(at_sea, clock, "150", "132", "149", "133")
    assert course.heading == "The readings scatter too much to say where they are heading."


def test_units_as_typed_come_to_the_usual_one(at_sea: Shift, clock: Clock) -> None:
    course = drifting(at_sea, clock, "10 bar", "1000 kPa", "145")
    assert [point.shown for point in course.points] == ["10 bar", "1,000 kPa", "145 psi"]
    assert course.points[0].value == course.points[1].value == Decimal("145.0377")


def test_the_limit_is_the_machines_own_where_it_has_one(at_sea: Shift, clock: Clock) -> None:
    unit = visit(at_sea, None, "142")
    set_unit_limit(at_sea, unit, LimitEntry("compression", "at least 120 psi", measured_here=True))
    (course,) = readings_over_time(at_sea, unit)
    assert course.low == Decimal(120)
    assert course.points[0].limit == "at least 130 psi"


def test_the_days_are_the_shops(at_sea: Shift, clock: Clock) -> None:
    clock.moment = clock.moment.replace(hour=4, minute=30)
    unit = visit(at_sea, None, "142")
    (course,) = readings_over_time(at_sea, unit)
    assert course.points[0].on == date(2031, 4, 6)


def test_no_machine_no_course(shift: Shift) -> None:
    with pytest.raises(JobError, match="not in the records"):
        readings_over_time(shift, 99)


def test_a_machine_without_readings_has_none(shift: Shift) -> None:
    assert readings_over_time(shift, taken_in(shift, unit=TRIMMER).unit.id) == ()
