"""Whom to invite in the quiet weeks, so that the spring rush comes as level as it can.

Each machine may be invited from some week up to the one it is due in, never later. The weeks have
a load of their own: what usually comes in unasked. An invitation is moved to another week, along a
chain of others if need be, as long as that makes the weeks more even; when no chain does, none
better exists (Harvey, Ladner, Lovász and Tamir, "Semi-matchings for bipartite graphs and load
balancing", 2006).
"""

from __future__ import annotations

from collections import deque
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal

WEEK = timedelta(days=7)


@dataclass(frozen=True, slots=True)
class Guest:
    """Someone to invite between the two days, the last being the day that it is due."""

    key: int
    earliest: date
    due: date


def monday_of(day: date) -> date:
    """Return the Monday of the week that the day lies in."""
    return day - timedelta(days=day.weekday())


def level(guests: Sequence[Guest], usual: Mapping[date, Decimal], today: date) -> dict[int, date]:
    """Return by guest the Monday of the week to invite them for, the weeks as even as can be.

    `usual` holds by Monday how many machines come in unasked. Whoever is due already is invited
    for this week. Of equally even ways, the earlier weeks go to those who are due first.
    """
    weeks = {guest.key: _weeks(guest, today) for guest in guests}
    in_order = sorted(guests, key=lambda guest: (guest.due, guest.key))
    plan = _Plan(weeks, usual)
    for guest in in_order:
        plan.seat(guest.key)
    while plan.improve():
        pass
    return plan.by_guest()


def _weeks(guest: Guest, today: date) -> tuple[date, ...]:
    last = max(monday_of(guest.due), monday_of(today))
    week = min(max(monday_of(guest.earliest), monday_of(today)), last)
    found = [week]
    while found[-1] < last:
        found.append(found[-1] + WEEK)
    return tuple(found)


class _Plan:
    """Who is invited for which week, and how full each week is."""

    def __init__(
        self, weeks: Mapping[int, tuple[date, ...]], usual: Mapping[date, Decimal]
    ) -> None:
        self._may = weeks
        self._usual = usual
        self._seated: dict[date, list[int]] = {
            week: [] for choices in weeks.values() for week in choices
        }

    def seat(self, key: int) -> None:
        """Put a guest into the emptiest of their weeks, the earliest of those."""
        self._seated[min(self._may[key], key=self._load)].append(key)

    def improve(self) -> bool:
        """Make one move, or a chain of them, that evens the weeks out; false when none does."""
        for week in sorted(self._seated, key=self._load, reverse=True):
            chain = self._chain_from(week)
            if chain:
                for key, start, end in chain:
                    self._seated[start].remove(key)
                    self._seated[end].append(key)
                return True
        return False

    def by_guest(self) -> dict[int, date]:
        """Return each guest's week."""
        return {key: week for week, keys in self._seated.items() for key in keys}

    def _load(self, week: date) -> Decimal:
        return self._usual.get(week, Decimal(0)) + len(self._seated[week])

    def _chain_from(self, start: date) -> list[tuple[int, date, date]]:
        """Return moves that take one guest out of `start` to a week emptier by more than one."""
        came: dict[date, tuple[int, date]] = {}
        queue = deque([start])
        while queue:
            week = queue.popleft()
            if self._load(week) + 1 < self._load(start):
                return self._moves(came, start, week)
            for key in self._seated[week]:
                for other in self._may[key]:
                    if other not in came and other != start:
                        came[other] = (key, week)
                        queue.append(other)
        return []

    @staticmethod
    def _moves(
        came: Mapping[date, tuple[int, date]], start: date, end: date
    ) -> list[tuple[int, date, date]]:
        moves = []
        while end != start:
            key, week = came[end]
            moves.append((key, week, end))
            end = week
        return moves
