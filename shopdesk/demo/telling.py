"""Tells visits through the job's own functions, each thing at its moment, many tickets side by side."""

import heapq
from collections.abc import Callable, Iterable, Iterator
from datetime import datetime
from random import Random
from typing import NamedTuple

from shopdesk.demo import agreeing, bringing, finishing
from shopdesk.demo.clock import Clock, Wait
from shopdesk.demo.told import Told

Step = Callable[[Told], Iterator[Wait]]
Pace = Callable[[datetime, Wait, Random], datetime]

STEPS: dict[str, Step] = {
    "taken in": bringing.bring_in,
    "on the bench": bringing.look,
    "found": bringing.find,
    "priced": agreeing.price,
    "asked": agreeing.ask,
    "answered": agreeing.answer,
    "to order": agreeing.wait_for_parts,
    "on order": agreeing.order,
    "received": agreeing.receive,
    "half mended": finishing.begin_repair,
    "mended": finishing.mend,
    "told": finishing.tell_owner,
    "invoiced": finishing.bill,
    "closed": finishing.go_home,
    "remembered": finishing.remember,
}
"""The job in the order in which it is done; a visit's ``until`` names the last of them."""


class Turn(NamedTuple):
    """When a ticket's next thing happens; ``order`` decides between two at the same moment."""

    at: datetime
    order: int
    told: Told
    rest: Iterator[Wait]


def tell(told: Told) -> Iterator[Wait]:
    """Tell a visit step by step, until the one that leaves it open."""
    for name, step in STEPS.items():
        yield from step(told)
        if name == told.visit.until:
            return


def tell_all(begun: Iterable[tuple[datetime, Told]], clock: Clock, end: datetime, pace: Pace) -> None:
    """Tell the visits side by side in the order of time; what would come after ``end`` has not happened yet."""
    turns = [Turn(at, order, told, tell(told)) for order, (at, told) in enumerate(begun)]
    heapq.heapify(turns)
    for turn in turns:
        next(turn.rest)
    while turns and turns[0].at <= end:
        at, order, told, rest = turns[0]
        clock.local = at
        wait = next(rest, None)
        if wait is None:
            heapq.heappop(turns)
        else:
            heapq.heapreplace(turns, Turn(pace(at, wait, told.luck), order, told, rest))
