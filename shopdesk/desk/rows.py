"""A list to go through with the arrows: Enter opens a row, other keys do what the page says."""

import tkinter as tk
from bisect import bisect_right
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import partial
from tkinter.font import nametofont
from typing import Literal

import ttkbootstrap as ttk

from shopdesk.desk import look
from shopdesk.desk.keys import with_modifier

_BODY, _HEADING = "TkDefaultFont", "TkHeadingFont"
_KEPT = 0.75
"""What part of its width a column keeps that grows where there is room, before others give way."""
_CELL_EDGES = 10
"""What a cell keeps free at its sides, in unscaled pixels."""

_FAR = {"<Prior>": -1, "<Next>": 1, "<Home>": -2, "<End>": 2}
"""Keys that go far in a list: by a screen of it, or (twice as far) to its end."""


@dataclass(frozen=True, slots=True)
class Column:
    """One column: its heading, unscaled width, side, and whether it takes what room is left."""

    title: str
    width: int = 100
    right: bool = False
    grows: bool = False


class RowList(ttk.Frame):
    """Rows known by their ``key`` (any int). ``empty`` is said when there are none."""

    def __init__(
        self, parent: tk.Misc, columns: Sequence[Column], *, lines: int = 6, empty: str = ""
    ) -> None:
        super().__init__(parent)
        self.on_select: Callable[[], object] = lambda: None
        names = [f"c{place}" for place in range(len(columns))]
        self._name = "|".join(column.title for column in columns)
        self._columns = tuple(columns)
        self.tree = ttk.Treeview(
            self, columns=names, show="headings", height=lines, selectmode="browse"
        )
        for name, column in zip(names, columns, strict=True):
            side: Literal["e", "w"] = "e" if column.right else "w"
            self.tree.heading(name, text=column.title, anchor=side)
            self.tree.column(name, anchor=side, stretch=column.grows)
        scrolled(self.tree, self)
        self._empty = ttk.Label(self.tree, text=empty, bootstyle="secondary", justify="center")
        self._rows: dict[str, tuple[Sequence[str], str]] = {}
        self.tree.bind("<FocusIn>", self._focused)
        for key, far in _FAR.items():
            self.tree.bind(key, partial(self._go_far, far))
        when_widths_change(self.tree, self._fit_columns)
        self.tree.bind("<<TreeviewSelect>>", lambda _event: self.on_select())
        self.tree.bind("<ButtonRelease-1>", self._remember_widths, add="+")
        self.show([])
        look.when_worn(self, self._wear)

    def show(
        self, rows: Sequence[tuple[int, Sequence[str]] | tuple[int, Sequence[str], str]]
    ) -> None:
        """Show rows of (key, cells) or (key, cells, tag); what was chosen stays chosen."""
        chosen = self.selected
        self.tree.delete(*self.tree.get_children())
        self._rows = {}
        for key, cells, *tags in rows:
            self._rows[str(key)] = tuple(cells), look.STRONG if "strong" in tags else _BODY
            self.tree.insert("", "end", iid=str(key), tags=tuple(tags))
        self._fit_cells()
        if chosen is not None and self.tree.exists(str(chosen)):
            self.select(chosen)
        if rows:
            self._empty.place_forget()
        else:
            self._empty.place(relx=0.5, rely=0.6, anchor="center")

    def say_empty(self, words: str) -> None:
        """Say something else where there are no rows."""
        self._empty.configure(text=words)

    @property
    def empty_words(self) -> str:
        """What is said where there are no rows."""
        return str(self._empty.cget("text"))

    @property
    def selected(self) -> int | None:
        """The key of the chosen row."""
        chosen = self.tree.selection()
        return int(chosen[0]) if chosen else None

    def select(self, key: int) -> None:
        """Choose a row and bring it into sight."""
        self.tree.selection_set(str(key))
        self.tree.focus(str(key))
        self.tree.see(str(key))

    def focus_list(self) -> None:
        """Put the focus into the list."""
        self.tree.focus_set()

    def bind_key(self, sequences: str | Sequence[str], run: Callable[[int], object]) -> None:
        """Let keys pressed in the list (``<Delete>``, ``<space>``) do something with its row."""
        for sequence in [sequences] if isinstance(sequences, str) else sequences:
            self.tree.bind(sequence, partial(self._do, run))

    def on_open(self, run: Callable[[int], object]) -> None:
        """Let Enter and a double click open a row."""
        self.bind_key(("<Return>", "<KP_Enter>", "<Double-Button-1>"), run)

    def _do(self, run: Callable[[int], object], event: "tk.Event[tk.Misc]") -> str | None:
        if with_modifier(event):
            return None
        if self.selected is not None:
            run(self.selected)
        return "break"

    def cells(self, key: int) -> Sequence[str]:
        """Return a row's cells whole, whatever there is room to show."""
        return self._rows[str(key)][0]

    def _wear(self) -> None:
        """Take the theme's inks, and columns as wide as its letters need."""
        self.tree.tag_configure("faint", foreground=look.colour("secondary"))
        self.tree.tag_configure("strong", font=look.STRONG)
        self.tree.tag_configure("trouble", foreground=look.colour("danger"))
        self._fit_columns()

    def _fit_columns(self) -> None:
        """Give each column what it wants; where that is too much, each of them less."""
        drawn = look.root_of(self).widths.get(self._name, ())
        usual = tuple(column.width for column in self._columns)
        wanted = [
            look.pixels(self, width) for width in (drawn if len(drawn) == len(usual) else usual)
        ]
        grows = [column.grows for column in self._columns]
        widths = shared_out(wanted, grows, self._least_widths(), self.tree.winfo_width())
        for name, width in zip(self.tree["columns"], widths, strict=True):
            if int(self.tree.column(name, "width")) != width:
                self.tree.column(name, width=width)
        self._empty.configure(wraplength=max(self.tree.winfo_width() - look.pixels(self, 24), 1))
        self._fit_cells()

    def _least_widths(self) -> list[int]:
        """Return what each heading needs."""
        measure, edges = nametofont(_HEADING).measure, look.pixels(self, 2 * _CELL_EDGES)
        return [measure(column.title) + edges for column in self._columns]

    def _remember_widths(self, event: "tk.Event[tk.Misc]") -> None:
        """Keep what a person drew at the edge of a heading."""
        if self.tree.identify_region(event.x, event.y) in ("separator", "heading"):
            widths = [int(self.tree.column(name, "width")) for name in self.tree["columns"]]
            scale = look.pixels(self, 1000) / 1000
            look.root_of(self).widths[self._name] = tuple(int(one / scale) for one in widths)

    def _fit_cells(self) -> None:
        """Shorten what is wider than its column."""
        edges = look.pixels(self, _CELL_EDGES)
        rooms = [int(self.tree.column(name, "width")) - edges for name in self.tree["columns"]]
        for name, column, room in zip(self.tree["columns"], self._columns, rooms, strict=True):
            self.tree.heading(name, text=fitted(column.title, room, _HEADING))
        for iid, (cells, font) in self._rows.items():
            shown = [fitted(cell, room, font) for cell, room in zip(cells, rooms, strict=False)]
            self.tree.item(iid, values=shown)

    def _go_far(self, far: int, event: "tk.Event[tk.Misc]") -> str | None:
        """Choose the row so many screens of the list away, or the first or the last."""
        if with_modifier(event):
            return None
        rows = self.tree.get_children()
        if rows:
            at = self.tree.index(self.tree.focus() or rows[0])
            step = far * max(int(self.tree["height"]) - 1, 1) if abs(far) == 1 else far * len(rows)
            self.select(int(rows[min(max(at + step, 0), len(rows) - 1)]))
        return "break"

    def _focused(self, _event: object) -> None:
        rows = self.tree.get_children()
        if rows and self.selected is None:
            self.select(int(rows[0]))


