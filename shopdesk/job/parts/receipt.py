"""What came with a delivery, as typed, and what became of it, as it is told."""

from dataclasses import dataclass
from decimal import Decimal

from shopdesk.job.parts.order_views import OrderView


@dataclass(frozen=True, slots=True)
class PackedEntry:
    """What came of an order's line, as typed: so many packs, and what one cost if not as said."""

    line_id: int
    packs: str = ""
    cost: str = ""


@dataclass(frozen=True, slots=True)
class ReceiptEntry:
    """A delivery as typed. Lines left empty did not come; ``postage`` as it was charged."""

    lines: tuple[PackedEntry, ...]
    postage: str = ""
    note: str = ""
    confirmed: frozenset[int] = frozenset()
    """The lines whose cost was asked about, and is so."""


@dataclass(frozen=True, slots=True)
class Came:
    """What came of one line; ``each`` is what a piece cost."""

    number: str
    name: str
    packs: Decimal
    pieces: Decimal
    each: Decimal
    words: str


@dataclass(frozen=True, slots=True)
class TicketGot:
    """What a ticket got, and whether it moved on to Repair or what is missing before it may."""

    ticket_id: int
    tag: str
    owner: str
    machine: str
    got: tuple[str, ...]
    moved_on: bool
    missing: tuple[str, ...]

    @property
    def words(self) -> str:
        """All of it in a sentence."""
        got = f"{self.tag} got {', '.join(self.got)}"
        if self.moved_on:
            return f"{got} and is in Repair now."
        return (
            f"{got}; not yet in Repair: {'; '.join(self.missing)}." if self.missing else f"{got}."
        )


@dataclass(frozen=True, slots=True)
class Receipt:
    """A delivery as it was taken in."""

    order: OrderView
    came: tuple[Came, ...]
    tickets: tuple[TicketGot, ...]
    into_stock: tuple[str, ...]
    """What is left for nobody: ``3 × Fuel filter, bin C4``."""

    @property
    def words(self) -> str:
        """All of it in a few sentences."""
        sentences = [
            f"Order {self.order.number}: {', '.join(one.words for one in self.came)} came."
        ]
        sentences += [ticket.words for ticket in self.tickets]
        if self.into_stock:
            sentences.append(f"Into stock: {'; '.join(self.into_stock)}.")
        return " ".join(sentences)
