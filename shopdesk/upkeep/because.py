"""Says in one line why a task falls due when it does, so that an owner can follow the reckoning."""

from dataclasses import dataclass
from datetime import date
from decimal import ROUND_HALF_UP, Decimal
from enum import StrEnum

from shopdesk.dates import MONTH_NAMES
from shopdesk.upkeep.tasks import SeasonPoint
from shopdesk.upkeep.use import Season


class Ground(StrEnum):
    """What set a due date."""

    HOURS = "hours"
    MONTHS = "months"
    SEASON = "season"


@dataclass(frozen=True, slots=True)
class Reckoning:
    """What a due date was worked out from.

    `on` is the date and `ground` what set it; `hours` and `months` are the intervals in force, with
    `interval_note` saying where they are not the usual ones. `hours_so_far` is None where use is
    not known, and `measured` where it was read off an hour meter.
    """

    on: date
    ground: Ground
    today: date
    last_done: date
    ever_done: bool
    hours: Decimal | None
    months: int | None
    interval_note: str
    hours_so_far: Decimal | None
    measured: bool
    season_point: SeasonPoint | None
    season: Season | None
    season_assumed: bool

    @property
    def words(self) -> str:
        """The line: "about 41 h since May, due at 50 h: mid-June"."""
        if not self.ever_done and self.on < self.today and self.ground is not Ground.SEASON:
            return f"{self._never_words()}: now"
        if self.ground is Ground.HOURS:
            return f"{self._hours_words()}: {self._when()}"
        if self.ground is Ground.MONTHS:
            return f"{self._months_words()}: {self._when()}{self._hours_aside()}"
        season = f"{self.season_point}, {self._due()} {self._when()}"
        return f"{season}{self._season_aside()}{self._hours_aside()}"

    def _never_words(self) -> str:
        """Of what nobody noted and would have been due long ago, hours since then say little."""
        hours = f"{self._limit()} h" if self.hours is not None else ""
        months = f"{self.months} months" if self.months is not None else ""
        every = " or ".join(filter(None, (hours, months)))
        since = _month(self.last_done, self.today)
        return f"not recorded since {since}, due every {every}{self.interval_note}"

    def _hours_words(self) -> str:
        record = "" if self.ever_done else " (not recorded before)"
        since = f"since {_month(self.last_done, self.today)}{record}"
        limit = f"{self._due()} at {self._limit()} h{self.interval_note}"
        return f"{self._so_far()} {since}, {limit}"

    def _months_words(self) -> str:
        month = _month(self.last_done, self.today)
        last = f"last done {month}" if self.ever_done else f"not recorded since {month}"
        every = "every month" if self.months == 1 else f"every {self.months} months"
        return f"{last}, {self._due()} {every}{self.interval_note}"

    def _hours_aside(self) -> str:
        if self.hours is None:
            return ""
        if self.hours_so_far is None:
            return "; hours not recorded, so by the calendar alone"
        return f"; {self._so_far()} of {self._limit()} by now"

    def _season_aside(self) -> str:
        if self.season is None:
            return ""
        usual = ", the usual one" if self.season_assumed else ""
        return f" (season {self.season.words}{usual})"

    def _so_far(self) -> str:
        hours = hours_words(self.hours_so_far or Decimal(0))
        return f"{hours} h on the meter" if self.measured else f"about {hours} h"

    def _limit(self) -> str:
        return f"{(self.hours or Decimal(0)).normalize():f}"

    def _due(self) -> str:
        return "due" if self.on >= self.today else "was due"

    def _when(self) -> str:
        return rough_date(self.on, self.today)


def rough_date(day: date, today: date) -> str:
    """Return a day as people speak of it: "mid-June", "early April 2027" (the year if another)."""
    month = _month(day, today)
    if day.day <= 10:
        return f"early {month}"
    return f"mid-{month}" if day.day <= 20 else f"late {month}"


def hours_words(hours: Decimal) -> str:
    """Return hours rounded for reading: whole, or in halves under ten ("2.5", "41")."""
    if hours >= 10:
        return f"{hours.quantize(Decimal(1), ROUND_HALF_UP)}"
    halves = (hours * 2).quantize(Decimal(1), ROUND_HALF_UP) / 2
    return f"{halves.normalize():f}"


def _month(day: date, today: date) -> str:
    name = MONTH_NAMES[day.month - 1]
    return name if day.year == today.year else f"{name} {day.year}"
