"""When a task falls due, and the line that says why."""

from datetime import date
from decimal import Decimal

import pytest

from shopdesk.upkeep.because import Ground, hours_words, rough_date
from shopdesk.upkeep.due import Due, Interval, due
from shopdesk.upkeep.tasks import SeasonPoint, Task
from shopdesk.upkeep.use import UseProfile

TODAY = date(2027, 5, 25)
OIL = Task(
    key="engine-oil",
    title="Change the engine oil",
    why="Old oil wears the engine.",
    owner_can=True,
    source="common practice, no published source",
    hours=Decimal(50),
    months=12,
    severe_factor=Decimal("0.5"),
)
STORAGE = Task(
    key="store-fuel",
    title="Drain the tank",
    why="Old fuel gums up.",
    owner_can=True,
    source="common practice, no published source",
    season=SeasonPoint.STORAGE,
)
SPRING = Task(
    key="fresh-fuel",
    title="Fresh fuel",
    why="Old fuel burns badly.",
    owner_can=True,
    source="common practice, no published source",
    season=SeasonPoint.START,
)
CHECK = Task(
    key="oil-level",
    title="Check the oil",
    why="It needs some.",
    owner_can=True,
    source="common practice, no published source",
    uses=1,
)
MOWER = UseProfile(Decimal(7), 4, 10)
LIGHT_USE = UseProfile(Decimal("0.5"), 4, 10)


def found(entry: Due | None) -> Due:
    assert entry is not None
    return entry


def test_hours_decide_where_they_come_first() -> None:
    entry = found(due(OIL, MOWER, date(2027, 5, 1), TODAY))
    assert (entry.on, entry.ground) == (date(2027, 6, 20), Ground.HOURS)
    assert entry.hours_so_far == 24
    assert entry.because == "about 24 h since May, due at 50 h: mid-June"


def test_months_decide_where_they_come_first() -> None:
    entry = found(due(OIL, LIGHT_USE, date(2027, 4, 27), TODAY))
    assert (entry.on, entry.ground) == (date(2028, 4, 27), Ground.MONTHS)
    assert entry.because == (
        "last done April, due every 12 months: late April 2028; about 2 h of 50 by now"
    )


def test_the_season_decides_where_it_comes_first() -> None:
    blade = Task(
        **{field: getattr(OIL, field) for field in ("key", "title", "why", "owner_can", "source")},
        hours=Decimal(25),
        season=SeasonPoint.START,
    )
    entry = found(due(blade, LIGHT_USE, date(2026, 10, 1), date(2026, 11, 25)))
    assert (entry.on, entry.ground) == (date(2027, 4, 1), Ground.SEASON)
    assert entry.because == (
        "start of season, due early April 2027 (season Apr to Oct); about 2 h of 25 by now"
    )


def test_hours_stand_still_while_the_machine_is_put_away() -> None:
    entry = found(due(OIL, MOWER, date(2026, 10, 1), date(2026, 12, 1)))
    assert entry.hours_so_far == 30
    assert entry.on == date(2027, 4, 20)


def test_a_season_over_new_year_counts_the_winter() -> None:
    thrower = UseProfile(Decimal(7), 11, 3)
    entry = found(due(OIL, thrower, date(2026, 12, 1), date(2026, 12, 11)))
    assert (entry.on, entry.hours_so_far) == (date(2027, 1, 20), Decimal(10))
    summer = found(due(OIL, thrower, date(2027, 3, 11), date(2027, 8, 1)))
    assert (summer.on, summer.hours_so_far) == (date(2027, 11, 30), Decimal(20))


def test_a_task_overdue_says_so() -> None:
    entry = found(due(OIL, MOWER, date(2027, 4, 1), date(2027, 6, 25)))
    assert entry.on == date(2027, 5, 21)
    assert entry.because == "about 85 h since April, was due at 50 h: late May"


