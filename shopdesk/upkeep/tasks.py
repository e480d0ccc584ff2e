"""The upkeep tasks a machine can need, read from the shop's reference data."""

import tomllib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum
from pathlib import Path
from typing import Any

from shopdesk.upkeep.use import Season, UseError

_REQUIRED = {"key": str, "title": str, "why": str, "owner_can": bool, "source": str}
_OPTIONAL = {
    **dict.fromkeys(("kinds", "engines", "cautions", "reset_by"), list),
    **dict.fromkeys(("months", "uses"), int),
    "hours": Decimal,
    "season": str,
    "severe": bool,
}


class UpkeepDataError(ValueError):
    """Reference data that can't be used; its text names the file, the entry and what is wrong."""


class SeasonPoint(StrEnum):
    """The two points of a season at which work is due."""

    START = "start of season"
    STORAGE = "before storage"


@dataclass(frozen=True, slots=True)
class Caution:
    """A warning for the owner, and what backs it."""

    words: str
    source: str


@dataclass(frozen=True, slots=True)
class Task:
    """One upkeep task: what and why in the owner's words, for which machines, and how often.

    `kinds` and `engines` are empty where the task is for all. Whichever of `hours`, `months` and
    `season` comes first sets the date; `uses` 1 means every time, without a date. `severe_factor`
    shortens hours and months for hard use (1 where hard use changes nothing). `reset_by` names the
    parts and the work that count as this task done.
    """

    key: str
    title: str
    why: str
    owner_can: bool
    source: str
    kinds: tuple[str, ...] = ()
    engines: tuple[str, ...] = ()
    hours: Decimal | None = None
    months: int | None = None
    season: SeasonPoint | None = None
    uses: int | None = None
    severe_factor: Decimal = Decimal(1)
    cautions: tuple[Caution, ...] = ()
    reset_by: tuple[str, ...] = ()

    def fits(self, kind: str, engine: str) -> bool:
        """Whether a machine of this kind with this engine needs the task."""
        return (not self.kinds or kind in self.kinds) and (
            not self.engines or engine in self.engines
        )


def load_tasks(folder: Path) -> tuple[Task, ...]:
    """Return the tasks in upkeep.toml of the reference data folder, in the file's order.

    Raises UpkeepDataError for a file that is missing or holds an entry that can't be used.
    """
    path = folder / "upkeep.toml"
    data = read_toml(path)
    try:
        cautions = {key: Caution(**entry) for key, entry in data.get("caution", {}).items()}
        factor = Decimal(data["severe"]["factor"])
    except (AttributeError, KeyError, TypeError, ArithmeticError) as wrong:
        raise UpkeepDataError(f"{path}: cautions or severe factor: {wrong}.") from wrong
    if not 0 < factor <= 1:
        raise UpkeepDataError(f"{path}: the severe factor must lie between 0 and 1, not {factor}.")
    tasks = tuple(_task(entry, cautions, factor, path) for entry in data.get("task", []))
    if len({task.key for task in tasks}) < len(tasks):
        raise UpkeepDataError(f"{path}: two tasks have the same key; give each its own.")
    return tasks


def load_seasons(folder: Path) -> dict[str, Season]:
    """Return the usual season of each kind of machine from seasons.toml.

    Raises UpkeepDataError for a file that is missing or holds an entry that can't be used.
    """
    path = folder / "seasons.toml"
    seasons: dict[str, Season] = {}
    for entry in read_toml(path).get("season", []):
        try:
            season = Season(entry["first_month"], entry["last_month"])
            seasons |= dict.fromkeys(entry["kinds"], season)
        except (KeyError, TypeError, UseError) as wrong:
            raise UpkeepDataError(f"{path}: a season entry can't be used: {wrong}") from wrong
    return seasons


def each_use(tasks: Iterable[Task], kind: str, engine: str) -> tuple[Task, ...]:
    """Return what the owner of such a machine should look at every time it is used."""
    return tuple(task for task in tasks if task.uses == 1 and task.fits(kind, engine))


def tasks_reset_by(tasks: Iterable[Task], done: Iterable[str]) -> frozenset[str]:
    """Return the keys of the tasks that a repair has done along the way.

    `done` names kinds of part that were fitted and kinds of work that were done ("air filter", "oil
    change"); upper and lower case don't matter, and names that no task knows are passed over.
    """
    names = {" ".join(name.casefold().split()) for name in done}
    return frozenset(task.key for task in tasks if not names.isdisjoint(task.reset_by))


def read_toml(path: Path) -> dict[str, Any]:
    """Return a reference data file as it stands, its fractions as Decimal.

    Raises UpkeepDataError when it can't be read.
    """
    try:
        return tomllib.loads(path.read_text(encoding="utf-8"), parse_float=Decimal)
    except (OSError, UnicodeDecodeError, tomllib.TOMLDecodeError) as wrong:
        raise UpkeepDataError(f"{path} can't be read: {wrong}.") from wrong


def _task(
    entry: Mapping[str, Any], cautions: Mapping[str, Caution], factor: Decimal, path: Path
) -> Task:
    where = f"{path}: task {entry.get('key', '(no key)')!r}"
    _check_fields(entry, where)
    fields: dict[str, Any] = {
        name: tuple(v) if isinstance(v, list) else v for name, v in entry.items()
    }
    unknown = set(fields.get("cautions", ())) - set(cautions)
    if unknown:
        raise UpkeepDataError(f"{where}: there is no caution {', '.join(sorted(unknown))}.")
    fields["cautions"] = tuple(cautions[key] for key in fields.get("cautions", ()))
    fields["severe_factor"] = factor if fields.pop("severe", False) else Decimal(1)
    if "hours" in fields:
        fields["hours"] = Decimal(fields["hours"])
    if "season" in fields:
        fields["season"] = _season_point(fields["season"], where)
    return Task(**fields)


def _season_point(words: str, where: str) -> SeasonPoint:
    try:
        return SeasonPoint(words)
    except ValueError:
        known = " or ".join(f"“{point}”" for point in SeasonPoint)
        raise UpkeepDataError(f"{where}: the season must be {known}, not “{words}”.") from None


def _check_fields(entry: Mapping[str, Any], where: str) -> None:
    known = _REQUIRED | _OPTIONAL
    for name in _REQUIRED.keys() - entry.keys():
        raise UpkeepDataError(f"{where}: “{name}” is missing.")
    for name, value in entry.items():
        if name not in known:
            raise UpkeepDataError(f"{where}: “{name}” is not a field of a task.")
        _check_value(name, value, known[name], where)
    if not entry.keys() & {"hours", "months", "season", "uses"}:
        raise UpkeepDataError(f"{where}: say how often: hours, months, season or uses.")
    if "hours" in entry and not entry.keys() & {"months", "season"}:
        raise UpkeepDataError(f"{where}: hours need months or a season too, for unknown use.")


def _check_value(name: str, value: object, wanted: type, where: str) -> None:
    if wanted is Decimal and type(value) is int:
        value = Decimal(value)
    if type(value) is not wanted:
        raise UpkeepDataError(f"{where}: “{name}” has the wrong type of value: {value!r}.")
    if isinstance(value, int | Decimal) and not isinstance(value, bool) and value <= 0:
        raise UpkeepDataError(f"{where}: “{name}” must be more than 0, not {value}.")
    if isinstance(value, list) and not all(isinstance(item, str) for item in value):
        raise UpkeepDataError(f"{where}: “{name}” must be a list of words.")
