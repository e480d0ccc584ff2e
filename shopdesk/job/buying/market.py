"""Gathers what waiting tickets need and what suppliers offer for it: singly, in packs, in kits.

A part is known by its number, whatever its condition: a better one than the owner was told of will
do. Everything here is called inside a transaction.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from decimal import Decimal

from shopdesk.job.parts.kits import contents_of
from shopdesk.job.parts.opened import days_of
from shopdesk.job.parts.reorder import ReorderRow
from shopdesk.job.parts.stock_levels import levels
from shopdesk.pricing.basket_lack import Lack, lacks
from shopdesk.pricing.basket_shares import Share
from shopdesk.pricing.market import Condition, Market, Need, Stock, Supplier
from shopdesk.pricing.market import Offer as Asked
from shopdesk.records.tables import KitPart, Line, Offer, Part
from shopdesk.records.tables import Supplier as SupplierRow
from shopdesk.text import letters_and_digits

PartKey = tuple[str, Condition]
"""A part's number, folded, and its condition."""


@dataclass(frozen=True, slots=True)
class Source:
    """Where an offer of the market comes from; ``brings`` are its parts' ids by number."""

    supplier_id: int
    part_id: int
    number: str
    name: str
    supplier_number: str
    pack: Decimal
    brings: Mapping[str, int]


@dataclass(frozen=True, slots=True)
class Shopping:
    """A market of what can be had, what can't, and where each offer comes from."""

    market: Market
    lacks: tuple[Lack, ...]
    sources: Mapping[str, Source]
    in_bin: Mapping[PartKey, int]
    """Ids of the parts that lie in the bin."""
    names: Mapping[str, str] = field(default_factory=dict)
    """Of parts, by their number folded."""
    low: Mapping[str, ReorderRow] = field(default_factory=dict)
    """What runs low, by the key of its need."""

    def part_of(self, share: Share) -> int:
        """Return the id of the very part that a share is of."""
        if share.offer:
            return self.sources[share.offer].brings[share.part]
        return self.in_bin[share.part, share.condition]


def shopping_for(lines: Sequence[Line], low: Sequence[ReorderRow] = ()) -> Shopping:
    """Return the market for lines that are to order, and for what runs low.

    What lies free in the bin goes to the lines in their order.
    """
    numbers = numbers_of(lines)
    needs = [*(_need(line, numbers[line.id]) for line in lines), *map(_need_of_bin, low)]
    parts = _parts_named({need.part for need in needs} - {""}, lines)
    lots, in_bin = _lots(parts)
    offers, sources, names = _offers(parts)
    suppliers = {key: _supplier(row) for key, row in _suppliers(sources).items()}
    whole = Market(tuple(needs), tuple(offers), tuple(suppliers.values()), tuple(lots))
    missing = lacks(whole)
    gone = {lack.need for lack in missing}
    had = tuple(need for need in needs if need.key not in gone)
    return Shopping(
        market=Market(had, whole.offers, whole.suppliers, whole.stock),
        lacks=missing,
        sources=sources,
        in_bin=in_bin,
        names={part.folded_number: part.name for part in parts} | names,
        low={f"bin {row.part_id}": row for row in low},
    )


def numbers_of(lines: Sequence[Line]) -> dict[int, str]:
    """Return by the lines' ids the part's number, folded; empty where nothing tells it.

    Where no part has the number written on a line, it may be a supplier's.
    """
    found = {
        line.id: line.part.folded_number if line.part else letters_and_digits(line.part_number)
        for line in lines
    }
    typed = {found[line.id] for line in lines if line.part is None} - {""}
    if not typed:
        return found
    known = {part.folded_number for part in Part.select().where(Part.folded_number.in_(typed))}
    rows = Offer.select(Offer, Part).join(Part).where(Offer.folded_number.in_(typed - known))
    theirs = {row.folded_number: row.part.folded_number for row in rows}
    return {line_id: theirs.get(number, number) for line_id, number in found.items()}


def _need(line: Line, number: str) -> Need:
    worst = Condition(line.condition) if line.condition else Condition.NEW
    return Need(str(line.id), number, line.description, line.quantity, worst)


