"""Carries a basket out: orders to the suppliers, and each waiting line told what brings its part.

Everything here is called inside a transaction.
"""

from collections import defaultdict
from collections.abc import Iterator, Sequence
from decimal import Decimal

from shopdesk.errors import JobError
from shopdesk.job.buying.market import Shopping
from shopdesk.job.lines import next_position
from shopdesk.job.parts.catalogue import find_part
from shopdesk.job.parts.order_writing import Wanted, place_written, write_order
from shopdesk.job.parts.stock import reserve
from shopdesk.job.parts.suppliers import find_supplier
from shopdesk.job.reckoned import reckon
from shopdesk.job.shift import Change
from shopdesk.pricing.basket import Basket, Pick, SupplierOrder
from shopdesk.pricing.basket_shares import Share
from shopdesk.records.fetch import row_of
from shopdesk.records.tables import Line, PartOrder

_WHY = "as it is bought"
_OWN = ("id", "version", "off", "value")
"""What a line keeps to itself when another is split off it."""
LineIds = tuple[int, ...]


def carry_out(change: Change, shopping: Shopping, basket: Basket) -> list[PartOrder]:
    """Place the basket's orders, and keep for the lines what comes from the bin."""
    waiting: dict[str, LineIds] = defaultdict(tuple)
    for line, shares in _served(change, shopping, basket):
        slowest = _slowest(basket, shares)
        if slowest:
            waiting[slowest] += (line.id,)
        elif not reserve(change, line):
            raise JobError(f"“{line.description}” is not in the bin any more.", "basket")
    return [_order(change, shopping, order, waiting) for order in basket.orders]


def _order(
    change: Change, shopping: Shopping, order: SupplierOrder, waiting: dict[str, LineIds]
) -> PartOrder:
    wanted = [_wanted(shopping, pick, waiting[pick.offer.key]) for pick in order.picks]
    row = write_order(change, find_supplier(int(order.supplier.key)), wanted)
    place_written(change, row)
    return row


def _wanted(shopping: Shopping, pick: Pick, line_ids: LineIds) -> Wanted:
    source = shopping.sources[pick.offer.key]
    return Wanted(
        part=find_part(source.part_id),
        packs=Decimal(pick.packs),
        pack=source.pack,
        cost=pick.offer.price,
        supplier_number=source.supplier_number,
        line_ids=line_ids,
    )


def _slowest(basket: Basket, shares: Sequence[Share]) -> str:
    """Return the offer that a line waits for longest; empty if all of it lies in the bin."""
    days = {pick.offer.key: pick.offer.lead_days for pick in basket.picks}
    bought = [share for share in shares if share.offer]
    longest = max(bought, key=lambda share: (days[share.offer], share.quantity), default=None)
    return longest.offer if longest else ""


def _served(
    change: Change, shopping: Shopping, basket: Basket
) -> Iterator[tuple[Line, list[Share]]]:
    """Return each line with what it gets, named for the very part that it gets.

    A line that gets parts of two kinds, such as a new and a used one, becomes two lines.
    """
    by_need: dict[str, list[Share]] = defaultdict(list)
    for share in basket.shares:
        if share.need not in shopping.low:
            by_need[share.need].append(share)
    for need, shares in by_need.items():
        line = row_of(Line, int(need))
        assert line is not None, "the market was gathered in this transaction"
        yield from _named(change, shopping, line, shares)


def _named(
    change: Change, shopping: Shopping, line: Line, shares: Sequence[Share]
) -> Iterator[tuple[Line, list[Share]]]:
    by_part: dict[int, list[Share]] = defaultdict(list)
    for share in shares:
        by_part[shopping.part_of(share)].append(share)
    (part_id, own), *others = by_part.items()
    for other_id, theirs in others:
        more = _split_off(change, line, sum((share.quantity for share in theirs), Decimal(0)))
        _name(change, more, other_id)
        yield more, theirs
    _name(change, line, part_id)
    if others:
        reckon(change, line.ticket)
    yield line, own


def _name(change: Change, line: Line, part_id: int) -> None:
    part = find_part(part_id)
    line.part, line.part_number, line.condition = part, part.number, part.condition
    change.save(line, _WHY)


def _split_off(change: Change, line: Line, quantity: Decimal) -> Line:
    """Take so many off a line, onto a line like it, and return that one."""
    like_it = {name: value for name, value in line.__data__.items() if name not in _OWN}
    more = Line(**like_it | {"quantity": quantity, "position": next_position(line.ticket)})
    change.add(more)
    line.quantity -= quantity
    change.save(line, "bought in two conditions")
    return more
