"""What the job hands out about parts, suppliers and stock: plain, unchanging values.

Days are in the shop's zone; money and quantities are ``Decimal``.
"""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal


@dataclass(frozen=True, slots=True)
class SupplierView:
    """Who sells us parts, and on what terms."""

    id: int
    version: int
    name: str
    phone: str
    email: str
    account: str
    notes: str
    postage: Decimal
    free_postage_from: Decimal | None
    least_order: Decimal | None
    lead_days: int
    active: bool


@dataclass(frozen=True, slots=True)
class PartRow:
    """A part in a list; ``price`` and ``cost`` are None where they are not known."""

    id: int
    number: str
    name: str
    condition: str
    bin: str
    quantity: Decimal
    """What lies in the bin."""
    reserved: Decimal
    """Of that, what tickets are waiting to have fitted."""
    free: Decimal
    on_order: Decimal
    price: Decimal | None
    price_words: str
    cost: Decimal | None
    cost_words: str
    is_kit: bool
    active: bool


@dataclass(frozen=True, slots=True)
class KitPartView:
    """So many of a part in a kit."""

    part_id: int
    number: str
    name: str
    quantity: Decimal


@dataclass(frozen=True, slots=True)
class FitView:
    """What a part is for; ``words`` say it whole."""

    id: int
    kind: str
    make_model: str
    cause: str
    cause_title: str
    task: str
    task_title: str
    quantity: Decimal
    words: str


@dataclass(frozen=True, slots=True)
class OfferView:
    """What a supplier asks for a pack; ``each`` is for one piece, ``days`` until it is here."""

    id: int
    version: int
    supplier_id: int
    supplier: str
    part_id: int
    supplier_number: str
    pack: Decimal
    cost: Decimal
    each: Decimal
    lead_days: int | None
    """Typed at the offer, or None: the supplier's."""
    days: int
    asked_on: date
    words: str


@dataclass(frozen=True, slots=True)
class MoveView:
    """Pieces that came into the bin (positive) or left it."""

    id: int
    on: date
    quantity: Decimal
    why: str
    cost: Decimal | None
    tag: str
    """The ticket's, or empty."""
    ticket_id: int | None
    note: str
    by: str


@dataclass(frozen=True, slots=True)
class CostView:
    """What one piece cost on a day: as received, or as a supplier asked."""

    on: date
    supplier: str
    each: Decimal
    what: str


@dataclass(frozen=True, slots=True)
class WaitView:
    """A line of a ticket that has the part reserved, or waits for it."""

    line_id: int
    ticket_id: int
    tag: str
    owner: str
    quantity: Decimal
    supply: str
    promised_on: date | None
    expected_on: date | None


@dataclass(frozen=True, slots=True)
class PartView:
    """One part with all that hangs on it."""

    row: PartRow
    id: int
    version: int
    number: str
    name: str
    condition: str
    fixed_price: Decimal | None
    price: Decimal | None
    price_words: str
    cost: Decimal | None
    cost_words: str
    bin: str
    quantity: Decimal
    reserved: Decimal
    free: Decimal
    on_order: Decimal
    reorder_at: Decimal | None
    reorder_to: Decimal | None
    warranty_days: int | None
    notes: str
    active: bool
    is_kit: bool
    holds: tuple[KitPartView, ...]
    fits: tuple[FitView, ...]
    offers: tuple[OfferView, ...]
    """The cheapest piece first."""
    moves: tuple[MoveView, ...]
    """The newest first."""
    costs: tuple[CostView, ...]
    """The newest first."""
    waits: tuple[WaitView, ...]
    """In the order in which they were promised."""