def _need_of_bin(row: ReorderRow) -> Need:
    """The need of what is to lie in the bin: what lies there free is told apart as stock."""
    number = letters_and_digits(row.number)
    wanted = row.wanted + row.free
    return Need(f"bin {row.part_id}", number, row.name, wanted, Condition(row.condition))


def _parts_named(numbers: set[str], lines: Iterable[Line]) -> list[Part]:
    """Return the parts of those numbers that we still use, or that a line names."""
    if not numbers:
        return []
    named = [line.part_id for line in lines if line.part_id]
    in_use = Part.active | Part.id.in_(named)
    return list(Part.select().where(Part.folded_number.in_(numbers) & in_use).order_by(Part.id))


def _lots(parts: Sequence[Part]) -> tuple[list[Stock], dict[PartKey, int]]:
    stand = levels([part.id for part in parts])
    lots, ids = [], {}
    for part in parts:
        key = part.folded_number, Condition(part.condition)
        if stand[part.id].free > 0:
            lots.append(Stock(key[0], stand[part.id].free, key[1]))
            ids[key] = part.id
    return lots, ids


def _offers(
    parts: Sequence[Part],
) -> tuple[list[Asked], dict[str, Source], dict[str, str]]:
    """Return all offers of the parts and of kits that hold them, each with its source.

    A kit is offered twice if both it and what it holds are wanted: as it is, and opened.
    """
    asked: list[Asked] = []
    sources: dict[str, Source] = {}
    names: dict[str, str] = {}
    for row in _offers_of(parts):
        _tell(asked, sources, f"{row.id:09}", row, [(row.part, Decimal(1))])
    for row in _offers_of(_kits_around(parts)):
        held = contents_of(row.part)
        names |= {part.folded_number: part.name for part, _ in held}
        _tell(asked, sources, f"{row.id:09} opened", row, held)
    return asked, sources, names


def _tell(
    asked: list[Asked],
    sources: dict[str, Source],
    key: str,
    row: Offer,
    held: Iterable[tuple[Part, Decimal]],
) -> None:
    parts = [(part, each * row.pack) for part, each in held]
    contents = tuple((part.folded_number, pieces) for part, pieces in parts)
    conditions = [Condition(part.condition) for part, _ in parts]
    worst = max(conditions, key=list(Condition).index)
    supplier = str(row.supplier_id)
    asked.append(Asked(key, supplier, row.part.name, row.cost, contents, days_of(row), worst))
    sources[key] = Source(
        supplier_id=row.supplier_id,
        part_id=row.part_id,
        number=row.part.number,
        name=row.part.name,
        supplier_number=row.supplier_number,
        pack=row.pack,
        brings={part.folded_number: part.id for part, _ in parts},
    )


def _offers_of(parts: Sequence[Part]) -> list[Offer]:
    if not parts:
        return []
    query = Offer.select(Offer, SupplierRow, Part).join(SupplierRow).switch(Offer).join(Part)
    wanted = Offer.part.in_([part.id for part in parts]) & SupplierRow.active
    return list(query.where(wanted).order_by(Offer.id))


def _kits_around(parts: Sequence[Part]) -> list[Part]:
    """Return the kits that hold any of the parts, also through other kits."""
    found: set[int] = set()
    inside = {part.id for part in parts}
    while inside:
        rows = KitPart.select(KitPart.kit).where(KitPart.part.in_(inside)).distinct()
        inside = {row.kit_id for row in rows} - found
        found |= inside
    return list(Part.select().where(Part.id.in_(found) & Part.active)) if found else []


def _suppliers(sources: Mapping[str, Source]) -> dict[str, SupplierRow]:
    ids = {source.supplier_id for source in sources.values()}
    rows = SupplierRow.select().where(SupplierRow.id.in_(ids)) if ids else ()
    return {str(row.id): row for row in rows}


def _supplier(row: SupplierRow) -> Supplier:
    return Supplier(str(row.id), row.name, row.postage, row.free_postage_from, row.least_order)
