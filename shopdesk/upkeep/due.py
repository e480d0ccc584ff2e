"""When a task falls due: by hours of use, by months, or by the season, whichever comes first."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import ROUND_HALF_UP, Decimal

from dateutil.relativedelta import relativedelta

from shopdesk.upkeep.because import Ground, Reckoning
from shopdesk.upkeep.tasks import SeasonPoint, Task
from shopdesk.upkeep.use import UseProfile

#: Work done less than this before a season opens or closes counts for it.
#: Common practice, no published source.
SEASON_LEAD = timedelta(days=60)
#: A machine put away longer than this is not got out again to be made ready for storage.
#: Common practice, no published source.
STORAGE_GRACE = timedelta(days=31)

_HORIZON = relativedelta(years=20)


@dataclass(frozen=True, slots=True)
class Interval:
    """How often a task is due by hours and months, and where that comes from if not the task."""

    hours: Decimal | None = None
    months: int | None = None
    source: str = ""


@dataclass(frozen=True, slots=True)
class Due:
    """A task, its date and the line that says why; hours since it was done, None if unknown."""

    task: Task
    on: date
    because: str
    ground: Ground
    hours_so_far: Decimal | None


def due(
    task: Task,
    profile: UseProfile | None,
    last_done: date,
    today: date,
    overrides: Mapping[str, Interval] | None = None,
    *,
    ever_done: bool = True,
    meter_then: Decimal | None = None,
) -> Due | None:
    """Return when the task falls due next, or None where nothing sets a date for it.

    Hours add up from the day after `last_done` by the profile's hours a week, in its season only;
    or they are read off the meter, where the profile has its reading of today and `meter_then` is
    that of `last_done`. Without a profile months and season decide, and the line says so. Hard use
    shortens hours and months by the task's factor. `overrides` gives the model's own intervals by
    task key; those hold as they are. `ever_done` is False where `last_done` is only the day from
    which the machine is known.
    """
    profile = profile or UseProfile()
    interval = _interval(task, profile, overrides or {})
    hours_so_far, measured = _hours_so_far(profile, last_done, today, meter_then)
    dates = {
        Ground.HOURS: _by_hours(interval, profile, last_done, today, hours_so_far, measured),
        Ground.MONTHS: _by_months(interval, last_done),
        Ground.SEASON: _by_season(task, profile, last_done, today),
    }
    known = [(on, ground) for ground, on in dates.items() if on is not None]
    if not known:
        return None
    on, ground = min(known, key=lambda entry: entry[0])
    reckoning = Reckoning(
        on=on,
        ground=ground,
        today=today,
        last_done=last_done,
        ever_done=ever_done,
        hours=interval.hours,
        months=interval.months,
        interval_note=interval.source and f" ({interval.source})",
        hours_so_far=hours_so_far,
        measured=measured,
        season_point=task.season,
        season=profile.season,
        season_assumed=profile.season_assumed,
    )
    return Due(task, on, reckoning.words, ground, hours_so_far)


def _interval(task: Task, profile: UseProfile, overrides: Mapping[str, Interval]) -> Interval:
    if task.key in overrides:
        return overrides[task.key]
    if not profile.severe or task.severe_factor == 1:
        return Interval(task.hours, task.months)
    hours = task.hours and task.hours * task.severe_factor
    months = task.months and max(1, int((task.months * task.severe_factor).to_integral_value()))
    return Interval(hours, months, "hard use")


def _hours_so_far(
    profile: UseProfile, last_done: date, today: date, meter_then: Decimal | None
) -> tuple[Decimal | None, bool]:
    """The hours since the task was done, and whether a meter measured them."""
    meter = profile.meter_at(today)
    if meter is not None and meter_then is not None and meter >= meter_then:
        return (meter - meter_then).quantize(Decimal("0.1"), ROUND_HALF_UP), True
    if profile.hours_per_week is None:
        return None, False
    hours = profile.hours_between(last_done, today)
    return hours.quantize(Decimal("0.1"), ROUND_HALF_UP), False


def _by_hours(
    interval: Interval,
    profile: UseProfile,
    last_done: date,
    today: date,
    hours_so_far: Decimal | None,
    measured: bool,
) -> date | None:
    if interval.hours is None or hours_so_far is None:
        return None
    if not measured:
        return profile.day_reaching(interval.hours, last_done, last_done + _HORIZON)
    if hours_so_far >= interval.hours:
        return today
    return profile.day_reaching(interval.hours - hours_so_far, today, today + _HORIZON)


def _by_months(interval: Interval, last_done: date) -> date | None:
    if interval.months is None:
        return None
    return last_done + relativedelta(months=interval.months)


def _by_season(task: Task, profile: UseProfile, last_done: date, today: date) -> date | None:
    """The season's next point.

    A missed opening stays due until the season ends, a missed close for `STORAGE_GRACE`.
    """
    season = profile.season
    if task.season is None or season is None or season.all_year:
        return None
    done_for = last_done + SEASON_LEAD
    if task.season is SeasonPoint.START:
        return season.first_opening_from(max(done_for, season.latest_close_by(today)))
    not_before = max(season.latest_opening_by(today), today - STORAGE_GRACE)
    return season.first_close_from(max(done_for, not_before))
