"""What may happen to a machine of the demo: from the owner's words to the proof run."""

from shopdesk.demo.owners import Machine
from shopdesk.demo.record import Record


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

    def fits(self, unit: Machine) -> bool:
        """Whether it can happen to this machine."""
        return unit.kind in self.kinds and (not self.engines or unit.engine in self.engines)


class Routine(Record, frozen=True, kw_only=True):
    """What is set and proved on every machine of a kind before it goes home."""

    kinds: tuple[str, ...] = ()
    engines: tuple[str, ...] = ()
    settings: tuple[Look, ...] = ()
    proof: tuple[Look, ...]

    def fits(self, unit: Machine) -> bool:
        """Whether it is for this machine."""
        return (not self.kinds or unit.kind in self.kinds) and unit.engine in self.engines
