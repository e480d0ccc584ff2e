"""What a machine needs next, and the one reminder that goes to its owner."""

from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopdesk.places import shared_folder
from shopdesk.upkeep.due import Due, Interval
from shopdesk.upkeep.plan import next_reminder, plan
from shopdesk.upkeep.tasks import load_seasons, load_tasks
from shopdesk.upkeep.use import UseProfile

TASKS = load_tasks(shared_folder())
SEASONS = load_seasons(shared_folder())
KINDS = sorted(SEASONS)
TODAY = date(2027, 7, 1)
MOWER = UseProfile(Decimal("1.5"), 4, 10)


def mower_plan(
    profile: UseProfile | None = MOWER,
    done: dict[str, date] | None = None,
    first_seen: date = date(2027, 5, 3),
) -> tuple[Due, ...]:
    return plan(
        TASKS, "lawn mower", "four-stroke", profile, done or {}, first_seen, TODAY, seasons=SEASONS
    )


def on_by_key(dues: tuple[Due, ...]) -> dict[str, date]:
    return {entry.task.key: entry.on for entry in dues}


def test_a_plan_holds_each_dated_task_of_the_machine_once_in_order() -> None:
    dues = mower_plan()
    fitting = {task.key for task in TASKS if task.fits("lawn mower", "four-stroke")}
    assert on_by_key(dues).keys() == fitting - {"oil-level"}
    assert len(dues) == len(fitting) - 1
    assert [entry.on for entry in dues] == sorted(entry.on for entry in dues)


def test_a_task_done_counts_from_that_day_and_the_others_from_the_first() -> None:
    before = on_by_key(mower_plan())
    after = on_by_key(mower_plan(done={"air-filter": TODAY}))
    assert after["air-filter"] > before["air-filter"]
    assert {k: v for k, v in after.items() if k != "air-filter"} == {
        k: v for k, v in before.items() if k != "air-filter"
    }


def test_only_what_was_never_done_says_so() -> None:
    becauses = {entry.task.key: entry.because for entry in mower_plan(done={"engine-oil": TODAY})}
    assert "not recorded" not in becauses["engine-oil"]
    assert "not recorded" in becauses["spark-plug"]


def test_without_a_profile_the_usual_season_of_the_kind_is_taken() -> None:
    entries = {entry.task.key: entry for entry in mower_plan(profile=None)}
    assert entries["store-fuel"].on == date(2027, 10, 31)
    assert entries["store-fuel"].because.endswith("(season Apr to Oct, the usual one)")
    assert entries["engine-oil"].because.endswith("hours not recorded, so by the calendar alone")


def test_the_owners_own_season_goes_before_the_usual_one() -> None:
    southern = UseProfile(Decimal(1), 10, 4)
    assert on_by_key(mower_plan(southern))["store-fuel"] == date(2028, 4, 30)


def test_a_generator_is_run_every_half_year_and_never_stored() -> None:
    dues = plan(
        TASKS, "generator", "four-stroke", None, {}, date(2027, 6, 1), TODAY, seasons=SEASONS
    )
    dates = on_by_key(dues)
    assert dates["standby-run"] == date(2027, 12, 1)
    assert dates.keys().isdisjoint({"store-fuel", "fresh-fuel"})


def test_meter_readings_and_the_makers_intervals_reach_their_tasks() -> None:
    profile = UseProfile(Decimal("1.5"), 4, 10, meter_hours=Decimal(130))
    (oil,) = (
        entry
        for entry in plan(
            TASKS,
            "lawn mower",
            "four-stroke",
            profile,
            {"engine-oil": date(2027, 5, 3)},
            date(2027, 5, 3),
            TODAY,
            seasons=SEASONS,
            overrides={"engine-oil": Interval(Decimal(20), 12, "maker's manual")},
            meter_when_done={"engine-oil": Decimal(110)},
        )
        if entry.task.key == "engine-oil"
    )
    assert oil.on == TODAY
    assert oil.because == "20 h on the meter since May, due at 20 h (maker's manual): early July"


