"""What came into a part's bin and left it, what it cost, and which tickets wait for it."""

import tkinter as tk

import ttkbootstrap as ttk

from shopdesk.dates import show_date
from shopdesk.desk.columns import two_columns
from shopdesk.desk.forms import section
from shopdesk.desk.front import Front
from shopdesk.desk.rows import Column, RowList
from shopdesk.job.parts.views import MoveView, PartView, WaitView
from shopdesk.pricing.money import show_money, show_quantity


class PartStock(ttk.Frame):
    """Three lists; Enter on a row of a ticket's opens the ticket."""

    def __init__(self, parent: tk.Misc, front: Front) -> None:
        super().__init__(parent)
        self._front = front
        self._tickets: dict[int, int] = {}
        self._waiting: dict[int, int] = {}
        section(self, "Into the bin and out of it  Alt+M")
        self.moves = RowList(
            self,
            [
                Column("Day", 96),
                Column("Pieces", 64, right=True),
                Column("Why", 150),
                Column("Each", 76, right=True),
                Column("Ticket", 64),
                Column("Note", 200, grows=True),
                Column("By", 80),
            ],
            lines=5,
            empty="Nothing came in yet: order it, or count what lies in the bin (Alt+C).",
        )
        self.moves.pack(fill="x")
        self.moves.on_open(self._open_move)
        front.keys.add(self, "Alt+M", "Go to what came in and went out", self.moves.focus_list)
        self._put_halves()

    def show(self, part: PartView) -> None:
        """Show a part's moves, costs, and the tickets that wait."""
        currency = self._front.shift.shop.currency
        self._tickets = {move.id: move.ticket_id for move in part.moves if move.ticket_id}
        self.moves.show([(move.id, _move_cells(move, currency)) for move in part.moves])
        self.costs.show(
            [
                (
                    place,
                    (
                        show_date(cost.on)[4:],
                        cost.supplier,
                        show_money(cost.each, currency),
                        cost.what,
                    ),
                )
                for place, cost in enumerate(part.costs)
            ]
        )
        self._waiting = {wait.line_id: wait.ticket_id for wait in part.waits}
        self.waits.show([(wait.line_id, _wait_cells(wait)) for wait in part.waits])

    def _put_halves(self) -> None:
        halves = ttk.Frame(self)
        halves.pack(fill="x")
        left, right = two_columns(halves)
        section(left, "What it cost")
        self.costs = RowList(
            left,
            [
                Column("Day", 92),
                Column("Supplier", 130, grows=True),
                Column("Each", 76, right=True),
                Column("", 80),
            ],
            lines=4,
            empty="No cost is known yet.",
        )
        self.costs.pack(fill="x")
        section(right, "Tickets it is for")
        self.waits = RowList(
            right,
            [
                Column("Ticket", 64),
                Column("Owner", 120, grows=True),
                Column("How many", 88, right=True),
                Column("Where it is", 120),
            ],
            lines=4,
            empty="No open ticket needs it.",
        )
        self.waits.pack(fill="x")
        self.waits.on_open(lambda key: self._front.open_ticket(self._waiting[key]))

    def _open_move(self, move_id: int) -> None:
        if move_id in self._tickets:
            self._front.open_ticket(self._tickets[move_id])


def _move_cells(move: MoveView, currency: str) -> tuple[str, ...]:
    sign = "+" if move.quantity > 0 else ""
    return (
        show_date(move.on)[4:],
        f"{sign}{show_quantity(move.quantity)}",
        move.why,
        "" if move.cost is None else show_money(move.cost, currency),
        move.tag,
        move.note,
        move.by,
    )


def _wait_cells(wait: WaitView) -> tuple[str, ...]:
    due = f", {show_date(wait.expected_on)[:10]}" if wait.expected_on else ""
    return wait.tag, wait.owner, show_quantity(wait.quantity), f"{wait.supply}{due}"
