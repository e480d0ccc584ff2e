"""A box to type in that offers what it finds below; arrows choose, Enter takes, Escape closes."""

from __future__ import annotations

import tkinter as tk
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Generic, TypeVar

import ttkbootstrap as ttk

from shopdesk.desk import look

if TYPE_CHECKING:
    from shopdesk.desk.fields import Field

Thing = TypeVar("Thing")
_DELAY_MS = 60
_MOST_LINES = 10


@dataclass(frozen=True, slots=True)
class Offer(Generic[Thing]):
    """One thing found, in words."""

    words: str
    thing: Thing


class Suggestions(Generic[Thing]):
    """The list that drops down under ``entry``. ``find`` is asked a moment after the last key."""

    def __init__(
        self,
        entry: ttk.Entry,
        find: Callable[[str], Sequence[Offer[Thing]]],
        take: Callable[[Thing], object],
        *,
        wide: bool = False,
    ) -> None:
        self.entry = entry
        self._find = find
        self._take = take
        self._wide = wide
        self._offers: Sequence[Offer[Thing]] = ()
        self._list: tk.Listbox | None = None
        self._later = ""
        entry.bind("<KeyRelease>", self._typed, add="+")
        entry.bind("<Down>", lambda _event: self._step(1), add="+")
        entry.bind("<Up>", lambda _event: self._step(-1), add="+")
        entry.bind("<Escape>", self._escaped, add="+")
        entry.bind("<FocusOut>", lambda _event: self.close(), add="+")
        entry.bind("<Destroy>", lambda _event: self._forget(), add="+")

    @property
    def offers(self) -> list[str]:
        """What is offered now, in words."""
        return [offer.words for offer in self._offers] if self._list else []

    @property
    def list_in_sight(self) -> tk.Listbox | None:
        """The list that has dropped down, if one has."""
        return self._list

    def take_chosen(self) -> bool:
        """Take the offer that is marked, if one is."""
        place = self._place()
        if place is None:
            return False
        thing = self._offers[place].thing
        self.close()
        self._take(thing)
        return True

    def look_now(self) -> None:
        """Find at once what the typed words mean, and offer it."""
        self._forget()
        words = self.entry.get().strip()
        self._offers = self._find(words) if words else ()
        if self._offers:
            self._show()
        else:
            self.close()

    def close(self) -> None:
        """Take the list away."""
        self._forget()
        if self._list is not None:
            self._list.destroy()
            self._list = None

    def _typed(self, event: tk.Event[tk.Misc]) -> None:
        if (
            event.keysym in ("Down", "Up", "Return", "KP_Enter", "Escape", "Tab")
            or int(event.state) & 0xC
        ):
            return
        self._forget()
        self._later = self.entry.after(_DELAY_MS, self.look_now)

    def _escaped(self, _event: object) -> str | None:
        """Close the list; where there is none, Escape means what it means elsewhere."""
        was_open = self._list is not None
        self.close()
        return "break" if was_open else None

    def _forget(self) -> None:
        if self._later:
            self.entry.after_cancel(self._later)
            self._later = ""

    def _show(self) -> None:
        box = self._list or self._new_list()
        box.delete(0, "end")
        for offer in self._offers:
            box.insert("end", f" {offer.words}")
        box.configure(height=min(len(self._offers), _MOST_LINES))
        window = self.entry.winfo_toplevel()
        left = self.entry.winfo_rootx() - window.winfo_rootx()
        above = self.entry.winfo_rooty() - window.winfo_rooty()
        top = above + self.entry.winfo_height()
        if top + box.winfo_reqheight() > window.winfo_height():
            top = max(0, above - box.winfo_reqheight())
        room = window.winfo_width() - left - look.GAP
        wanted = max(self.entry.winfo_width(), look.pixels(self.entry, 560) if self._wide else 0)
        box.place(x=left, y=top, width=min(room, wanted))
        box.lift()

    def _new_list(self) -> tk.Listbox:
        box = ttk.Listbox(
            self.entry.winfo_toplevel(),
            activestyle="none",
            exportselection=False,
            takefocus=False,
            highlightthickness=1,
            highlightbackground=look.colour("primary"),
            background=look.colour("inputbg"),
            foreground=look.colour("inputfg"),
            selectbackground=look.colour("primary"),
            selectforeground=look.colour("selectfg"),
        )
        box.bind("<ButtonRelease-1>", lambda _event: self.take_chosen())
        self._list = box
        return box

    def _place(self) -> int | None:
        chosen = self._list.curselection() if self._list else ()
        return int(chosen[0]) if chosen else None

    def _step(self, by: int) -> str:
        if self._list is None:
            self.look_now()
            return "break"
        place = self._place()
        to = (
            (0 if by > 0 else len(self._offers) - 1)
            if place is None
            else (place + by) % len(self._offers)
        )
        self._list.selection_clear(0, "end")
        self._list.selection_set(to)
        self._list.see(to)
        return "break"


def take_or_leave(suggestions: Suggestions[Thing], field: Field) -> None:
    """Take the marked offer, or go on to the next field where none is marked."""
    if not suggestions.take_chosen():
        field.leave()
