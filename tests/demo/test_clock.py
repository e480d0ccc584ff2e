"""The demo's clock, its opening hours, and the tale that it is told by."""

from datetime import UTC, date, datetime
from random import Random

import pytest

from shopdesk.demo.clock import (
    LAST_START,
    OPENS,
    Clock,
    Wait,
    eve_of,
    open_day,
    same_day_pace,
    shop_pace,
    some_time_on,
)
from shopdesk.demo.narrator import Narrator
from shopdesk.job.stages import Stage

SATURDAY, SUNDAY, MONDAY = date(2027, 5, 15), date(2027, 5, 16), date(2027, 5, 17)


def test_the_clock_gives_aware_utc_for_the_shops_wall_time() -> None:
    clock = Clock("America/Denver", datetime(2027, 1, 4, 9, 30))
    assert clock() == datetime(2027, 1, 4, 16, 30, tzinfo=UTC)
    clock.local = datetime(2027, 7, 5, 9, 30)
    assert clock() == datetime(2027, 7, 5, 15, 30, tzinfo=UTC)


@pytest.mark.parametrize(("day", "eve"), [(MONDAY, SATURDAY), (SUNDAY, SATURDAY)])
def test_the_eve_is_the_last_working_day(day: date, eve: date) -> None:
    assert eve_of(day) == eve


def test_sundays_are_closed() -> None:
    assert open_day(SUNDAY) == MONDAY
    assert open_day(SATURDAY) == SATURDAY
    saturday_noon = datetime(2027, 5, 15, 12, 0)
    assert shop_pace(saturday_noon, Wait(days=1), Random(1)).date() == MONDAY


def test_things_happen_in_opening_hours() -> None:
    luck = Random(4)
    assert all(OPENS <= some_time_on(MONDAY, luck).time() <= LAST_START for _ in range(200))


def test_without_other_work_a_days_wait_is_half_an_hour() -> None:
    noon = datetime(2027, 5, 17, 12, 0)
    assert same_day_pace(noon, Wait(days=3), Random(1)) == datetime(2027, 5, 17, 12, 32)
    assert same_day_pace(noon, Wait(minutes=5), Random(1)) == datetime(2027, 5, 17, 12, 5)


def test_the_stage_stands_once_beside_what_is_said_in_it() -> None:
    said: list[str] = []
    narrator = Narrator(said.append)
    narrator(Stage.INTAKE, "a machine comes in")
    narrator(Stage.INTAKE, "it is tagged")
    narrator(Stage.DIAGNOSIS, "word " * 60)
    assert said[:2] == ["Intake     a machine comes in", "           it is tagged"]
    first, *rest = said[2].splitlines()
    assert first.startswith("Diagnosis  word")
    assert rest
    assert all(line.startswith("             word") for line in rest)
