"""The demo's visits: which machine, which story, when, and what was special about it."""

import msgspec

from shopdesk.demo.owners import Machine, Owner
from shopdesk.demo.record import Record
from shopdesk.demo.stories import Story


class CardNote(Record, frozen=True):
    """Something to know of a model."""

    kind: str
    words: str


class CardLimit(Record, frozen=True):
    """A limit of a model, and where the figure stands."""

    check: str
    limit: str
    named_by: str


class Card(Record, frozen=True):
    """What goes on the model's card after a repair: settings by check, parts by their number."""

    settings: tuple[str, ...] = ()
    parts: tuple[str, ...] = ()
    notes: tuple[CardNote, ...] = ()
    limits: tuple[CardLimit, ...] = ()


class Way(Record, frozen=True):
    """A way out that the mechanic adds, as typed."""

    title: str
    words: str
    price: str
    cures: str
    hours: str = ""
    lead_days: str = ""
    life_hours: str = ""


class Explained(Record, frozen=True):
    """The ways out are put before the owner, and one of them goes on the ticket."""

    takes: str = ""
    """Key of the way that goes on the ticket; empty leaves the lines as the mechanic wrote them."""
    named: bool = False
    """The mechanic is sure of the cause and says so first."""
    price_new: str = ""
    ways: tuple[Way, ...] = ()


class GivenBack(Record, frozen=True):
    """A part of the invoice that was credited some days later."""

    row: int
    quantity: str
    why: str


class Visit(Record, frozen=True):
    """One visit of one machine. ``until`` leaves the ticket open after that step of the telling."""

    unit: str
    story: str
    days_ago: int
    until: str = ""
    owner: str = ""
    """Who brings it, when that is not its owner so far."""
    complaint: str = ""
    """What they say, when the story's words don't do for the season."""
    notes: str = ""
    promised_in: int = 0
    old_parts_back: bool = False
    deposit: str = ""
    supplier_days: int = 3
    """In how many days a supplier should have what has to be ordered."""
    readings: dict[str, str] = msgspec.field(default_factory=dict)
    """By check what was read on this visit, in place of what the story draws."""
    basket: str = ""
    """Which basket is ordered: ``cheapest`` or ``soonest``; else each part where it is cheapest."""
    explained: Explained | None = None
    off_the_bill: str = ""
    """A discount on the whole bill, as typed."""
    pays: tuple[str, ...] = ()
    """What is handed over: ``cash 40.00``, ``card`` for the rest."""
    clock_runs: bool = False
    """The bench clock was started on it the evening before, and not stopped."""
    said_done: tuple[str, ...] = ()
    """Upkeep that the owner says to have done since the last visit."""
    letters: int = 0
    """How many letters went out to an owner who does not fetch it."""
    comeback: bool = False
    credit: str = ""
    """Why the first invoice had to be taken back."""
    given_back: GivenBack | None = None
    agreed: str = ""
    """What was agreed about money that stayed owed."""
    settles_in: int = 12
    """After how many days that is paid; 0 for never."""
    written_off: str = ""
    """Why it was given up after so many days."""
    never_fetched: str = ""
    """What became of a machine that nobody fetched."""
    waits_its_turn: bool = False
    """Whether other work may come before it."""
    card: Card = Card()


class Letter(Record, frozen=True):
    """A message about upkeep, and what came of it: ``sent``, ``booked``, ``moved away``."""

    owner: str
    days_ago: int
    then: str
    note: str = ""
    way: str = ""


class Round(Record, frozen=True):
    """When all were written to whose machines were due so many days ahead, and who was not."""

    days_ago: int
    ahead: int
    not_to: tuple[str, ...]


class OwnEvery(Record, frozen=True):
    """How often upkeep is due on a model by the shop's own word."""

    make: str
    model: str
    task: str
    every: str
    named_by: str


class Walk(Record, frozen=True):
    """The one ticket that is taken through the whole job before the reader's eyes."""

    owner: Owner
    unit: Machine
    visit: Visit
    story: Story
