"""The upkeep plan of a machine: what is due when, why, how often, and when it was last done."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from functools import lru_cache

from shopdesk.dates import local_day
from shopdesk.job.meter import meter_points
from shopdesk.job.own_intervals import own_intervals
from shopdesk.job.paper_content import UpkeepRow
from shopdesk.job.reference import upkeep_seasons, upkeep_tasks
from shopdesk.job.shift import Shift, load_shop
from shopdesk.job.shop import Shop
from shopdesk.job.units import find_unit
from shopdesk.job.upkeep_done import LastDone, last_done
from shopdesk.job.views import UnitView
from shopdesk.pricing.money import show_quantity
from shopdesk.records.tables import Unit
from shopdesk.upkeep import plan as upkeep
from shopdesk.upkeep.because import Ground
from shopdesk.upkeep.due import Due, Interval
from shopdesk.upkeep.meter import pace
from shopdesk.upkeep.tasks import Task, each_use
from shopdesk.upkeep.typed_interval import NEVER, show_interval
from shopdesk.upkeep.use import Season, UseProfile


@dataclass(frozen=True, slots=True)
class PlanRow:
    """One task of a machine's plan."""

    task_key: str
    title: str
    why: str
    due_on: date | None
    """``None`` where nothing sets a date: each time it is used, or not at all on this machine."""
    because: str
    every: str
    every_from: str
    """Whose interval that is, with its source."""
    done_on: date | None
    done_words: str
    """Who did it or says so, or that it is not recorded."""
    said_id: int | None
    """Of the entry that only says that it was done; it can be taken back."""
    owner_can: bool


@dataclass(frozen=True, slots=True)
class PlanView:
    """A machine's plan on a day, the earliest first; what has no date comes last."""

    on: date
    use: str
    """What is known of its use, in a sentence."""
    rows: tuple[PlanRow, ...]


@dataclass(frozen=True, slots=True)
class UpkeepAhead:
    """The next upkeep of a machine: the day, what to do, and the cautions that go with it."""

    due_on: date
    rows: tuple[UpkeepRow, ...]
    cautions: tuple[str, ...]
    each_use: tuple[str, ...] = ()
    """What to look at every time it is used."""


def upkeep_plan(shift: Shift, unit_id: int) -> PlanView:
    """Return a machine's plan as of today; raises ``JobError`` if there is no such machine."""
    with shift.records.reading():
        shop, unit = load_shop(), find_unit(unit_id)
        return plan_view(unit, shop, shift.today_in(shop))


def plan_view(unit: Unit, shop: Shop, today: date) -> PlanView:
    """Do what ``upkeep_plan`` does, inside a transaction."""
    done, own = last_done(unit, shop.zone), own_intervals(unit)
    dated = _dues(unit, shop, today, done, own)
    known = {due.task.key for due in dated}
    undated = [task for task in _tasks(unit.kind, unit.engine) if task.key not in known]
    rows = [
        *(_row(due.task, due, done, own) for due in dated),
        *(_row(task, None, done, own) for task in undated),
    ]
    return PlanView(today, _use_words(unit, shop), tuple(rows))


def dues_of(
    unit: Unit, shop: Shop, day: date, done: Mapping[str, LastDone] | None = None
) -> tuple[Due, ...]:
    """Return every task of a machine that has a date as of ``day``, inside a transaction.

    ``done`` is when each was last done, if that is known already.
    """
    known = last_done(unit, shop.zone) if done is None else done
    return _dues(unit, shop, day, known, own_intervals(unit))


def upkeep_ahead(unit: Unit, day: date) -> UpkeepAhead | None:
    """Return a machine's next upkeep as things stand on ``day``, inside a transaction.

    What repairs renewed counts as done; what was due before is for that day. ``None`` where nothing
    is due, or the machine is no more.
    """
    reminder = upkeep.next_reminder(dues_of(unit, load_shop(), day), day)
    if reminder is None or unit.gone_on is not None:
        return None
    return UpkeepAhead(
        reminder.on,
        tuple(upkeep_row(due, day) for due in reminder.dues),
        tuple(one.words for one in reminder.cautions),
        tuple(task.title for task in each_use(upkeep_tasks(), unit.kind, unit.engine)),
    )


def upkeep_row(due: Due, day: date) -> UpkeepRow:
    """Return a task that is due as a paper says it; what was due before is for ``day``."""
    task = due.task
    yearly = due.ground is Ground.SEASON
    return UpkeepRow(
        task.title, task.why, max(due.on, day), due.because, task.owner_can, task.key, yearly
    )


