"""A walk through every page, sheet and card of the window, on a shop's own tickets."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import partial
from importlib import import_module
from typing import TYPE_CHECKING

from shopdesk.desk.shop_bar import SHEETS
from shopdesk.errors import JobError
from shopdesk.job.board import open_tickets
from shopdesk.job.parts.find import find_parts
from shopdesk.job.parts.order_views import list_orders
from shopdesk.job.shift import Shift
from shopdesk.job.stages import Stage

if TYPE_CHECKING:
    from shopdesk.desk.window import Window

_SHEETS = {
    "flat-times": "labour.flat_times.FlatTimes",
    "reorder": "parts.reorder_sheet.ReorderSheet",
    "suppliers": "parts.suppliers_sheet.SuppliersSheet",
    "buying": "buying.sheet.BuyingSheet",
}
"""Sheets that are opened from another one, and their classes."""
_TICKET_CARDS = {"part-credit": "part_credit.PartCreditCard"}
_UNIT_CARDS = {"history": "history_card.HistoryCard"}
_PART_CARDS = {"part": "parts.card.PartCard"}
_ORDER_CARDS = {
    "order": "parts.order_card.OrderCard",
    "receiving": "parts.receiving_card.ReceivingCard",
}
_STAGE_OF_PAGE = {
    "Teardown": Stage.REPAIR,
    "Model card": Stage.DIAGNOSIS,
    "Options": Stage.APPROVAL,
    "Parts": Stage.PARTS,
}
"""On a ticket in which stage a page that goes with any of them has most to show."""


@dataclass(frozen=True, slots=True)
class Stop:
    """One thing to see: its name, fit for a file, and what brings it into sight."""

    name: str
    show: Callable[[], object]


def stops(window: Window, shift: Shift) -> Iterator[Stop]:
    """Yield everything there is to see in the window on these records, one by one.

    Raises ``JobError`` when no ticket is open.
    """
    tickets = _by_stage(shift)
    yield Stop("start", window.go_back)
    yield from _pages(window, tickets)
    yield Stop("new-ticket", window.new_ticket)
    yield Stop("settings", window.open_settings)
    for sheet in SHEETS:
        yield Stop(
            sheet.words.lower().replace(" ", "-") + "-sheet", partial(window.open_sheet, sheet)
        )
    for name, kind in _SHEETS.items():
        yield Stop(name, partial(_open_sheet, window, kind))
    yield from _cards(window, shift, tickets)


def _by_stage(shift: Shift) -> dict[Stage, int]:
    """Return a ticket for each stage there is one in, the most pressing."""
    rows = [row for group in open_tickets(shift).values() for row in group]
    if not rows:
        raise JobError("No ticket is open in these records: there is nothing to show.")
    return {row.stage: row.ticket_id for row in reversed(rows)}


def _pages(window: Window, tickets: dict[Stage, int]) -> Iterator[Stop]:
    from shopdesk.desk.pages import PAGES

    any_ticket = next(iter(tickets.values()))
    for kind in PAGES:
        stage = next(iter(kind.stages), _STAGE_OF_PAGE.get(kind.title, Stage.DIAGNOSIS))
        ticket_id = tickets.get(stage, any_ticket)

        def show(ticket_id: int = ticket_id, page: type = kind) -> None:
            window.open_ticket(ticket_id)
            window.pane.turn_to(page)

        yield Stop(kind.title.lower().replace(" ", "-"), show)


def _cards(window: Window, shift: Shift, tickets: dict[Stage, int]) -> Iterator[Stop]:
    from shopdesk.job.opened import open_ticket

    ticket = open_ticket(shift, tickets.get(Stage.PICKUP, next(iter(tickets.values()))))
    yield Stop("owner", partial(window.open_owner, ticket.owner.id))
    yield Stop("machine", partial(window.open_machine, ticket.unit.id))
    parts, orders = find_parts(shift, ""), list_orders(shift)
    known = {
        **dict.fromkeys(_UNIT_CARDS.items(), ticket.unit.id),
        **dict.fromkeys(_TICKET_CARDS.items(), ticket.id),
        **dict.fromkeys(_PART_CARDS.items(), parts[0].id if parts else 0),
        **(dict.fromkeys(_ORDER_CARDS.items(), orders[0].id) if orders else {}),
    }
    for (name, kind), known_id in known.items():
        yield Stop(name, partial(_open_card, window, kind, known_id))


def _open_sheet(window: Window, kind: str) -> None:
    window.open_over(_named(kind))


def _open_card(window: Window, kind: str, known: int) -> None:
    window.open_card(_named(kind), known)


def _named(kind: str) -> type:
    module, _, name = kind.rpartition(".")
    found: type = getattr(import_module(f"shopdesk.desk.{module}"), name)
    return found
