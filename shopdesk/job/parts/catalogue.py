"""The catalogue of parts: writing one down, changing it, and leaving it out of the lists."""

from dataclasses import dataclass

from shopdesk.errors import JobError
from shopdesk.job import typed
from shopdesk.job.lines import CONDITIONS
from shopdesk.job.parts.opened import part_view
from shopdesk.job.parts.views import PartView
from shopdesk.job.shift import Shift, load_shop
from shopdesk.pricing.money import show_quantity
from shopdesk.records.fetch import row_of, rows_by
from shopdesk.records.tables import KitPart, Line, Offer, OrderLine, Part, PartFit, StockMove
from shopdesk.text import fold, letters_and_digits


@dataclass(frozen=True, slots=True)
class PartEntry:
    """A part as typed. An empty price is worked out from what it costs.

    When no more than ``reorder_at`` are left it is to be ordered, up to ``reorder_to``.
    """

    number: str
    name: str
    condition: str = "new"
    price: str = ""
    bin: str = ""
    reorder_at: str = ""
    reorder_to: str = ""
    warranty_days: str = ""
    notes: str = ""


def part_entry(view: PartView) -> PartEntry:
    """Return a part as it can be typed again."""
    return PartEntry(
        number=view.number,
        name=view.name,
        condition=view.condition,
        price="" if view.fixed_price is None else str(view.fixed_price),
        bin=view.bin,
        reorder_at="" if view.reorder_at is None else show_quantity(view.reorder_at),
        reorder_to="" if view.reorder_to is None else show_quantity(view.reorder_to),
        warranty_days="" if view.warranty_days is None else str(view.warranty_days),
        notes=view.notes,
    )


def add_part(shift: Shift, entry: PartEntry) -> PartView:
    """Write down a part.

    Raises ``JobError`` at the field: no number, a number that another of that condition has …
    """
    with shift.changing() as change:
        part = Part()
        _fill(part, entry)
        change.add(part)
        return part_view(part, change.shop)


def change_part(
    shift: Shift, part_id: int, entry: PartEntry, version: int | None = None
) -> PartView:
    """Change a part. ``version`` is the one shown; raises ``StaleError`` if it grew."""
    with shift.changing() as change:
        part = find_part(part_id)
        part.version = part.version if version is None else version
        _fill(part, entry)
        change.save(part)
        return part_view(part, change.shop)


def keep_part(shift: Shift, part_id: int, active: bool) -> PartView:
    """Say whether the part is still used: one that is not is offered no more, and not lost."""
    with shift.changing() as change:
        part = find_part(part_id)
        part.active = active
        change.save(part)
        return part_view(part, change.shop)


def drop_part(shift: Shift, part_id: int, why: str = "") -> None:
    """Take a part out that was never used; raises ``JobError`` for any other."""
    with shift.changing() as change:
        part = find_part(part_id)
        _refuse_if_used(part)
        reason = typed.line(why, "why", "The reason")
        for row in (
            *rows_by(Offer, "part_id", part_id),
            *rows_by(PartFit, "part_id", part_id),
            *rows_by(KitPart, "kit_id", part_id),
        ):
            change.remove(row, reason)
        change.remove(part, reason)


def open_part(shift: Shift, part_id: int) -> PartView:
    """Return the part whole; raises ``JobError`` if there is none of that id."""
    with shift.records.reading():
        return part_view(find_part(part_id), load_shop())


def part_numbered(shift: Shift, number: str, condition: str = "") -> PartView | None:
    """Return the part of that number, however typed; the first of its conditions if none is named.

    None if there is none.
    """
    with shift.records.reading():
        rows = rows_by(Part, "folded_number", letters_and_digits(number))
        for row in sorted(rows, key=lambda row: CONDITIONS.index(row.condition)):
            if condition in ("", row.condition):
                return part_view(row, load_shop())
    return None


def find_part(part_id: int) -> Part:
    """Return the row (inside a transaction); raises ``JobError`` if there is none."""
    part = row_of(Part, part_id)
    if part is None:
        raise JobError("That part is not in the catalogue: choose one of the list.", "part")
    return part


def _fill(part: Part, entry: PartEntry) -> None:
    part.number = typed.line(entry.number, "number", "The part number", needed=True)
    part.folded_number = letters_and_digits(part.number)
    if not part.folded_number:
        raise JobError(
            f"“{part.number}” has no letter or digit: type the maker's number, or one of your own.",
            "number",
        )
    part.name = typed.line(entry.name, "name", "The part's name", needed=True)
    part.folded_name = fold(part.name)
    condition = typed.choice(entry.condition, "condition", CONDITIONS, "The part's condition")
    part.condition = condition or "new"
    _refuse_double(part)
    part.price = typed.optional_money(entry.price, "price")
    part.bin = typed.line(entry.bin, "bin", "The bin")
    _fill_reorder(part, entry)
    days = typed.line(entry.warranty_days, "warranty_days", "The days of warranty")
    part.warranty_days = typed.days(days, "warranty_days", "The days of warranty") if days else None
    part.notes = typed.text(entry.notes, "notes", "The note")


def _fill_reorder(part: Part, entry: PartEntry) -> None:
    at, to = entry.reorder_at.strip(), entry.reorder_to.strip()
    part.reorder_at = typed.quantity_from_zero(at, "reorder_at") if at else None
    part.reorder_to = typed.quantity(to, "reorder_to") if to else None
    if part.reorder_at is None and part.reorder_to is not None:
        raise JobError("Type as well at how many left it is to be ordered.", "reorder_at")
    if part.reorder_at is not None and part.reorder_to is None:
        raise JobError("Type as well up to how many it is to be ordered.", "reorder_to")
    if part.reorder_at is not None and part.reorder_to <= part.reorder_at:
        raise JobError(
            f"Ordered at {show_quantity(part.reorder_at)} it has to be brought up to more "
            f"than {show_quantity(part.reorder_at)}.",
            "reorder_to",
        )


def _refuse_double(part: Part) -> None:
    for other in rows_by(Part, "folded_number", part.folded_number):
        if other.condition == part.condition and other.id != part.id:
            kept = "" if other.active else ", not in use any more: take it up again"
            raise JobError(
                f"{other.number} ({other.condition}) is “{other.name}” already{kept}.", "number"
            )


def _refuse_if_used(part: Part) -> None:
    uses = {
        "lies in a kit": rows_by(KitPart, "part_id", part.id),
        "is on tickets": rows_by(Line, "part_id", part.id),
        "is on orders": rows_by(OrderLine, "part_id", part.id),
        "has come and gone": rows_by(StockMove, "part_id", part.id),
    }
    used = next((words for words, rows in uses.items() if rows), "")
    if used:
        raise JobError(f"“{part.name}” {used}: say that it is not in use any more instead.", "part")