def test_an_unknown_kind_of_machine_gets_what_all_machines_need() -> None:
    dues = plan(TASKS, "log splitter", "four-stroke", None, {}, TODAY, TODAY, seasons=SEASONS)
    assert {"spark-plug", "valve-lash"} <= on_by_key(dues).keys()
    assert "store-fuel" not in on_by_key(dues)


def test_the_next_reminder_takes_in_about_a_month() -> None:
    dues = mower_plan()
    reminder = next_reminder(dues, TODAY)
    assert reminder is not None
    assert reminder.on == dues[0].on == date(2027, 8, 28)
    assert [entry.task.key for entry in reminder.dues] == ["air-filter", "mower-blade"]
    assert reminder.lines[0] == (
        "Clean the air filter; renew it when it is torn or stays dirty: "
        "about 13 h since May (not recorded before), due at 25 h: late August"
    )


def test_a_month_means_thirty_one_days() -> None:
    first = mower_plan()[0]
    dues = [replace(first, on=first.on + timedelta(days=days)) for days in (32, 0, 31)]
    reminder = next_reminder(dues, TODAY)
    assert reminder is not None
    assert [(entry.on - first.on).days for entry in reminder.dues] == [0, 31]


def test_a_reminder_for_what_is_overdue_is_for_today() -> None:
    dues = mower_plan(UseProfile(Decimal(10), 4, 10), first_seen=date(2026, 5, 3))
    reminder = next_reminder(dues, TODAY)
    assert reminder is not None
    assert reminder.on == TODAY
    assert reminder.dues[0].on < TODAY
    assert reminder.lines[0].endswith(
        "not recorded since May 2026, due every 25 h or 12 months: now"
    )


def test_a_reminder_warns_of_what_the_owner_does_alone_each_caution_once() -> None:
    dues = plan(
        TASKS, "string trimmer", "two-stroke", None, {}, date(2027, 4, 2), TODAY, seasons=SEASONS
    )
    reminder = next_reminder(dues, TODAY)
    assert reminder is not None
    assert [entry.task.key for entry in reminder.dues] == ["store-fuel"]
    assert [caution.words.split(",")[0] for caution in reminder.cautions] == [
        "Engine off and cool",
        "Run it outdoors only",
    ]
    shop_work = tuple(entry for entry in dues if not entry.task.owner_can)
    assert shop_work
    apart = next_reminder(shop_work, TODAY)
    assert apart is not None
    assert apart.cautions == ()


def test_nothing_dated_makes_no_reminder() -> None:
    assert next_reminder((), TODAY) is None


@given(
    st.sampled_from(KINDS),
    st.sampled_from(["two-stroke", "four-stroke", "corded", "cordless"]),
    st.decimals(0, 60, places=1),
    st.booleans(),
    st.dates(date(2015, 1, 1), date(2027, 7, 1)),
)
def test_a_reminder_never_lies_in_the_past_and_leaves_no_earlier_task_out(
    kind: str, engine: str, weekly: Decimal, severe: bool, first_seen: date
) -> None:
    profile = UseProfile(weekly, severe=severe)
    dues = plan(TASKS, kind, engine, profile, {}, first_seen, TODAY, seasons=SEASONS)
    reminder = next_reminder(reversed(dues), TODAY)
    assert (reminder is None) == (not dues)
    if reminder is not None:
        assert reminder.on >= TODAY
        assert reminder.dues == dues[: len(reminder.dues)]
        about_a_month_on = reminder.on + timedelta(days=31)
        assert all(entry.on <= about_a_month_on for entry in reminder.dues)
        assert all(entry.on > about_a_month_on for entry in dues[len(reminder.dues) :])


@pytest.mark.parametrize("kind", KINDS)
def test_heavier_use_never_puts_a_task_off(kind: str) -> None:
    def dates(weekly: int, severe: bool) -> dict[str, date]:
        profile = UseProfile(Decimal(weekly), severe=severe)
        return on_by_key(
            plan(TASKS, kind, "four-stroke", profile, {}, TODAY, TODAY, seasons=SEASONS)
        )

    light, heavy, hard = dates(1, False), dates(20, False), dates(20, True)
    assert light.keys() == heavy.keys() == hard.keys()
    assert all(hard[key] <= heavy[key] <= light[key] for key in light)
