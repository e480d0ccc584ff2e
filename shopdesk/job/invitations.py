"""Whom to invite in which week, so that the rush comes level: by the shop's own past years."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal

from shopdesk.dates import MONTHS, local_day
from shopdesk.job.due_list import DueOwner
from shopdesk.job.reports.middle import to_tenth
from shopdesk.job.reports.report import Kind, Strip, Strips
from shopdesk.job.shift import Shift, load_shop
from shopdesk.pricing.money import show_quantity
from shopdesk.records.tables import Ticket
from shopdesk.text import counted
from shopdesk.upkeep.levelling import WEEK, Guest, level, monday_of

EARLIEST = timedelta(days=60)
"""So long ahead of its day upkeep may be done: what is done then still counts for the season."""
LATE_WITHIN = timedelta(weeks=2)
"""Whose day has come already is invited up to then: all in this week would only make a new rush."""
YEARS = 2
"""Past years that tell how many machines usually come in."""


@dataclass(frozen=True, slots=True)
class InvitedWeek:
    """One week: how many machines usually come in unasked, and whom to invite for it."""

    monday: date
    usual: Decimal
    owners: tuple[DueOwner, ...]

    @property
    def day(self) -> str:
        """Its Monday as a picture names it: ``14 Mar``."""
        return f"{self.monday.day} {MONTHS[self.monday.month - 1]}"

    @property
    def machines(self) -> int:
        """How many machines they would bring."""
        return sum(len(owner.machines) for owner in self.owners)


@dataclass(frozen=True, slots=True)
class Invitations:
    """The weeks ahead with their guests, and how many machines the fullest week usually brings."""

    weeks: tuple[InvitedWeek, ...]
    pace: Decimal

    @property
    def week_of(self) -> dict[int, date]:
        """By owner, the Monday of the week that they are best invited for."""
        return {one.customer_id: week.monday for week in self.weeks for one in week.owners}

    @property
    def picture(self) -> Strips:
        """What usually comes in and what is invited, week by week."""
        return Strips(
            "Machines a week",
            tuple(week.day for week in self.weeks),
            (
                Strip("Usually come in", tuple(week.usual for week in self.weeks)),
                Strip("Invited", tuple(Decimal(week.machines) for week in self.weeks)),
            ),
            Kind.COUNT,
        )

    @property
    def words(self) -> str:
        """What the picture says, and which weeks go over the usual pace."""
        asked = sum(len(week.owners) for week in self.weeks)
        if not asked:
            return "Nobody is to be invited."
        machines = sum(week.machines for week in self.weeks)
        said = f"{counted(asked, 'owner')} with {counted(machines, 'machine')} to invite."
        if not self.pace:
            return f"{said} No past year is known yet: the weeks are filled evenly."
        over = [week for week in self.weeks if week.owners and self._is_over(week)]
        many = "machine" if self.pace == 1 else "machines"
        said += f" The fullest week usually brings {show_quantity(self.pace)} {many}."
        if over:
            weeks = "week" if len(over) == 1 else "weeks"
            named = ", ".join(week.day for week in over)
            said += f" Fuller than that, as nothing may come late: the {weeks} of {named}."
        return said

    def _is_over(self, week: InvitedWeek) -> bool:
        return week.usual + week.machines > self.pace


def invitations(shift: Shift, owners: Sequence[DueOwner]) -> Invitations:
    """Return the weeks from this one on to the last that anything is due in, each with its guests.

    Nobody is invited later than the week that their first task is due in, or ``LATE_WITHIN``
    where its day has come already.
    """
    with shift.records.reading():
        shop = load_shop()
        today = shift.today_in(shop)
        usual = usual_weeks(shop.zone, today)
    pace = max(usual.values())
    reachable = {one.customer_id: one for one in owners if one.way}
    guests = [_guest(one, today) for one in reachable.values()]
    chosen = level(guests, usual, today)
    last = max((one.due for one in guests), default=today)
    weeks, monday = [], monday_of(today)
    while monday <= monday_of(last):
        theirs = tuple(one for key, one in reachable.items() if chosen[key] == monday)
        weeks.append(InvitedWeek(monday, usual.get(monday, Decimal(0)), theirs))
        monday += WEEK
    return Invitations(tuple(weeks), pace)


def _guest(owner: DueOwner, today: date) -> Guest:
    late = owner.due_on <= today
    last = today + LATE_WITHIN if late else owner.due_on
    return Guest(owner.customer_id, owner.due_on - EARLIEST, last)


def usual_weeks(zone: str, today: date) -> dict[date, Decimal]:
    """Return by Monday of the year ahead how many machines came in then, the mean of past years.

    Inside a transaction. A week is held against those of the same number in the past.
    """
    since = today - timedelta(days=366 * YEARS)
    taken_in = Ticket.select(Ticket.taken_in_at).where(Ticket.taken_in_at >= since)
    days = [local_day(row.taken_in_at, zone) for row in taken_in]
    counts = Counter(day.isocalendar()[:2] for day in days)
    years = _years_known(days, today)
    found: dict[date, Decimal] = {}
    monday = monday_of(today)
    for _ in range(53):
        year, week, _day = monday.isocalendar()
        before = [counts.get((year - back, week), 0) for back in range(1, years + 1)]
        found[monday] = to_tenth(Decimal(sum(before)) / years) if years else Decimal(0)
        monday += WEEK
    return found


def _years_known(days: Sequence[date], today: date) -> int:
    """Return over how many past years the shop took machines in, at most ``YEARS``."""
    if not days:
        return 0
    return min(YEARS, max(1, round((today - min(days)).days / 365)))