def tasks_for(unit: UnitView) -> tuple[Task, ...]:
    """Return the upkeep tasks of such a machine, for saying which one a part renews."""
    return _tasks(unit.kind, unit.engine)


def use_profile(unit: Unit, shop: Shop) -> UseProfile:
    """Return how a machine is used: as its owner says, else by its hour meter; in a transaction."""
    points = meter_points(unit)
    meter_on = points[-1].on if points and points[-1].hours == unit.meter_hours else None
    profile = UseProfile(
        unit.hours_per_week,
        unit.first_month,
        unit.last_month,
        unit.severe_use,
        unit.meter_hours,
        meter_on=meter_on,
    )
    if unit.hours_per_week is not None:
        return profile
    season = profile.assuming(seasons_of(shop).get(unit.kind)).season
    measured = pace(points, season)
    if measured is None:
        return profile
    return UseProfile(
        measured,
        unit.first_month,
        unit.last_month,
        unit.severe_use,
        unit.meter_hours,
        meter_on=meter_on,
        pace_measured=True,
    )


def seasons_of(shop: Shop) -> Mapping[str, Season]:
    """Return the usual season by kind of machine on the shop's half of the earth."""
    return _southern() if shop.southern else upkeep_seasons()


@lru_cache(maxsize=1)
def _southern() -> Mapping[str, Season]:
    return {kind: season.turned for kind, season in upkeep_seasons().items()}


def _tasks(kind: str, engine: str) -> tuple[Task, ...]:
    return tuple(task for task in upkeep_tasks() if task.fits(kind, engine))


def _dues(
    unit: Unit,
    shop: Shop,
    day: date,
    done: Mapping[str, LastDone],
    own: Mapping[str, Interval],
) -> tuple[Due, ...]:
    never = {key for key, interval in own.items() if _is_never(interval)}
    return upkeep.plan(
        (task for task in upkeep_tasks() if task.key not in never),
        unit.kind,
        unit.engine,
        use_profile(unit, shop),
        {key: found.on for key, found in done.items()},
        unit.bought_on or local_day(unit.created_at, shop.zone),
        day,
        seasons=seasons_of(shop),
        overrides=own,
        meter_when_done={key: one.meter for key, one in done.items() if one.meter is not None},
    )


def _row(
    task: Task, due: Due | None, done: Mapping[str, LastDone], own: Mapping[str, Interval]
) -> PlanRow:
    found, interval = done.get(task.key), own.get(task.key)
    every, every_from = _every(task, interval)
    return PlanRow(
        task_key=task.key,
        title=task.title,
        why=task.why,
        due_on=due.on if due else None,
        because=due.because if due else _why_undated(task, interval),
        every=every,
        every_from=every_from,
        done_on=found.on if found else None,
        done_words=found.words if found else "not recorded",
        said_id=found.said_id if found else None,
        owner_can=task.owner_can,
    )


def _every(task: Task, interval: Interval | None) -> tuple[str, str]:
    """Return how often in words, and whose word that is."""
    if interval is not None:
        return show_interval(interval), interval.source
    if task.uses == 1:
        return "each time it is used", task.source
    often = Interval(task.hours, task.months)
    said = show_interval(often) if not _is_never(often) else ""
    return " or ".join(filter(None, (said, task.season or ""))), task.source


def _why_undated(task: Task, interval: Interval | None) -> str:
    if interval is not None and _is_never(interval):
        return f"not due on it: {interval.source}"
    if task.uses == 1:
        return "no day: each time it is used"
    return "no day is known: say how and in which months it is used"


def _is_never(interval: Interval) -> bool:
    return (interval.hours, interval.months) == (NEVER.hours, NEVER.months)


def _use_words(unit: Unit, shop: Shop) -> str:
    profile = use_profile(unit, shop).assuming(seasons_of(shop).get(unit.kind))
    parts = []
    if profile.hours_per_week is None:
        parts.append("hours a week not known")
    else:
        whose = "by its hour meter" if profile.pace_measured else "as its owner says"
        parts.append(f"{show_quantity(profile.hours_per_week)} h a week, {whose}")
    if profile.season is not None:
        usual = ", the usual months" if profile.season_assumed else ""
        parts.append(f"{profile.season.words}{usual}")
    if unit.meter_hours is not None:
        parts.append(f"hour meter {show_quantity(unit.meter_hours)} h")
    if unit.severe_use:
        parts.append("hard use: intervals are halved")
    return "Used: " + "; ".join(parts) + "."
