"""Tells visits through the job's own functions, each thing at its time, tickets side by side."""

import heapq
from collections.abc import Callable, Iterator
from datetime import datetime
from random import Random
from typing import NamedTuple

from shopdesk.demo import (
    agreeing,
    apart,
    bringing,
    explaining,
    finishing,
    going_home,
    orders,
    reminding,
)
from shopdesk.demo.clock import Clock, Wait, shop_pace
from shopdesk.demo.told import Told

Pace = Callable[[datetime, Wait, Random], datetime]

STEPS: dict[str, Callable[[Told], Iterator[Wait]]] = {
    "taken in": bringing.bring_in,
    "on the bench": bringing.look,
    "found": bringing.find,
    "explained": explaining.explain,
    "priced": agreeing.price,
    "asked": agreeing.ask,
    "answered": agreeing.answer,
    "to order": agreeing.wait_for_parts,
    "on order": orders.order,
    "received": orders.arrive,
    "half mended": finishing.begin_repair,
    "half together": apart.put_half_back,
    "mended": finishing.mend,
    "told": going_home.tell_owner,
    "written to": going_home.write_letters,
    "invoiced": going_home.bill,
    "closed": going_home.go_home,
    "settled": going_home.settle,
    "remembered": reminding.remember,
}
"""The job in the order in which it is done; a visit's ``until`` names the last of them."""


class Turn(NamedTuple):
    """When a tale's next thing happens; ``order`` decides between two at the same moment."""

    at: datetime
    order: int
    rest: Iterator[Wait]
    luck: Random
    pace: Pace


class Telling:
    """Tickets and errands under way, and the clock that all of them share."""

    def __init__(self, clock: Clock) -> None:
        self._clock = clock
        self._turns: list[Turn] = []
        self._begun = 0

    def begin(self, told: Told, at: datetime, pace: Pace = shop_pace) -> None:
        """Have a visit begin at a moment, by the shop's wall clock."""
        self.errand(tell(told), at, told.luck, pace)

    def errand(
        self, tale: Iterator[Wait], at: datetime, luck: Random, pace: Pace = shop_pace
    ) -> None:
        """Have something begin that is no ticket's."""
        heapq.heappush(self._turns, Turn(at, self._begun, tale, luck, pace))
        self._begun += 1

    def run(self, until: datetime) -> None:
        """Tell what happens up to a moment; what comes after it has not happened yet."""
        while self._turns and self._turns[0].at <= until:
            turn = self._turns[0]
            self._clock.local = turn.at
            wait = next(turn.rest, None)
            if wait is None:
                heapq.heappop(self._turns)
            else:
                following = turn.pace(turn.at, wait, turn.luck)
                heapq.heapreplace(self._turns, turn._replace(at=following))


def tell(told: Told) -> Iterator[Wait]:
    """Tell a visit step by step, until the one that leaves it open."""
    for name, step in STEPS.items():
        yield from step(told)
        if name == told.visit.until:
            return
