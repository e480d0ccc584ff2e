"""What the demo's shop can buy and has in its bins: suppliers, parts, kits, what they fit."""

import msgspec

from shopdesk.demo.record import Record


class Seller(Record, frozen=True):
    """A supplier, as typed."""

    key: str
    name: str
    phone: str
    lead_days: str
    postage: str
    email: str = ""
    account: str = ""
    notes: str = ""
    free_postage_from: str = ""
    least_order: str = ""


class Pack(Record, frozen=True, rename={"seller": "from"}):
    """What several pieces together cost at a supplier."""

    seller: str
    pack: str
    cost: str


class Fits(Record, frozen=True):
    """Which machines a part fits, the causes that it cures there, the upkeep that it does."""

    kinds: tuple[str, ...] = ()
    models: tuple[str, ...] = ()
    """Make and model, with a blank between."""
    causes: tuple[str, ...] = ()
    task: str = ""


class Good(Record, frozen=True, kw_only=True):
    """A part or a kit of the catalogue."""

    number: str
    name: str
    condition: str = "new"
    price: str = ""
    bin: str = ""
    have: str = ""
    """How many lay in the bin when the shop began to count."""
    at: str = ""
    to: str = ""
    left: str = ""
    """How many there were at the last count."""
    warranty: str = ""
    offers: dict[str, str] = msgspec.field(default_factory=dict)
    """By supplier what one costs."""
    packs: tuple[Pack, ...] = ()
    holds: dict[str, str] = msgspec.field(default_factory=dict)
    """By number how many of another part lie in this kit."""
    fits: tuple[Fits, ...] = ()
