"""Tells how the parts that a ticket waits for are ordered, and how they come."""

from collections.abc import Iterator
from datetime import timedelta

from shopdesk.dates import show_date
from shopdesk.demo.clock import Wait
from shopdesk.demo.told import Told
from shopdesk.job.buying.baskets import buying, order_basket
from shopdesk.job.buying.views import CHEAPEST, SOONEST
from shopdesk.job.opened import open_ticket
from shopdesk.job.parts.catalogue import open_part
from shopdesk.job.parts.order_views import OrderView, list_orders, open_order
from shopdesk.job.parts.ordering import OrderLineEntry, add_order_line, new_order, place_order
from shopdesk.job.parts.receiving import all_to_come, receive
from shopdesk.job.parts.supply import set_supply
from shopdesk.job.stages import Stage
from shopdesk.job.standing import ON_HAND, ON_ORDER, TO_ORDER
from shopdesk.job.views import LineView
from shopdesk.pricing.money import show_money

AIMS = {"cheapest": CHEAPEST, "soonest": SOONEST}
LONGEST = 40
"""After so many days a part has come, or the ticket waits for good."""


def order(told: Told) -> Iterator[Wait]:
    """What has to be ordered is: as a basket, or each part where it costs least."""
    if not told.in_stage(Stage.PARTS):
        return
    if told.visit.basket and not told.orders:
        yield Wait(minutes=4)
        _order_basket(told)
    for line in waited_for(told, TO_ORDER):
        yield Wait(minutes=3)
        if line.part_id is None:
            _by_hand(told, line)
        else:
            _order_part(told, line)


def arrive(told: Told) -> Iterator[Wait]:
    """The parts come, from our own orders or with what was ordered for the bins."""
    for _ in range(LONGEST):
        waits = told.in_stage(Stage.PARTS) and waited_for(told)
        if not waits and not told.orders:
            return
        yield from order(told)
        yield Wait(days=1)
        _take_in(told)
        told.ticket = open_ticket(told.cast.counter, told.id)


def waited_for(told: Told, *supplies: str) -> list[LineView]:
    """Return the lines whose part is not here."""
    wanted = supplies or (TO_ORDER, ON_ORDER)
    return [line for line in told.now.lines if line.supply in wanted and not line.declined]


def _order_basket(told: Told) -> None:
    seen = buying(told.cast.counter, told.id)
    for one in seen.baskets:
        total = one.trouble if one.total is None else f"{show_money(one.total)}, {one.ready}"
        title = one.title[:1].lower() + one.title[1:]
        told.say(f"a basket, {title}: {total}. {' '.join(one.notes)}".rstrip())
    done = order_basket(told.cast.counter, seen, AIMS[told.visit.basket])
    told.say(f"the {told.visit.basket} one is taken. {done.words}")
    for row in list_orders(told.cast.counter):
        if row.number in done.numbers:
            _remember(told, open_order(told.cast.counter, row.id))
    told.ticket = open_ticket(told.cast.counter, told.id)


def _order_part(told: Told, line: LineView) -> None:
    counter = told.cast.counter
    assert line.part_id is not None
    offers = [one for one in open_part(counter, line.part_id).offers if one.pack == 1]
    best = min(offers, key=lambda one: (one.days > told.visit.supplier_days + 2, one.cost))
    written = new_order(counter, best.supplier_id)
    entry = OrderLineEntry(line.part_id, packs=str(line.quantity))
    add_order_line(counter, written.id, entry, (line.id,))
    placed = place_order(counter, written.id)
    _remember(told, placed)
    told.ticket = open_ticket(counter, told.id)
    comes = f", to come {show_date(placed.expected_on)}" if placed.expected_on else ""
    told.say(f"ordered: {line.description} {line.part_number} from {best.supplier}{comes}")


def _remember(told: Told, placed: OrderView) -> None:
    today = told.cast.counter.today
    same_day = not told.visit.supplier_days
    told.orders[placed.id] = today if same_day else placed.expected_on or today


def _by_hand(told: Told, line: LineView) -> None:
    comes = told.cast.counter.today + timedelta(days=told.visit.supplier_days)
    told.ticket = set_supply(told.cast.counter, line.id, ON_ORDER, comes.isoformat())
    told.by_hand[line.id] = comes
    told.say(f"ordered: {line.description} {line.part_number}, to come {show_date(comes)}")


def _take_in(told: Told) -> None:
    counter, today = told.cast.counter, told.cast.counter.today
    for order_id, day in list(told.orders.items()):
        if day <= today:
            del told.orders[order_id]
            told.say(receive(counter, order_id, all_to_come(counter, order_id)).words)
    for line_id, day in list(told.by_hand.items()):
        if day <= today:
            del told.by_hand[line_id]
            told.ticket = set_supply(counter, line_id, ON_HAND)
