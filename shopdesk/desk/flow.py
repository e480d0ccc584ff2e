"""A row of buttons and words that goes on in a row below where there is no room for all of it."""

import tkinter as tk
from typing import Any

import ttkbootstrap as ttk

from shopdesk.desk import look

_ROW_GAP = 4
_WORDS_SHARE = 0.4
"""How much of the width words that wrap want at least, if they are as long as that."""


class Flow(ttk.Frame):
    """Pack things into it from the left and the right, as into any frame; it makes the rows."""

    def __init__(self, parent: tk.Misc, **options: Any) -> None:
        super().__init__(parent, **options)
        self._rows: list[ttk.Frame] = []
        self._packed: dict[tk.Widget, dict[str, Any]] = {}
        """How each thing was packed, in the order in which they stand."""
        self._waiting = ""
        self.bind("<Configure>", self._soon)
        self.bind("<Map>", self._soon)
        self.bind("<Destroy>", self._forget)
        look.when_worn(self, self._soon)

    @property
    def rows(self) -> int:
        """How many rows there are just now."""
        return max(1, sum(1 for row in self._rows if row.pack_slaves()))

    def _soon(self, _event: object = None) -> None:
        if not self._waiting:
            self._waiting = self.after_idle(self._lay_out)

    def _forget(self, _event: object) -> None:
        if self._waiting:
            self.after_cancel(self._waiting)

    def _lay_out(self) -> None:
        self._waiting = ""
        if self.winfo_width() <= 1:
            return
        self._gather()
        shown = [one for one in self._packed if one.winfo_manager() == "pack"]
        wanted = self._shared_out(shown)
        if wanted != [self._things_in(row) for row in self._rows[: len(wanted)]] or any(
            self._things_in(row) for row in self._rows[len(wanted) :]
        ):
            self._pack(wanted)

    def _gather(self) -> None:
        """Take in what was packed since, at its place."""
        rows = self._rows
        standing = [one for row in rows for one in self._things_in(row)]
        new = [one for one in self.pack_slaves() if one not in rows]
        for one in (*standing, *new):
            if one not in self._packed:
                self._packed[one] = {
                    name: value for name, value in one.pack_info().items() if name != "in"
                }
                for sequence in ("<Map>", "<Unmap>", "<Configure>"):
                    one.bind(sequence, self._soon, add="+")
        if any(one not in self._packed for one in standing) or len(standing) > 1:
            hidden = [one for one in self._packed if one not in standing and one not in new]
            order = [*standing, *new, *hidden]
            self._packed = {one: self._packed[one] for one in order if one.winfo_exists()}

    @staticmethod
    def _things_in(row: ttk.Frame) -> list[tk.Widget]:
        return list(row.pack_slaves())

    def _shared_out(self, shown: list[tk.Widget]) -> list[list[tk.Widget]]:
        """Return what goes into each row."""
        room = self._room()
        rows: list[list[tk.Widget]] = [[]]
        left = room
        for one in sorted(shown, key=self._wraps):
            need = self._needs(one, room)
            if need > left and rows[-1]:
                if self._wraps(one):
                    rows.insert(0, [one])
                    continue
                rows.append([])
                left = room
            rows[-1].append(one)
            left -= need
        place = {one: at for at, one in enumerate(shown)}
        return [sorted(row, key=place.__getitem__) for row in rows if row]

    def _wraps(self, one: tk.Widget) -> bool:
        return bool(int(self._packed[one].get("expand", 0)))

    def _needs(self, one: tk.Widget, room: int) -> int:
        need = one.winfo_reqwidth()
        if self._wraps(one) and isinstance(one, ttk.Label):
            font = str(one.cget("font")) or "TkDefaultFont"
            whole = ttk.nametofont(font, root=self).measure(str(one.cget("text")))
            need = max(need, min(whole, int(room * _WORDS_SHARE)))
        return need + padding_of(self._packed[one].get("padx", 0))

    def _room(self) -> int:
        pads = [int(str(one)) for one in self.tk.splitlist(self.cget("padding"))] or [0]
        left, right = pads[0], pads[2] if len(pads) > 2 else pads[0]
        return self.winfo_width() - left - right

    def _pack(self, wanted: list[list[tk.Widget]]) -> None:
        while len(self._rows) < len(wanted):
            row = ttk.Frame(self)
            row.lower()
            self._rows.append(row)
        for one in self._packed:
            if one.winfo_manager() == "pack":
                one.pack_forget()
        for row in self._rows:
            row.pack_forget()
        for place, things in enumerate(wanted):
            row = self._rows[place]
            row.pack(side="top", fill="x", pady=(look.pixels(self, _ROW_GAP) if place else 0, 0))
            for one in things:
                one.pack(in_=row, **self._packed[one])


def padding_of(padx: Any) -> int:
    """Return what ``padx`` keeps free at both sides together, in pixels."""
    return sum(map(int, padx)) if isinstance(padx, tuple) else 2 * int(padx)
