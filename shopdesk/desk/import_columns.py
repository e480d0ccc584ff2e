"""Where each column of a list goes: its heading, what stands below it, and the place on a card."""

from __future__ import annotations

import tkinter as tk
from collections.abc import Callable, Sequence

import ttkbootstrap as ttk

from shopdesk.desk.forms import Form
from shopdesk.desk.rows import Column, RowList
from shopdesk.job.importing.fields import PLACES
from shopdesk.job.importing.listing import Listing
from shopdesk.job.importing.matching import Matched, changed, match_for

_LEFT_OUT = "left out"
Lists = tuple[tuple[Listing, tuple[Matched, ...]], ...]


class ImportColumns(ttk.Frame):
    """A list of the columns; the box below sends the chosen one elsewhere.

    ``on_change`` is told when one goes elsewhere.
    """

    def __init__(self, parent: tk.Misc, on_change: Callable[[], object]) -> None:
        super().__init__(parent)
        self.lists: Lists = ()
        self._on_change = on_change
        self._at: list[tuple[int, int]] = []
        self.list = RowList(
            self,
            [
                Column("Column", 170, grows=True),
                Column("What stands there", 300, grows=True),
                Column("Goes to", 230, grows=True),
            ],
            lines=5,
            empty="The columns of a list stand here once it is chosen.",
        )
        self.list.pack(fill="x")
        self.form = form = Form(self, columns=3)
        places = [("", _LEFT_OUT), *((place.key, place.words) for place in PLACES)]
        self.goes_to = form.choice("place", "The chosen column goes to", places)
        form.pack(fill="x", pady=(6, 0))
        self.list.on_select = self._picked
        self.list.on_open(self._choose)
        self.goes_to.on_enter = self._entered
        for event in ("<<ComboboxSelected>>", "<FocusOut>"):
            self.goes_to.input.bind(event, lambda _event: self._sent(), add="+")

    def show(self, lists: Lists) -> None:
        """Show the columns of these lists."""
        self.lists = lists
        self._at = [
            (number, column)
            for number, (listing, _) in enumerate(lists)
            for column in range(len(listing.heads))
        ]
        self._show()
        if self._at:
            self.list.select(0)
        self._picked()

    def focus_list(self) -> None:
        """Put the focus into the list."""
        self.list.focus_list()

    def _show(self) -> None:
        rows = []
        for key, (number, column) in enumerate(self._at):
            listing, matches = self.lists[number]
            sample = "; ".join(" / ".join(one.split("\n")) for one in listing.samples(column))
            head = listing.heads[column]
            name = f"{listing.name}: {head}" if len(self.lists) > 1 else head
            match = matches[column]
            rows.append((key, (name, sample, match.words), "" if match.place else "faint"))
        self.list.show(rows)

    def _chosen(self) -> tuple[int, int] | None:
        key = self.list.selected
        return self._at[key] if key is not None and key < len(self._at) else None

    def _picked(self) -> None:
        at = self._chosen()
        self.goes_to.set(self.lists[at[0]][1][at[1]].place if at else "")

    def _choose(self, _key: int) -> None:
        """Go to the box, what stands there marked for overtyping."""
        self.goes_to.focus_input()
        box = self.goes_to.input
        assert isinstance(box, ttk.Combobox)
        box.selection_range(0, "end")
        box.icursor("end")

    def _entered(self) -> None:
        self._sent()
        self.list.focus_list()

    def _sent(self) -> None:
        """Send the chosen column to the place in the box, once that is one of the places."""
        at, key = self._chosen(), self.form.text_of("place")
        if at is None or (key and key not in [place.key for place in PLACES]):
            return
        number, column = at
        listing, matches = self.lists[number]
        if matches[column].place == key:
            return
        lists: list[tuple[Listing, Sequence[Matched]]] = list(self.lists)
        match = match_for(key, listing.heads[column])
        lists[number] = (listing, changed(matches, column, match))
        self.lists = tuple((one, tuple(its)) for one, its in lists)
        self._show()
        self._on_change()
