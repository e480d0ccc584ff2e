"""Kits: several parts that are bought together, and opened into the single parts."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal

from shopdesk.errors import JobError
from shopdesk.job import typed
from shopdesk.job.parts.catalogue import find_part
from shopdesk.job.parts.opened import part_view
from shopdesk.job.parts.prices import costs_in_force
from shopdesk.job.parts.stock import KIT_OPENED, move
from shopdesk.job.parts.stock_levels import level_of
from shopdesk.job.parts.views import PartView
from shopdesk.job.shift import Change, Shift
from shopdesk.pricing.money import round_money, show_quantity
from shopdesk.records.fetch import rows_by
from shopdesk.records.tables import KitPart, OrderLine, Part


@dataclass(frozen=True, slots=True)
class KitEntry:
    """So many of a part in a kit, as typed."""

    part_id: int
    quantity: str = "1"


def set_kit(shift: Shift, kit_id: int, contents: Sequence[KitEntry]) -> PartView:
    """Say what a kit holds; nothing makes it a single part again.

    Raises ``JobError`` at ``part`` for a part named twice, or a kit that would hold itself.
    """
    with shift.changing() as change:
        kit = find_part(kit_id)
        wanted = _contents(kit, contents)
        for row in rows_by(KitPart, "kit_id", kit_id):
            if row.part_id not in wanted:
                change.remove(row)
                continue
            row.quantity = wanted.pop(row.part_id)
            change.save(row)
        for part_id, quantity in wanted.items():
            change.add(KitPart(kit=kit, part=part_id, quantity=quantity))
        return part_view(kit, change.shop)


def open_kit(shift: Shift, kit_id: int, quantity: str = "1", note: str = "") -> PartView:
    """Open kits that lie free in the bin: their parts go into stock one by one."""
    with shift.changing() as change:
        kit = find_part(kit_id)
        kits = typed.quantity(quantity, "quantity")
        free = level_of(kit_id).free
        if kits != int(kits) or kits > free:
            raise JobError(
                f"{show_quantity(free)} of “{kit.name}” lie free in the bin: "
                "type how many whole ones to open.",
                "quantity",
            )
        unpack(change, kit, kits, typed.line(note, "note", "The note"))
        return part_view(find_part(kit_id), change.shop)


def unpack(
    change: Change,
    kit: Part,
    kits: Decimal,
    note: str = "",
    order_line: OrderLine | None = None,
    cost: Decimal | None = None,
) -> None:
    """Put what ``kits`` hold into stock in their place, inside a transaction.

    What a kit cost (else what it costs now) is shared over its parts as they cost singly.
    """
    held = contents_of(kit)
    if not held:
        raise JobError(f"“{kit.name}” is no kit: say first what it holds.", "quantity")
    cost = costs_in_force([kit.id])[kit.id].cost if cost is None else cost
    words = ", ".join(filter(None, (f"out of {kit.number}", note)))
    move(change, kit, -kits, KIT_OPENED, order_line=order_line, cost=cost, note=note)
    for (part, each), share in zip(held, _shares(held, cost), strict=True):
        fresh = find_part(part.id)
        move(change, fresh, each * kits, KIT_OPENED, order_line=order_line, cost=share, note=words)


def contents_of(kit: Part) -> tuple[tuple[Part, Decimal], ...]:
    """Return the single parts that a kit holds, kits in it opened up; in a transaction.

    Nothing for a part that is no kit.
    """
    found: dict[int, Decimal] = {}
    for part_id, quantity in _single(kit.id, Decimal(1)):
        found[part_id] = found.get(part_id, Decimal(0)) + quantity
    return tuple((find_part(part_id), quantity) for part_id, quantity in found.items())


def _single(kit_id: int, times: Decimal) -> Iterator[tuple[int, Decimal]]:
    for row in rows_by(KitPart, "kit_id", kit_id):
        inner = list(_single(row.part_id, row.quantity * times))
        yield from inner or [(row.part_id, row.quantity * times)]


def _contents(kit: Part, contents: Sequence[KitEntry]) -> dict[int, Decimal]:
    wanted: dict[int, Decimal] = {}
    for entry in contents:
        part = find_part(entry.part_id)
        if part.id in wanted:
            raise JobError(f"“{part.name}” is named twice: type how many of it.", "part")
        if part.id == kit.id or _reaches(part.id, kit.id):
            through = "" if part.id == kit.id else f", through “{part.name}”"
            raise JobError(f"“{kit.name}” can't hold itself{through}.", "part")
        wanted[part.id] = typed.quantity(entry.quantity, "quantity")
    return wanted


def _reaches(kit_id: int, part_id: int) -> bool:
    held = rows_by(KitPart, "kit_id", kit_id)
    return any(row.part_id == part_id or _reaches(row.part_id, part_id) for row in held)


def _shares(
    held: Sequence[tuple[Part, Decimal]], cost: Decimal | None
) -> tuple[Decimal | None, ...]:
    """Return what one piece of each part cost: the kit's cost shared as they cost singly.

    Evenly by the piece where one's cost is not known.
    """
    if cost is None:
        return (None,) * len(held)
    known = costs_in_force([part.id for part, _ in held])
    costs = [known[part.id].cost for part, _ in held]
    weights = [each if each and all(costs) else Decimal(1) for each in costs]
    whole = sum(
        (weight * quantity for weight, (_, quantity) in zip(weights, held, strict=True)), Decimal(0)
    )
    return tuple(round_money(cost * weight / whole) for weight in weights)
