"""Leaves the demo's orders as a working shop's: one being written, some on the way, one owed."""

from collections.abc import Iterator, Sequence
from datetime import timedelta

from shopdesk.demo.clock import Wait
from shopdesk.demo.storeroom import Storeroom
from shopdesk.demo.told import Cast
from shopdesk.job.parts.counting import count_part
from shopdesk.job.parts.order_changes import back_order, cancel_order
from shopdesk.job.parts.order_views import OrderView
from shopdesk.job.parts.ordering import OrderLineEntry, add_order_line, new_order, place_order
from shopdesk.job.parts.receipt import ReceiptEntry
from shopdesk.job.parts.receiving import all_to_come, receive
from shopdesk.job.parts.reorder import order_these
from shopdesk.job.shift import Shift

CANCELLED = ("tern", ("GB-16",))
PART_RECEIVED = ("osier", ("LH-80", "AF-26", "SP-7"))
OWED = ("osier", ("CC-1", "HG-190"))
ON_THE_WAY = ("barge", ("TK-190", "PB-22 10", "SA-07 10"))
TO_WRITE = ("SR-5", "FF-14")
"""Of what runs low, this is on an order already that is being written."""


def count_bins(cast: Cast) -> Iterator[Wait]:
    """Some bins are counted, and hold less than was thought."""
    for good in cast.scenario.goods:
        if good.left:
            yield Wait(minutes=2)
            part_id = cast.room.part_ids[good.number]
            count_part(cast.counter, part_id, good.left, "counted")


def write_open_orders(cast: Cast) -> Iterator[Wait]:
    """Order for the bins over the last month, and leave each order in a state of its own."""
    counter, room = cast.counter, cast.room
    yield Wait(minutes=3)
    called_off = _place(counter, room, *CANCELLED)
    yield Wait(days=1)
    cancel_order(counter, called_off.id, "the price was of last year")
    yield Wait(days=14)
    short = _place(counter, room, *PART_RECEIVED)
    owed = _place(counter, room, *OWED)
    yield Wait(days=5)
    whole = all_to_come(counter, short.id)
    receive(counter, short.id, ReceiptEntry(whole.lines[:2], whole.postage))
    late = (counter.today + timedelta(days=16)).isoformat()
    for line in owed.lines:
        back_order(counter, line.id, late)
    yield Wait(days=4)
    _place(counter, room, *ON_THE_WAY)
    yield Wait(days=3)
    order_these(counter, [room.part_ids[number] for number in TO_WRITE])


def _place(shift: Shift, room: Storeroom, seller: str, wants: Sequence[str]) -> OrderView:
    """Place an order: numbers of parts, with how many come in a pack behind it."""
    written = new_order(shift, room.supplier_ids[seller])
    for wanted in wants:
        number, _, pack = wanted.partition(" ")
        entry = OrderLineEntry(room.part_ids[number], pack=pack or "1")
        add_order_line(shift, written.id, entry)
    return place_order(shift, written.id)