def test_without_a_profile_the_calendar_decides_and_says_so() -> None:
    entry = found(due(OIL, None, date(2027, 1, 10), TODAY))
    assert (entry.on, entry.hours_so_far) == (date(2028, 1, 10), None)
    assert entry.because == (
        "last done January, due every 12 months: early January 2028; "
        "hours not recorded, so by the calendar alone"
    )


def test_a_machine_never_used_waits_for_the_calendar() -> None:
    entry = found(due(OIL, UseProfile(Decimal(0)), date(2027, 1, 10), TODAY))
    assert (entry.ground, entry.hours_so_far) == (Ground.MONTHS, Decimal(0))


def test_hard_use_shortens_hours_and_months() -> None:
    hard = UseProfile(Decimal(7), 4, 10, severe=True)
    entry = found(due(OIL, hard, date(2027, 5, 1), TODAY))
    assert entry.on == date(2027, 5, 26)
    assert entry.because == "about 24 h since May, due at 25 h (hard use): late May"
    idle = found(due(OIL, UseProfile(severe=True), date(2027, 5, 1), TODAY))
    assert idle.on == date(2027, 11, 1)
    assert "every 6 months (hard use)" in idle.because


def test_the_makers_interval_holds_as_it_is() -> None:
    hard = UseProfile(Decimal(7), 4, 10, severe=True)
    makers = {"engine-oil": Interval(Decimal(30), 6, "maker's manual")}
    entry = found(due(OIL, hard, date(2027, 5, 1), TODAY, makers))
    assert entry.on == date(2027, 5, 31)
    assert entry.because == "about 24 h since May, due at 30 h (maker's manual): late May"
    assert due(OIL, hard, date(2027, 5, 1), TODAY, {"other": makers["engine-oil"]}) == due(
        OIL, hard, date(2027, 5, 1), TODAY
    )


def test_the_meter_is_believed_before_the_estimate() -> None:
    metered = UseProfile(Decimal(7), 4, 10, meter_hours=Decimal("152.5"))
    entry = found(due(OIL, metered, date(2027, 5, 1), TODAY, meter_then=Decimal("112.5")))
    assert (entry.on, entry.hours_so_far) == (date(2027, 6, 4), Decimal(40))
    assert entry.because == "40 h on the meter since May, due at 50 h: early June"


def test_a_meter_past_its_limit_means_today() -> None:
    metered = UseProfile(meter_hours=Decimal(170))
    entry = found(due(OIL, metered, date(2027, 1, 4), TODAY, meter_then=Decimal(112)))
    assert (entry.on, entry.ground) == (TODAY, Ground.HOURS)
    assert entry.because == "58 h on the meter since January, due at 50 h: late May"


def test_a_meter_short_of_its_limit_with_unknown_use_leaves_the_calendar() -> None:
    metered = UseProfile(meter_hours=Decimal(120))
    entry = found(due(OIL, metered, date(2027, 1, 4), TODAY, meter_then=Decimal(112)))
    assert entry.ground is Ground.MONTHS
    assert entry.because.endswith("; 8 h on the meter of 50 by now")


def test_a_meter_that_was_renewed_falls_back_on_the_estimate() -> None:
    metered = UseProfile(Decimal(7), 4, 10, meter_hours=Decimal(3))
    assert due(OIL, metered, date(2027, 5, 1), TODAY, meter_then=Decimal(112)) == due(
        OIL, MOWER, date(2027, 5, 1), TODAY
    )


def test_what_was_never_recorded_says_from_when_it_counts() -> None:
    entry = found(due(OIL, MOWER, date(2027, 5, 1), TODAY, ever_done=False))
    assert entry.because == "about 24 h since May (not recorded before), due at 50 h: mid-June"
    idle = found(due(OIL, None, date(2026, 5, 1), TODAY, ever_done=False))
    assert idle.because == "not recorded since May 2026, due every 50 h or 12 months: now"


