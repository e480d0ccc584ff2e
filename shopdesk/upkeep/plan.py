"""What one machine needs next, in order, and the one reminder to send its owner."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal

from shopdesk.upkeep.due import Due, Interval, due
from shopdesk.upkeep.tasks import Caution, Task
from shopdesk.upkeep.use import Season, UseProfile

#: What falls due within about a month of the first task goes on the same reminder.
TOGETHER = timedelta(days=31)


@dataclass(frozen=True, slots=True)
class Reminder:
    """One reminder: the day it is for, and what is due about then, in order."""

    on: date
    dues: tuple[Due, ...]

    @property
    def lines(self) -> tuple[str, ...]:
        """Each task with why it is due: "Change the engine oil: about 41 h since May, …"."""
        return tuple(f"{entry.task.title}: {entry.because}" for entry in self.dues)

    @property
    def cautions(self) -> tuple[Caution, ...]:
        """The cautions of the tasks an owner can do alone, each once, in order."""
        own = (entry.task for entry in self.dues if entry.task.owner_can)
        return tuple(dict.fromkeys(caution for task in own for caution in task.cautions))


def plan(
    tasks: Iterable[Task],
    kind: str,
    engine: str,
    profile: UseProfile | None,
    done: Mapping[str, date],
    bought_or_first_seen: date,
    today: date,
    *,
    seasons: Mapping[str, Season],
    overrides: Mapping[str, Interval] | None = None,
    meter_when_done: Mapping[str, Decimal] | None = None,
) -> tuple[Due, ...]:
    """Return every task with a date for a machine of this kind and engine, the earliest first.

    `done` holds by task key the day it was last done, and `meter_when_done` what the hour meter
    read then; what was never done counts from `bought_or_first_seen`. Where the owner's season is
    not known, the usual one for the kind from `seasons` is taken. `overrides` gives the model's own
    intervals by task key.
    """
    profile = (profile or UseProfile()).assuming(seasons.get(kind))
    meters = meter_when_done or {}
    entries = (
        due(
            task,
            profile,
            done.get(task.key, bought_or_first_seen),
            today,
            overrides,
            ever_done=task.key in done,
            meter_then=meters.get(task.key),
        )
        for task in tasks
        if task.fits(kind, engine)
    )
    dated = [entry for entry in entries if entry is not None]
    return tuple(sorted(dated, key=lambda entry: (entry.on, entry.task.title)))


def next_reminder(dues: Iterable[Due], today: date) -> Reminder | None:
    """Return the next reminder, or None when nothing has a date.

    It is for the day of the earliest task, or today where that is past, and takes in everything
    that falls due within about a month of it.
    """
    ordered = sorted(dues, key=lambda entry: (entry.on, entry.task.title))
    if not ordered:
        return None
    on = max(ordered[0].on, today)
    return Reminder(on, tuple(entry for entry in ordered if entry.on <= on + TOGETHER))
