"""A delivery: packs into the bin, pieces onto the tickets that wait, those tickets moved on."""

from collections.abc import Iterable, Iterator
from decimal import ROUND_CEILING, Decimal

from shopdesk.errors import JobError
from shopdesk.job import typed
from shopdesk.job.moving import move_on
from shopdesk.job.opened import tag_of
from shopdesk.job.parts.catalogue import find_part
from shopdesk.job.parts.doubtful_cost import doubt
from shopdesk.job.parts.kits import contents_of, unpack
from shopdesk.job.parts.offers import note_cost
from shopdesk.job.parts.order_views import order_view
from shopdesk.job.parts.order_writing import AGREED, lines_on
from shopdesk.job.parts.orders import find_order, lines_of, packs_to_come
from shopdesk.job.parts.prices import each_of
from shopdesk.job.parts.receipt import Came, PackedEntry, Receipt, ReceiptEntry, TicketGot
from shopdesk.job.parts.settling import settle_lines
from shopdesk.job.parts.stock import RECEIVED, move, supply_for, waiting_lines
from shopdesk.job.parts.stock_levels import level_of
from shopdesk.job.shift import Change, Shift, load_shop
from shopdesk.job.stages import Stage, ways_on
from shopdesk.job.standing import ON_HAND, ON_ORDER, find_ticket, rows_of, standing_of
from shopdesk.job.views import machine_title
from shopdesk.pricing.money import show_quantity
from shopdesk.records.fetch import rows_by
from shopdesk.records.tables import Line, OrderLine, Part, PartOrder, StockMove


def all_to_come(shift: Shift, order_id: int) -> ReceiptEntry:
    """Return a delivery, not kept yet, that brings all that is still to come."""
    with shift.records.reading():
        order = find_order(order_id)
        lines = (
            PackedEntry(row.id, show_quantity(packs_to_come(row)), str(row.cost))
            for row in lines_of(order)
            if packs_to_come(row)
        )
        return ReceiptEntry(tuple(lines), str(order.postage))


def receive(shift: Shift, order_id: int, entry: ReceiptEntry) -> Receipt:
    """Take a delivery in.

    Pieces go to the lines of tickets that the order was for, first promised first, then to others
    that wait for the part; kits are opened where tickets wait for what they hold. A ticket whose
    last part came moves on to Repair. Raises ``JobError`` at ``packs_<line>`` or ``cost_<line>``,
    also for a cost to ask about (see ``asked_costs``) that was not confirmed.
    """
    with shift.changing() as change:
        order = _placed(order_id)
        rows = {row.id: row for row in lines_of(order)}
        came = [
            _take_in(change, rows, packed, sure=packed.line_id in entry.confirmed)
            for packed in entry.lines
            if _is_typed(packed)
        ]
        _fill(change, order, entry)
        if not came:
            raise JobError("Nothing is typed: type how many packs came of each.", "lines")
        given: list[Line] = []
        for row, _ in came:
            given += _hand_out(change, row)
        for row, _ in came:
            settle_lines(change, row)
        return Receipt(
            order=order_view(find_order(order.id), change.shop),
            came=tuple(told for _, told in came),
            tickets=tuple(_tickets(change, given)),
            into_stock=tuple(_into_stock(change, [row for row, _ in came], given)),
        )


def asked_costs(shift: Shift, order_id: int, entry: ReceiptEntry) -> dict[int, str]:
    """Return by line what to ask about its cost, which is 0 or far from what was agreed.

    Raises ``JobError`` at ``cost_<line>`` where no amount is typed.
    """
    with shift.records.reading():
        symbol = load_shop().currency
        typed_in = {packed.line_id: packed for packed in entry.lines if _is_typed(packed)}
        rows = [row for row in lines_of(find_order(order_id)) if row.id in typed_in]
        asked = {row.id: doubt(row, _cost(row, typed_in[row.id]), symbol) for row in rows}
        return {line_id: question for line_id, question in asked.items() if question}


def _placed(order_id: int) -> PartOrder:
    order = find_order(order_id)
    if order.ordered_at is None:
        raise JobError(f"Order {order.number} did not go out yet: place it first.", "order")
    return order


def _is_typed(packed: PackedEntry) -> bool:
    return packed.packs.strip() not in ("", "0")


def _fill(change: Change, order: PartOrder, entry: ReceiptEntry) -> None:
    postage = typed.optional_money(entry.postage, "postage")
    note = typed.line(entry.note, "note", "The note")
    order.postage = order.postage if postage is None else postage
    order.note = "; ".join(filter(None, (order.note, note)))
    change.save(order)


def _take_in(
    change: Change, rows: dict[int, OrderLine], packed: PackedEntry, *, sure: bool
) -> tuple[OrderLine, Came]:
    """Put the packs of one line into the bin, at what they cost."""
    row = rows.get(packed.line_id)
    if row is None:
        raise JobError("That line is not on this order: open it again.", f"packs_{packed.line_id}")
    packs = _packs(row, packed)
    cost = _cost(row, packed)
    question = "" if sure else doubt(row, cost, change.shop.currency)
    if question:
        raise JobError(f"{question} Confirm it, or type what it cost.", f"cost_{row.id}")
    row.cost = cost
    row.received += packs
    row.back_ordered = row.back_ordered and packs_to_come(row) > 0
    change.save(row)
    part = find_part(row.part_id)
    if row.cost:
        note_cost(change, row.order.supplier, part, row.pack, row.cost, row.supplier_number)
    pieces, each = packs * row.pack, each_of(row.cost, row.pack)
    move(change, part, pieces, RECEIVED, order_line=row, cost=each)
    words = f"{show_quantity(pieces)} × {part.name}"
    return row, Came(part.number, part.name, packs, pieces, each, words)


