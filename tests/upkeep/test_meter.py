"""What an hour meter's readings tell of a machine's use."""

from datetime import date
from decimal import Decimal

import pytest

from shopdesk.upkeep.meter import MeterPoint, pace, reading_on, since_new_meter
from shopdesk.upkeep.use import Season

SUMMER = Season(4, 10)


def point(on: date, hours: str) -> MeterPoint:
    return MeterPoint(on, Decimal(hours))


MAY = point(date(2027, 5, 3), "20")
JULY = point(date(2027, 7, 5), "38")


def test_two_readings_tell_the_hours_a_week() -> None:
    assert pace([MAY, JULY], SUMMER) == Decimal("2.0")
    assert pace([JULY, MAY], SUMMER) == Decimal("2.0")


def test_only_weeks_of_the_season_count() -> None:
    """From the end of October to the end of April it stood: 26 h in the four weeks of April."""
    readings = [point(date(2026, 10, 31), "100"), point(date(2027, 4, 28), "126")]
    assert pace(readings, SUMMER) == Decimal("6.5")
    assert pace(readings, None) == Decimal("1.0")


@pytest.mark.parametrize(
    "readings",
    [
        [],
        [MAY],
        [MAY, point(date(2027, 5, 20), "30")],
        [point(date(2026, 11, 5), "30"), point(date(2027, 3, 20), "30")],
    ],
)
def test_too_little_is_known_for_a_pace(readings: list[MeterPoint]) -> None:
    assert pace(readings, SUMMER) is None


def test_a_meter_that_reads_less_is_another_one() -> None:
    new = point(date(2027, 8, 2), "1")
    later = point(date(2027, 9, 6), "11")
    assert since_new_meter([later, MAY, new, JULY]) == (new, later)
    assert pace([MAY, JULY, new, later], SUMMER) == Decimal("2.0")
    assert reading_on([MAY, JULY, new, later], MAY.on) is None


@pytest.mark.parametrize(
    ("day", "hours"),
    [
        (MAY.on, Decimal(20)),
        (JULY.on, Decimal(38)),
        (date(2027, 6, 3), Decimal("28.9")),
        (date(2027, 5, 2), None),
        (date(2027, 7, 6), None),
    ],
)
def test_what_it_read_on_a_day(day: date, hours: Decimal | None) -> None:
    assert reading_on([MAY, JULY], day) == hours