def shared_out(
    wanted: Sequence[int], grows: Sequence[bool], least: Sequence[int], room: int
) -> list[int]:
    """Return widths that fill ``room`` where a column grows, and that are not more than it.

    Each gets what it wants while there is room. Else those that grow give way first, by a part of
    what they want; then all, down to ``least``; then in proportion.
    """
    widths = list(wanted)
    if room <= 1:
        return widths
    growing = [at for at, one in enumerate(grows) if one]
    if sum(widths) <= room:
        for at, more in zip(growing, _parts(room - sum(widths), len(growing)), strict=True):
            widths[at] += more
        return widths
    for some, kept in ((growing, _KEPT), (range(len(widths)), 0.0)):
        spare = {at: max(widths[at] - max(least[at], int(wanted[at] * kept)), 0) for at in some}
        all_spare = sum(spare.values())
        taken = min(sum(widths) - room, all_spare)
        if taken > 0:
            for at, one in spare.items():
                widths[at] -= -(-one * taken // all_spare)
    if sum(widths) > room:
        widths = [one * room // sum(widths) for one in widths]
    return widths


def _parts(whole: int, count: int) -> list[int]:
    return [whole * (at + 1) // count - whole * at // count for at in range(count)]


def fitted(words: str, room: int, font: str = _BODY) -> str:
    """Return the words, or as much of their beginning, and an ellipsis, as fits ``room`` pixels."""
    width = nametofont(font).measure
    if width(words) <= room:
        return words
    most = bisect_right(range(len(words)), room, key=lambda end: width(f"{words[:end]}…")) - 1
    return f"{words[: max(most, 0)].rstrip()}…"


def when_widths_change(tree: ttk.Treeview, run: Callable[[], object]) -> None:
    """Do ``run`` once a list has laid its columns out anew, which it does when nothing else is."""
    waiting: list[str] = []

    def laid_out() -> None:
        waiting.clear()
        run()

    def wait(_event: object) -> None:
        if not waiting:
            waiting.append(tree.after_idle(laid_out))

    def forget(_event: object) -> None:
        for one in waiting:
            tree.after_cancel(one)

    for sequence in ("<Configure>", "<ButtonRelease-1>"):
        tree.bind(sequence, wait, add="+")
    tree.bind("<Destroy>", forget, add="+")


def scrolled(tree: ttk.Treeview, frame: tk.Misc) -> None:
    """Lay a list out over its frame, with a scroll bar while it is longer than that."""
    bar = ttk.Scrollbar(frame, orient="vertical", command=tree.yview)

    def moved(first: str, last: str) -> None:
        bar.set(first, last)
        if float(first) <= 0 and float(last) >= 1:
            bar.grid_remove()
        else:
            bar.grid(row=0, column=1, sticky="ns")

    tree.configure(yscrollcommand=moved)
    tree.grid(row=0, column=0, sticky="nsew")
    frame.rowconfigure(0, weight=1)
    frame.columnconfigure(0, weight=1)
