"""A visit while it is told: who is at the desk, how the ticket stands, and what was found."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path
from random import Random

from shopdesk.demo.owners import Machine, Owner
from shopdesk.demo.scenario import Scenario
from shopdesk.demo.storeroom import Storeroom
from shopdesk.demo.stories import Story
from shopdesk.demo.visits import Visit
from shopdesk.job.shift import Shift
from shopdesk.job.stages import Stage
from shopdesk.job.views import TicketView


@dataclass(slots=True)
class Cast:
    """What all visits share: the two people at work, and who owns which machine so far."""

    scenario: Scenario
    counter: Shift
    bench: Shift
    pictures: Callable[[str], Path]
    """Draws the picture of that name and returns its file."""
    owners: Mapping[str, Owner]
    owner_of: dict[str, Owner]
    """Whose a machine is by now, by its key."""
    room: Storeroom
    flat_ids: dict[str, int]
    """The set times, by name."""
    today: date
    """The eve of the day on which the demo opens."""
    no_letters_since: date
    """From this day on nobody had the time to send out what falls due."""
    clocked_since: date
    """From this day on the bench clocks its time."""
    reminds_since: date
    """From this day on upkeep is noted as a machine goes home."""
    customer_ids: dict[str, int] = field(default_factory=dict)
    unit_ids: dict[str, int] = field(default_factory=dict)
    sent_reminders: dict[str, int] = field(default_factory=dict)
    """The letter that a machine's owner has had and not yet answered."""


QUEUE = (1, 1, 1, 1, 2, 3, 4, 8)
"""Days that a machine waits for the bench, drawn by lot."""
Hearer = Callable[[Stage, str], None]
"""Hears what is done on a ticket: the stage that it is in, and a sentence."""


def nobody(_stage: Stage, _words: str) -> None:
    """Hear nothing."""


@dataclass(slots=True)
class Told:
    """One visit in the telling."""

    cast: Cast
    visit: Visit
    story: Story
    unit: Machine
    luck: Random
    hearer: Hearer = nobody
    ticket: TicketView | None = None
    finding_ids: dict[str, int] = field(default_factory=dict)
    line_ids: list[int] = field(default_factory=list)
    """Of the story's charges, in their order."""
    orders: dict[int, date] = field(default_factory=dict)
    """The orders that were placed for it, with the day on which they come."""
    by_hand: dict[int, date] = field(default_factory=dict)
    """The lines whose part is ordered without the catalogue."""

    @property
    def is_heard(self) -> bool:
        """Whether anybody hears of it."""
        return self.hearer is not nobody

    def say(self, words: str) -> None:
        """Have the hearer hear of what was just done."""
        self.hearer(self.now.stage, " ".join(words.split()))

    @property
    def now(self) -> TicketView:
        """The ticket as it stands."""
        assert self.ticket is not None, "not taken in yet"
        return self.ticket

    @property
    def id(self) -> int:
        """The ticket's id."""
        return self.now.id

    @property
    def owner(self) -> Owner:
        """Who brought the machine."""
        return self.cast.owner_of[self.unit.key]

    def days_in_the_queue(self) -> int:
        """Draw how many days it waits before the bench comes to it."""
        return self.luck.choice(QUEUE) if self.visit.waits_its_turn else 1

    def in_stage(self, *stages: Stage) -> bool:
        """Whether the ticket stands in one of these stages."""
        return self.now.stage in stages
