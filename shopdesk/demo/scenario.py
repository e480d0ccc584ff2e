"""What the demo shop is made from: particulars, owners, machines, and the stories of their visits.

Read from the TOML files of the demo folder; a misspelt key or a wrong type is refused there.
"""

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any, TypeVar

import msgspec

from shopdesk.demo.record import Record
from shopdesk.demo.stocked import Good, Seller
from shopdesk.job.labour.flat_times import FlatTimeEntry
from shopdesk.job.settings import ShopEntry, read_shop
from shopdesk.job.shop import Shop

Kept = TypeVar("Kept")


class Look(Record, frozen=True):
    """One thing looked at: a check of the catalogue, or with a ``title`` something not in it.

    Of several ``readings``, each as a mechanic types it, one is drawn by lot.
    """

    check: str = ""
    readings: tuple[str, ...] = ()
    title: str = ""
    words: str = ""
    verdict: str = ""
    note: str = ""
    id: str = ""
    """The name by which the story's lines point to it."""
    photo: str = ""
    """The picture taken of it."""


class Charge(Record, frozen=True, kw_only=True):
    """A line of the bill: what it is for stands under ``part``, ``labour``, ``fee`` or ``flat``.

    A part whose number is in the catalogue has its prices from there.
    """

    part: str = ""
    labour: str = ""
    fee: str = ""
    sublet: str = ""
    flat: str = ""
    """Name of a set time."""
    hours: str = ""
    price: str = ""
    cost: str = ""
    number: str = ""
    reason: str
    reason_note: str = ""
    finding: str = ""
    renews: str = ""
    supply: str = ""
    rate: str = ""
    """Name of a labour rate."""
    off: str = ""
    """What comes off this line, as typed."""
    unwanted: bool = False
    """Offered, but not wanted by the owner."""

    @property
    def kind(self) -> str:
        """The kind of line."""
        kinds = ("part", "labour", "fee", "sublet")
        return next((kind for kind in kinds if getattr(self, kind)), "labour")


class Off(Record, frozen=True, kw_only=True):
    """Something that comes off for the repair, as the mechanic notes it, and goes back after."""

    off: str
    sub_assembly: str = ""
    after: str = ""
    fasteners: tuple[str, ...] = ()
    mark: str = ""
    routing: str = ""
    setting: str = ""
    setting_limit: str = ""
    entered: str = ""
    """What the setting was set to, as typed on the way back."""
    photo: str = ""

    @property
    def count(self) -> str:
        """How many fasteners go back, as typed: all that came off."""
        return str(sum(int(kind.split()[0]) for kind in self.fasteners) or "")


class Spell(Record, frozen=True):
    """Time at the bench that is written down by hand, at the bench rate or another."""

    time: str
    rate: str = ""
    note: str = ""


class Story(Record, frozen=True, kw_only=True):
    """What may happen to a machine, from the owner's words to the proof run."""

    key: str
    kinds: tuple[str, ...]
    engines: tuple[str, ...] = ()
    months: tuple[int, ...] = tuple(range(1, 13))
    """In which months it usually comes in."""
    weight: int = 2
    """How often, beside the others; 0 means only where a visit names it."""
    complaint: tuple[str, ...]
    complaint_kind: str
    onset: str
    fuel: str = ""
    accessories: str = ""
    condition: str = ""
    limit: str = ""
    """How far the owner lets us go without a call; empty means that we ask first."""
    confirmed: str = ""
    confirmed_note: str = ""
    answer: str = "yes"
    answer_note: str = ""
    findings: tuple[Look, ...]
    lines: tuple[Charge, ...] = ()
    by_time: tuple[Spell, ...] = ()
    """Time and material: what it took, charged as it was written down."""
    settings: tuple[Look, ...] = ()
    again: tuple[Look, ...] = ()
    """Readings taken a second time at the proof run."""
    apart: tuple[Off, ...] = ()
    """What comes off for the repair, in that order."""
    cause: str = ""
    """Key of what it turns out to be; empty where nothing was found."""
    cause_words: str = ""

    def fits(self, unit: "Machine") -> bool:
        """Whether it can happen to this machine."""
        return unit.kind in self.kinds and (not self.engines or unit.engine in self.engines)