def test_a_short_month_takes_its_last_day() -> None:
    half_yearly = {"engine-oil": Interval(None, 6)}
    entry = found(due(OIL, None, date(2026, 8, 31), date(2026, 9, 1), half_yearly))
    assert entry.on == date(2027, 2, 28)
    assert found(due(OIL, None, date(2028, 2, 29), date(2028, 3, 1))).on == date(2029, 2, 28)


def test_storage_falls_on_the_last_day_of_the_season() -> None:
    entry = found(due(STORAGE, MOWER, date(2027, 5, 1), TODAY))
    assert (entry.on, entry.ground) == (date(2027, 10, 31), Ground.SEASON)
    assert entry.because == "before storage, due late October (season Apr to Oct)"


def test_an_assumed_season_says_so() -> None:
    assumed = UseProfile(first_month=4, last_month=2, season_assumed=True)
    entry = found(due(STORAGE, assumed, date(2027, 5, 1), TODAY))
    assert entry.on == date(2028, 2, 29)
    assert entry.because.endswith("(season Apr to Feb, the usual one)")


def test_work_shortly_before_the_season_turns_counts_for_it() -> None:
    early, late = date(2027, 9, 1), date(2027, 9, 2)
    assert (date(2027, 10, 31) - early).days == 60
    assert found(due(STORAGE, MOWER, early, early)).on == date(2027, 10, 31)
    assert found(due(STORAGE, MOWER, late, late)).on == date(2028, 10, 31)
    assert found(due(SPRING, MOWER, date(2027, 2, 15), date(2027, 2, 15))).on == date(2028, 4, 1)
    assert found(due(SPRING, MOWER, date(2026, 12, 1), date(2027, 2, 15))).on == date(2027, 4, 1)


def test_missed_storage_stays_due_for_a_month_and_then_waits_for_the_next() -> None:
    last = date(2025, 5, 1)
    assert found(due(STORAGE, MOWER, last, date(2026, 12, 1))).on == date(2026, 10, 31)
    for later in (date(2026, 12, 2), date(2027, 3, 15), date(2027, 4, 1)):
        entry = found(due(STORAGE, MOWER, last, later))
        assert entry.on == date(2027, 10, 31)
        assert entry.because.startswith("before storage, due late October")


def test_a_missed_start_of_the_season_stays_due_until_the_season_ends() -> None:
    last = date(2025, 5, 1)
    assert found(due(SPRING, MOWER, last, date(2027, 7, 1))).on == date(2027, 4, 1)
    assert found(due(SPRING, MOWER, last, date(2027, 10, 31))).on == date(2028, 4, 1)


@pytest.mark.parametrize("task", [STORAGE, SPRING])
def test_a_machine_used_all_year_is_never_put_away(task: Task) -> None:
    assert due(task, UseProfile(Decimal(7), 1, 12), date(2027, 5, 1), TODAY) is None
    assert due(task, UseProfile(Decimal(7)), date(2027, 5, 1), TODAY) is None


def test_what_is_looked_at_every_time_has_no_date() -> None:
    assert due(CHECK, MOWER, date(2027, 5, 1), TODAY) is None


@pytest.mark.parametrize(
    ("day", "words"),
    [
        (date(2027, 6, 1), "early June"),
        (date(2027, 6, 10), "early June"),
        (date(2027, 6, 11), "mid-June"),
        (date(2027, 6, 21), "late June"),
        (date(2028, 6, 15), "mid-June 2028"),
    ],
)
def test_rough_dates(day: date, words: str) -> None:
    assert rough_date(day, TODAY) == words


@pytest.mark.parametrize(
    ("hours", "words"),
    [("0", "0"), ("2.3", "2.5"), ("9.8", "10"), ("40.5", "41"), ("120", "120"), ("0.2", "0")],
)
def test_hours_are_rounded_for_reading(hours: str, words: str) -> None:
    assert hours_words(Decimal(hours)) == words
