"""Time at the bench as the window shows it, and what it comes to for each rate and person."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from decimal import Decimal

from shopdesk.job.shop import Shop
from shopdesk.pricing.labour import SECONDS_IN_A_MINUTE, billed_hours
from shopdesk.pricing.money import show_quantity
from shopdesk.records.fetch import rows_by
from shopdesk.records.tables import WorkSpell

DIAGNOSIS, REPAIR = WORKS = ("diagnosis", "repair")
"""What time at the bench was for."""
MINUTES_IN_AN_HOUR, SECONDS_IN_AN_HOUR = 60, 3600
LONGEST = timedelta(hours=10)
"""A clock that ran longer was forgotten: nobody is billed by it."""


@dataclass(frozen=True, slots=True)
class SpellView:
    """A spell at the bench, by the clock or written by hand."""

    id: int
    person: str
    work: str
    rate: str
    """Name of the labour rate; empty for the bench rate."""
    note: str
    started_at: datetime
    stopped_at: datetime | None
    seconds: int
    """0 while it runs, and while nobody said how long it was."""
    by_hand: bool
    line_id: int | None
    """The labour line that it is charged on."""

    @property
    def running(self) -> bool:
        """Whether the clock is still on."""
        return self.stopped_at is None

    @property
    def unsure(self) -> bool:
        """Whether the clock ran on past a day's work and nobody said yet how long it was."""
        return not self.by_hand and ran_too_long(self.started_at, self.stopped_at)


@dataclass(frozen=True, slots=True)
class TimeSum:
    """The time for one kind of work at one rate; ``hours`` is all of it in billable tenths."""

    work: str
    rate: str
    seconds: int
    hours: Decimal
    free_seconds: int
    """What of it is on no line yet."""


@dataclass(frozen=True, slots=True)
class PersonTime:
    """One person's time."""

    person: str
    seconds: int


def spell_views(ticket_id: int) -> tuple[SpellView, ...]:
    """Return a ticket's spells in the order they began, inside a transaction."""
    return tuple(map(spell_view, rows_by(WorkSpell, "ticket_id", ticket_id, "started_at")))


def spell_view(row: WorkSpell) -> SpellView:
    """Return the row as a plain value."""
    return SpellView(
        id=row.id,
        person=row.person,
        work=row.work,
        rate=row.rate,
        note=row.note,
        started_at=row.started_at,
        stopped_at=row.stopped_at,
        seconds=_seconds(row),
        by_hand=row.minutes is not None,
        line_id=row.line_id,
    )


def time_sums(spells: Iterable[SpellView], shop: Shop) -> tuple[TimeSum, ...]:
    """Return what time comes to for each kind of work and rate, each rounded once."""
    sums: dict[tuple[str, str], list[SpellView]] = {}
    for spell in spells:
        sums.setdefault((spell.work, spell.rate), []).append(spell)
    return tuple(
        TimeSum(
            work,
            rate,
            sum(spell.seconds for spell in some),
            billed_hours((spell.seconds for spell in some), shop.tenths),
            sum(spell.seconds for spell in some if spell.line_id is None),
        )
        for (work, rate), some in sorted(sums.items())
    )


def time_by_person(spells: Iterable[SpellView]) -> tuple[PersonTime, ...]:
    """Return each person's time, in the order of their names."""
    people: dict[str, int] = {}
    for spell in spells:
        people[spell.person] = people.get(spell.person, 0) + spell.seconds
    return tuple(PersonTime(person, seconds) for person, seconds in sorted(people.items()))


def whose_clock(person: str) -> str:
    """Return what a person's clock is called at the beginning of a sentence."""
    return f"{person}’s clock" if person else "The clock"


def time_words(seconds: int) -> str:
    """Return a length of time as people say it: ``27 min``, ``1 h 20 min``."""
    hours, rest = divmod(_rounded(seconds), MINUTES_IN_AN_HOUR)
    return f"{hours} h {rest} min" if hours else f"{rest} min"


def whole_minutes(seconds: int) -> int:
    """Return a spell as it is typed again: in whole minutes, one at least."""
    return max(1, _rounded(seconds))


def sums_words(sums: Sequence[TimeSum]) -> str:
    """Return what time comes to: ``Repair: 1 h 20 min = 1.3 h``, one rate after the other."""
    return "    ".join(
        f"{one.work.capitalize()}{f' ({one.rate})' if one.rate else ''}: "
        f"{time_words(one.seconds)} = {show_quantity(one.hours)} h"
        for one in sums
    )


def ran_too_long(started_at: datetime, stopped_at: datetime | None) -> bool:
    """Whether a clock ran longer than anybody works: it was forgotten."""
    return stopped_at is not None and stopped_at - started_at > LONGEST


def _seconds(row: WorkSpell) -> int:
    if row.minutes is not None:
        return int(row.minutes * SECONDS_IN_A_MINUTE)
    if row.stopped_at is None or ran_too_long(row.started_at, row.stopped_at):
        return 0
    ran: timedelta = row.stopped_at - row.started_at
    return max(0, ran // timedelta(seconds=1))


def _rounded(seconds: int) -> int:
    return (seconds + SECONDS_IN_A_MINUTE // 2) // SECONDS_IN_A_MINUTE