class Routine(Record, frozen=True, kw_only=True):
    """What is set and proved on every machine of a kind before it goes home."""

    kinds: tuple[str, ...] = ()
    engines: tuple[str, ...] = ()
    settings: tuple[Look, ...] = ()
    proof: tuple[Look, ...]

    def fits(self, unit: "Machine") -> bool:
        """Whether it is for this machine."""
        return (not self.kinds or unit.kind in self.kinds) and unit.engine in self.engines


class Machine(Record, frozen=True):
    """A machine of an owner; ``years`` is its age today."""

    key: str
    kind: str
    engine: str
    make: str
    model: str
    serial: str
    years: int
    hours_per_week: str
    first_month: str
    last_month: str
    severe_use: bool = False
    meter_hours: str = ""
    """What its hour meter reads today."""


class Owner(Record, frozen=True):
    """An owner with the machines that are theirs at first."""

    name: str
    phones: tuple[str, ...]
    email: str = ""
    address: str = ""
    notes: str = ""
    tax_exempt_number: str = ""
    may_remind: bool = True
    shared_phone: bool = False
    preferred_way: str = ""
    units: tuple[Machine, ...] = ()


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
    readings: dict[str, str] = {}
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
    card: Card = Card()


class Letter(Record, frozen=True):
    """A message about upkeep and what came of it: ``sent``, ``booked``, ``moved away`` …"""

    owner: str
    days_ago: int
    then: str
    note: str = ""
    way: str = ""


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


@dataclass(frozen=True, slots=True)
class Scenario:
    """All of it."""

    shop_entry: ShopEntry
    shop: Shop
    """What the entry comes to."""
    flat_times: tuple[FlatTimeEntry, ...]
    sellers: tuple[Seller, ...]
    goods: tuple[Good, ...]
    letters: tuple[Letter, ...]
    own_intervals: tuple[OwnEvery, ...]
    staff: tuple[str, str]
    """Who stands at the counter, and who at the bench."""
    routines: tuple[Routine, ...]
    stories: Mapping[str, Story]
    owners: tuple[Owner, ...]
    visits: tuple[Visit, ...]
    walk: Walk

    def routine_for(self, unit: Machine) -> Routine:
        """Return what is set and proved on this machine; the scenario has it for every kind."""
        return next(routine for routine in self.routines if routine.fits(unit))


def load_scenario(folder: Path) -> Scenario:
    """Read the scenario; raises ``msgspec.ValidationError`` where a file says what can't be."""
    shop = _read(folder / "shop.toml")
    told = [_read(file)["story"] for file in sorted(folder.glob("stories-*.toml"))]
    stories = msgspec.convert([story for stories in told for story in stories], tuple[Story, ...])
    entry = msgspec.convert(shop["shop"], ShopEntry)
    return Scenario(
        shop_entry=entry,
        shop=read_shop(entry),
        flat_times=msgspec.convert(shop["flat_time"], tuple[FlatTimeEntry, ...]),
        sellers=_entries(folder / "suppliers.toml", "supplier", Seller),
        goods=_entries(folder / "parts.toml", "part", Good),
        letters=_entries(folder / "letters.toml", "letter", Letter),
        own_intervals=_entries(folder / "letters.toml", "own_interval", OwnEvery),
        staff=msgspec.convert(shop["staff"], tuple[str, str]),
        routines=_entries(folder / "routines.toml", "routine", Routine),
        stories={story.key: story for story in stories},
        owners=_entries(folder / "owners.toml", "owner", Owner),
        visits=_entries(folder / "visits.toml", "visit", Visit),
        walk=msgspec.convert(_read(folder / "walk.toml"), Walk),
    )


def _entries(file: Path, table: str, kind: type[Kept]) -> tuple[Kept, ...]:
    return tuple(msgspec.convert(entry, kind) for entry in _read(file)[table])


def _read(file: Path) -> dict[str, Any]:
    with file.open("rb") as opened:
        return tomllib.load(opened)
