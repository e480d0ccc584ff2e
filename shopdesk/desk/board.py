"""The board at the left: the open tickets under whose move it is, late ones first."""

from __future__ import annotations

import tkinter as tk
from collections.abc import Callable, Mapping, Sequence
from datetime import date
from functools import partial
from tkinter.font import nametofont
from typing import TYPE_CHECKING

import ttkbootstrap as ttk

from shopdesk.dates import days_between_words, show_date
from shopdesk.desk import look
from shopdesk.desk.keys import with_modifier
from shopdesk.desk.rows import fitted, scrolled, when_widths_change
from shopdesk.job.stages import Move, Stage

if TYPE_CHECKING:
    from shopdesk.job.views import BoardRow

TITLES = {
    Move.BENCH: "Bench",
    Move.COUNTER: "Counter",
    Move.OWNER: "Owner",
    Move.SUPPLIER: "Supplier",
}
_LEAST_WIDTH, _STATE_WIDTH = 80, 102
_CELL_EDGES, _RING = 20, 2
"""What a row keeps free at its sides, and the ring around the board that has the focus."""
_SOON = 1
"""Days ahead that are said in words."""
_NONE = "No open tickets.\nCtrl+N takes a machine in."


class Board(ttk.Frame):
    """Rows to go through with the arrows; Enter or a click opens a ticket."""

    def __init__(self, parent: tk.Misc, open_ticket: Callable[[int], object]) -> None:
        super().__init__(parent)
        self._open = open_ticket
        self._read = False
        self._shown: Mapping[Move, Sequence[BoardRow]] = {}
        self._ring = tk.Frame(self, highlightthickness=_RING)
        self._ring.pack(fill="both", expand=True)
        self.tree = ttk.Treeview(
            self._ring, columns=("state",), show="tree", style=look.BOARD, selectmode="browse"
        )
        scrolled(self.tree, self._ring)
        self._none = ttk.Label(self.tree, text=_NONE, bootstyle="secondary", justify="center")
        for sequence in ("<Return>", "<KP_Enter>", "<ButtonRelease-1>"):
            self.tree.bind(sequence, self._chosen)
        for sequence, step in (("<Down>", 1), ("<Up>", -1)):
            self.tree.bind(sequence, partial(self._walk, step))
        for sequence in ("<Left>", "<Right>", "<space>"):
            self.tree.bind(sequence, lambda _event: "break")
        self.tree.bind("<FocusIn>", self._focused)
        self.tree.bind("<FocusOut>", self._show_ring)
        when_widths_change(self.tree, self._fit_columns)
        look.when_worn(self, self._wear)

    @property
    def has_focus(self) -> bool:
        """Whether keys go to the board."""
        return str(self.tk.call("focus")) == str(self.tree)

    @property
    def tickets(self) -> list[int]:
        """The ids of the tickets on the board, from top to bottom."""
        return [row.ticket_id for rows in self._shown.values() for row in rows]

    @property
    def is_read(self) -> bool:
        """Whether the board was read from the records yet."""
        return self._read

    def show(
        self, groups: Mapping[Move, Sequence[BoardRow]], today: date, *, more: bool = False
    ) -> None:
        """Show open tickets, and whether there are ``more``; what was chosen stays chosen."""
        chosen, self._shown = self.tree.selection(), groups
        self._read = True
        self.tree.delete(*self.tree.get_children())
        for move, rows in groups.items():
            if rows:
                self._show_group(move, rows, today)
        if more:
            words = "More are open than fit here:\nfind them above."
            self.tree.insert("", "end", iid="more", text=words)
        self._fit_columns()
        self.mark(*(iid for iid in chosen if self.tree.exists(iid)))
        if any(groups.values()):
            self._none.place_forget()
        else:
            self._none.place(relx=0.5, rely=0.4, anchor="center")
        if self.has_focus:
            self._choose_one()

    def mark(self, *iids: str) -> None:
        """Choose a ticket's row, without opening it."""
        self.tree.selection_set(*iids)
        for iid in iids:
            self.tree.focus(iid)
            self._see(iid)

    def mark_ticket(self, ticket_id: int) -> None:
        """Choose the row of the ticket that is open, if it is on the board."""
        self.mark(*([str(ticket_id)] if self.tree.exists(str(ticket_id)) else []))

    def focus_list(self) -> None:
        """Put the focus on the board, on the ticket that is chosen or the first one."""
        self.tree.focus_set()
        self._choose_one()

    def _show_group(self, move: Move, rows: Sequence[BoardRow], today: date) -> None:
        parent = self.tree.insert(
            "", "end", iid=move, text=f"{TITLES[move]}  {len(rows)}", open=True, tags=("move",)
        )
        for row in rows:
            self.tree.insert(
                parent,
                "end",
                iid=str(row.ticket_id),
                values=(f"{row.stage}\n{_when(row, today)}",),
                tags=("late",) if row.days_late else (),
            )

    def _chosen(self, event: tk.Event[tk.Misc]) -> None:
        if event.num == 1 and self.tree.identify_row(event.y) not in self.tree.selection():
            return
        chosen = () if with_modifier(event) else self.tree.selection()
        if chosen and chosen[0].isdecimal():
            self._open(int(chosen[0]))

    def _walk(self, step: int, event: tk.Event[tk.Misc]) -> str | None:
        """Go to the next ticket or the one before, over the headings."""
        if with_modifier(event):
            return None
        ids, chosen = [str(one) for one in self.tickets], self.tree.selection()
        if chosen and chosen[0] in ids:
            place = ids.index(chosen[0]) + step
            self.mark(ids[min(max(place, 0), len(ids) - 1)])
        else:
            self._choose_one()
        return "break"

    def _see(self, iid: str) -> None:
        """Bring a row into sight, and with the first of a group its heading."""
        group = self.tree.parent(iid)
        if group and self.tree.index(iid) == 0:
            self.tree.see(group)
        self.tree.see(iid)

    def _wear(self) -> None:
        """Take the theme's inks, and columns as wide as its letters need."""
        self.tree.tag_configure("move", font=look.HEADING, foreground=look.colour("primary"))
        self.tree.tag_configure("late", foreground=look.colour("danger"))
        self._show_ring()
        self._fit_columns()

    def _fit_columns(self) -> None:
        """Keep what the state needs beside the names, which take the rest."""
        state = self._state_width()
        names = max(self.tree.winfo_width() - state, look.pixels(self, _LEAST_WIDTH))
        self.tree.column("#0", width=names, stretch=True)
        self.tree.column("state", width=state, stretch=False)
        self._fit_words()

    def _state_width(self) -> int:
        measure = nametofont("TkDefaultFont", root=self).measure
        said = (
            str(word)
            for iid in map(str, self.tickets)
            for word in self.tree.set(iid, "state").split("\n")
        )
        least, edges = look.pixels(self, _STATE_WIDTH), look.pixels(self, _CELL_EDGES)
        return min(least, max((measure(words) + edges for words in said), default=least))

    def _fit_words(self) -> None:
        """Shorten what is wider than the board."""
        room = int(self.tree.column("#0", "width")) - look.pixels(self, _CELL_EDGES)
        for row in (row for rows in self._shown.values() for row in rows):
            lines = (fitted(words, room) for words in (f"{row.tag}  {row.owner}", row.machine))
            self.tree.item(str(row.ticket_id), text="\n".join(lines))

    def _focused(self, _event: object) -> None:
        self._show_ring()
        self._choose_one()

    def _choose_one(self) -> None:
        ids = self.tickets
        if ids and not any(one.isdecimal() for one in self.tree.selection()):
            self.mark(str(ids[0]))

    def _show_ring(self, _event: object = None) -> None:
        ring = look.colour("primary" if self.has_focus else "bg")
        self._ring.configure(highlightbackground=ring, highlightcolor=ring)


def _when(row: BoardRow, today: date) -> str:
    if row.stage is Stage.PICKUP:
        return "ready"
    if row.promised_on is None:
        return "no day promised"
    if (row.promised_on - today).days <= _SOON:
        return days_between_words(row.promised_on, today)
    return show_date(row.promised_on, today)
