"""Choosing a check: a few letters of it, or the list in the order in which the trade looks."""

import tkinter as tk
from collections.abc import Callable, Mapping, Sequence

import ttkbootstrap as ttk

from shopdesk.bench.checks import Check
from shopdesk.desk.forms import Form
from shopdesk.desk.rows import Column, RowList
from shopdesk.text import fold


class CheckChooser(ttk.Frame):
    """A box to type in over the list of checks; ``on_choose`` is told when another one is chosen.

    Arrows in the box go through the list, Enter in either calls ``on_take``. A list that ``folds``
    is seen only while a check is being chosen.
    """

    def __init__(self, parent: tk.Misc, *, folds: bool = False) -> None:
        super().__init__(parent)
        self.on_choose: Callable[[], object] = lambda: None
        self.on_take: Callable[[], object] = lambda: None
        self._checks: Sequence[Check] = ()
        self._read: Mapping[str, str] = {}
        self._later = ""
        self._folds = folds
        form = Form(self, columns=1)
        form.pack(fill="x")
        self._box = form.line("check", "Check  Alt+K", "a few letters of it, then Enter")
        self._box.watch(self._filter)
        form.submit_with(self._take)
        self._box.input.bind("<Down>", lambda _event: self._step(1))
        self._box.input.bind("<Up>", lambda _event: self._step(-1))
        self.list = RowList(
            self,
            [Column("System", 88), Column("Check", 180, grows=True), Column("Read", 76)],
            lines=5 if folds else 9,
            empty="No check goes by that name: type fewer letters.",
        )
        self.list.pack(fill="both", expand=True)
        if folds:
            for widget in (self._box.input, self.list.tree):
                widget.bind("<FocusIn>", self._unfold, add="+")
                widget.bind("<FocusOut>", self._left, add="+")
            self.bind("<Destroy>", lambda _event: self._stay())
        self.list.on_select = lambda: self.on_choose()
        self.list.on_open(lambda _key: self.on_take())

    @property
    def box(self) -> tk.Widget:
        """The box to type in."""
        return self._box.input

    @property
    def typed(self) -> str:
        """What is typed in the box."""
        return self._box.get()

    @property
    def chosen(self) -> Check | None:
        """The check that is marked in the list."""
        place = self.list.selected
        return None if place is None else self._checks[place]

    def offer(self, checks: Sequence[Check], read: Mapping[str, str], called: str = "Read") -> None:
        """Offer these checks; ``read`` says by key what was read before, in a column of that name.

        ``on_choose`` is not told.
        """
        self.list.tree.heading("c2", text=called)
        self._checks, self._read = checks, read
        self._show_matching()

    def offers(self, key: str) -> bool:
        """Whether the check of that key is among those offered."""
        return any(check.key == key for check in self._checks)

    def choose(self, key: str) -> None:
        """Mark the check of that key, whatever is typed in the box."""
        place = next((place for place, check in enumerate(self._checks) if check.key == key), None)
        if place is None:
            return
        if not self.list.tree.exists(str(place)):
            self.clear()
        self.list.select(place)

    def clear(self) -> None:
        """Empty the box and show every check."""
        self._box.set("")
        self._filter()

    def focus_box(self) -> None:
        """Put the focus into the box."""
        self._box.focus_input()

    def _filter(self) -> None:
        self._show_matching()
        self.on_choose()

    def _show_matching(self) -> None:
        found = matching(self._checks, self._box.get())
        rows, system = [], ""
        for place in found:
            check = self._checks[place]
            rows.append(
                (
                    place,
                    (
                        "" if check.system == system else check.system,
                        check.title,
                        self._read.get(check.key, ""),
                    ),
                )
            )
            system = check.system
        self.list.show(rows)
        if found and (self.list.selected is None or self._box.get().strip()):
            self.list.select(found[0])

    def fold(self) -> None:
        """Put the list away where it folds: a check is chosen."""
        if self._folds:
            self.list.pack_forget()
            self.update_idletasks()

    def _unfold(self, _event: object) -> None:
        self.list.pack(fill="both", expand=True)

    def _left(self, _event: object) -> None:
        """Fold the list once it is known where in the window the focus went."""
        self._stay()
        self._later = self.after_idle(self._fold)

    def _stay(self) -> None:
        if self._later:
            self.after_cancel(self._later)
            self._later = ""

    def _fold(self) -> None:
        self._later = ""
        focus = str(self.tk.call("focus"))
        if focus and focus not in (str(self._box.input), str(self.list.tree)):
            self.list.pack_forget()

    def _step(self, by: int) -> str:
        keys = [int(key) for key in self.list.tree.get_children()]
        if keys:
            place = keys.index(self.list.selected) + by if self.list.selected in keys else 0
            self.list.select(keys[min(max(place, 0), len(keys) - 1)])
        return "break"

    def _take(self) -> None:
        if self.chosen is not None:
            self.on_take()


def matching(checks: Sequence[Check], typed: str) -> list[int]:
    """Return the places of the checks that hold every typed word, those that begin so first."""
    words = fold(typed).split()
    found = []
    for place, check in enumerate(checks):
        name = fold(f"{check.title} {check.system}")
        if all(word in name for word in words):
            begins = not words or fold(check.title).startswith(words[0])
            at_word = all(f" {word}" in f" {name}" for word in words)
            found.append(((not begins, not at_word), place))
    return [place for _, place in sorted(found)]
