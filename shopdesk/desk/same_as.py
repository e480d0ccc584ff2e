"""What is typed may be known already: said beside the form, with a key to take the known one."""

from __future__ import annotations

import tkinter as tk
from collections.abc import Callable, Mapping, Sequence
from typing import Generic, TypeVar

import ttkbootstrap as ttk

from shopdesk.desk import look
from shopdesk.desk.fields import Value, wrapping
from shopdesk.desk.forms import Form
from shopdesk.desk.front import Front
from shopdesk.desk.keys import action_button
from shopdesk.desk.signs import Sign, SignMark
from shopdesk.desk.suggest import Offer

Thing = TypeVar("Thing")
DELAY_MS = 250


class SameAs(ttk.Frame, Generic[Thing]):
    """A strip under ``below``, in sight while something alike is known.

    ``find`` returns what is to be looked for off the window's thread, made of what is typed now, or
    ``None`` where nothing is.
    """

    def __init__(
        self,
        below: tk.Widget,
        front: Front,
        called: str,
        key: str,
        find: Callable[[], Callable[[], Sequence[Offer[Thing]]] | None],
        take: Callable[[Thing], object],
    ) -> None:
        super().__init__(below.master)
        self._below = below
        self._front = front
        self._called = called
        self._find = find
        self._take = take
        self._offers: Sequence[Offer[Thing]] = ()
        self._later = ""
        self._asked = 0
        line = ttk.Frame(self)
        line.pack(fill="x", pady=(2, 6))
        SignMark(line, Sign.CAUTION).pack(side="left", anchor="n", padx=(0, 6), pady=2)
        button = action_button(line, front.keys, f"It is this {called}", key, self.take)
        button.pack(side="right", anchor="n", padx=(8, 12))
        self._words = wrapping(ttk.Label(line, font=look.SMALL))
        self._words.pack(side="left", fill="x", expand=True)
        self.bind("<Destroy>", lambda _event: self._forget())

    @property
    def offered(self) -> list[str]:
        """What is offered now, in words."""
        return [offer.words for offer in self._offers]

    def typed(self) -> None:
        """Look a moment after the last key."""
        self._forget()
        self._later = self.after(DELAY_MS, self._look)

    def clear(self) -> None:
        """Offer nothing."""
        self._forget()
        self._asked += 1
        self._show(())

    def take(self) -> None:
        """Take what is offered; where it is more than one, ask which."""
        place: int | None = 0
        if len(self._offers) > 1:
            title = f"It is this {self._called}"
            place = self._front.dialogs.choose(title, "Which one is it?", self.offered)
        if place is not None and self._offers:
            chosen = self._offers[place].thing
            self.clear()
            self._take(chosen)

    def _look(self) -> None:
        self._later = ""
        self._asked += 1
        asked = self._asked
        work = self._find()
        if work is None:
            self._show(())
            return

        def found(offers: Sequence[Offer[Thing]]) -> None:
            if asked == self._asked and self.winfo_exists():
                self._show(offers)

        self._front.worker.run(work, found)

    def _show(self, offers: Sequence[Offer[Thing]]) -> None:
        self._offers = offers
        if not offers:
            self.pack_forget()
            return
        said = "\n".join(offer.words for offer in offers)
        self._words.configure(text=f"Known already?  {said}")
        self.pack(fill="x", after=self._below)

    def _forget(self) -> None:
        if self._later:
            self.after_cancel(self._later)
            self._later = ""


def put_over(form: Form, typed: Mapping[str, Value]) -> None:
    """Put what was typed into the fields that the known card leaves empty."""
    form.restore({name: value for name, value in typed.items() if value and not form[name].get()})
