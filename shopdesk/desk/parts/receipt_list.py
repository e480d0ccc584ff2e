"""What became of a packet: which tickets got their parts, which went on, and what went to stock."""

import tkinter as tk

import ttkbootstrap as ttk

from shopdesk.desk.forms import section, wrapping
from shopdesk.desk.front import Front
from shopdesk.desk.rows import Column, RowList
from shopdesk.job.parts.receipt import Receipt, TicketGot


class ReceiptList(ttk.Frame):
    """A row for each ticket that got something; Enter opens it."""

    def __init__(self, parent: tk.Misc, front: Front) -> None:
        super().__init__(parent)
        section(self, "Tickets that got their parts")
        self.list = RowList(
            self,
            [
                Column("Ticket", 70),
                Column("Owner", 150, grows=True),
                Column("Machine", 190, grows=True),
                Column("Got", 190, grows=True),
                Column("And now", 210, grows=True),
            ],
            lines=6,
            empty="No ticket waited for any of it: all of it is in stock.",
        )
        self.list.pack(fill="x")
        self.list.on_open(front.open_ticket)
        section(self, "What came")
        self._came = wrapping(ttk.Label(self))
        self._came.pack(fill="x")
        self._stock = wrapping(ttk.Label(self))
        self._stock.pack(fill="x", pady=(6, 0))

    def show(self, receipt: Receipt) -> None:
        """Show what became of a packet."""
        self.list.show([_listed(got) for got in receipt.tickets])
        self._came.configure(text="\n".join(came.words for came in receipt.came))
        left = "; ".join(receipt.into_stock)
        self._stock.configure(text=f"In stock for nobody yet: {left}." if left else "")


def _listed(got: TicketGot) -> tuple[int, tuple[str, ...], str]:
    now = "is in Repair now" if got.moved_on else "; ".join(got.missing)
    cells = (got.tag, got.owner, got.machine, "; ".join(got.got), now)
    return got.ticket_id, cells, "strong" if got.moved_on else ""