def _cost(row: OrderLine, packed: PackedEntry) -> Decimal:
    """Return what a pack cost as typed, else as agreed."""
    cost = typed.optional_money(packed.cost, f"cost_{row.id}")
    return row.cost if cost is None else cost


def _packs(row: OrderLine, packed: PackedEntry) -> Decimal:
    field, owed = f"packs_{row.id}", packs_to_come(row)
    packs = typed.quantity(packed.packs, field)
    if packs != int(packs):
        raise JobError(f"{show_quantity(packs)} packs: type a whole number of packs.", field)
    if packs > owed:
        raise JobError(
            f"{show_quantity(owed)} of “{row.part.name}” are still to come, "
            f"not {show_quantity(packs)}: take in {show_quantity(owed)}, "
            "and order what was sent beyond that as well, or send it back.",
            field,
        )
    return packs


def _hand_out(change: Change, row: OrderLine) -> list[Line]:
    """Give what came to the lines it was ordered for, then to others that wait for it."""
    ours = lines_on(row)
    given = [line for line in ours if line.part_id == row.part_id and _give(change, row, line)]
    inner = [line for line in ours if line.part_id != row.part_id]
    opened = _open_for(change, row, inner) if inner else ()
    given += [line for line in inner if _give(change, row, line)]
    for part_id in (row.part_id, *opened):
        for line in waiting_lines(part_id):
            agreed = line.supply == ON_ORDER or line.ticket.stage in AGREED
            if agreed and _give(change, row, line):
                given.append(line)
    return given


def _give(change: Change, row: OrderLine, line: Line) -> bool:
    """Keep the part for the line if so many are free; what it cost stands on the line."""
    if line.part is None or supply_for(line.part, line.quantity, line) != ON_HAND:
        return False
    line.supply, line.expected_on, line.order_line = ON_HAND, None, row
    cost = _cost_of(row, line.part)
    line.cost = line.cost if cost is None else cost
    change.save(line)
    return True


def _cost_of(row: OrderLine, part: Part) -> Decimal | None:
    """Return what one piece cost as it last came with the order's line."""
    brought = (StockMove.order_line == row.id) & (StockMove.part == part.id)
    last = StockMove.select().where(brought & (StockMove.quantity > 0))
    found = last.order_by(StockMove.id.desc()).first()
    return found.cost if found else None


def _open_for(change: Change, row: OrderLine, lines: Iterable[Line]) -> tuple[int, ...]:
    """Open as many of the kits that lie free as the lines need; return the parts that came out."""
    needed: dict[int, Decimal] = {}
    for line in lines:
        part_id = line.part_id or 0
        needed[part_id] = needed.get(part_id, Decimal(0)) + line.quantity
    kit = find_part(row.part_id)
    kits = Decimal(0)
    held = contents_of(kit)
    for part, each in held:
        short = needed.get(part.id, Decimal(0)) - level_of(part.id).free
        kits = max(kits, (short / each).to_integral_value(ROUND_CEILING))
    kits = min(kits, Decimal(int(level_of(kit.id).free)))
    if kits <= 0:
        return ()
    unpack(change, kit, kits, order_line=row, cost=each_of(row.cost, row.pack))
    return tuple(part.id for part, _ in held)


def _tickets(change: Change, given: Iterable[Line]) -> Iterator[TicketGot]:
    got: dict[int, list[Line]] = {}
    for line in given:
        got.setdefault(line.ticket_id, []).append(line)
    for ticket_id, lines in got.items():
        ticket = find_ticket(ticket_id)
        missing: tuple[str, ...] = ()
        moved = False
        if ticket.stage == Stage.PARTS:
            ways = ways_on(standing_of(rows_of(ticket), change.shop))
            missing = next(way.missing for way in ways if way.to is Stage.REPAIR)
            moved = not missing
        if moved:
            move_on(change, ticket, Stage.REPAIR)
        unit = ticket.unit
        yield TicketGot(
            ticket_id=ticket.id,
            tag=tag_of(ticket.number),
            owner=ticket.customer.name,
            machine=machine_title(unit.kind, unit.make, unit.model),
            got=tuple(f"{show_quantity(line.quantity)} × {line.description}" for line in lines),
            moved_on=moved,
            missing=missing,
        )


def _into_stock(change: Change, rows: Iterable[OrderLine], given: Iterable[Line]) -> Iterator[str]:
    """Tell what came, or came out of a kit, and is for nobody."""
    left: dict[int, Decimal] = {}
    for row in rows:
        for moved in rows_by(StockMove, "order_line_id", row.id):
            if moved.moved_at == change.at:
                left[moved.part_id] = left.get(moved.part_id, Decimal(0)) + moved.quantity
    for line in given:
        part_id = line.part_id or 0
        left[part_id] = left.get(part_id, Decimal(0)) - line.quantity
    for part_id, pieces in left.items():
        if pieces > 0:
            part = find_part(part_id)
            place = f", bin {part.bin}" if part.bin else ""
            yield f"{show_quantity(pieces)} × {part.name}{place}"
