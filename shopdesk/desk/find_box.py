"""The one box that finds anything; a scanned tag and Enter opens its ticket at once."""

from __future__ import annotations

import re
import tkinter as tk
from collections.abc import Sequence
from typing import TYPE_CHECKING

import ttkbootstrap as ttk

from shopdesk.desk import look
from shopdesk.desk.front import Front
from shopdesk.desk.keys import keys_first, with_modifier
from shopdesk.desk.suggest import Offer, Suggestions
from shopdesk.errors import JobError

if TYPE_CHECKING:
    from shopdesk.job.views import Hit

_TAG = re.compile(r"\s*[tT](\d{1,9})\s*")


class FindBox(ttk.Frame):
    """Finds tickets, owners and machines by whatever is known of them."""

    def __init__(self, parent: tk.Misc, front: Front) -> None:
        super().__init__(parent)
        self._front = front
        ttk.Label(self, text="Find  Ctrl+F", font=look.SMALL).pack(side="left", padx=(0, 8))
        self.entry = ttk.Entry(self, width=44)
        self.entry.pack(side="left", fill="x", expand=True)
        keys_first(self.entry)
        self.suggestions = Suggestions(self.entry, self._find, self._open, wide=True)
        for key in ("<Return>", "<KP_Enter>"):
            self.entry.bind(key, self._entered)
        for name in ("Ctrl+F", "/"):
            front.keys.add(
                self, name, "Find an owner, machine, ticket or complaint", self.focus_box
            )

    def focus_box(self) -> None:
        """Put the focus into the box, what stands there marked for overtyping."""
        self.entry.focus_set()
        self.entry.selection_range(0, "end")

    def _find(self, words: str) -> Sequence[Offer[Hit]]:
        from shopdesk.job.find import find_anything

        try:
            hits = find_anything(self._front.shift, words)
        except JobError as error:
            self._front.notices.trouble(error.sentence)
            return ()
        return [Offer(f"{hit.title}   –   {hit.detail}", hit) for hit in hits]

    def _entered(self, event: tk.Event[tk.Misc]) -> str | None:
        if with_modifier(event):
            return None
        tag = _TAG.fullmatch(self.entry.get())
        if self.suggestions.take_chosen():
            return "break"
        if tag:
            self._open_tag(int(tag[1]))
            return "break"
        self._open_first()
        return "break"

    def _open_tag(self, number: int) -> None:
        from shopdesk.job.opened import ticket_numbered

        try:
            ticket = ticket_numbered(self._front.shift, number)
        except JobError as error:
            self._front.notices.trouble(error.sentence)
            return
        self._done()
        self._front.open_ticket(ticket.id)

    def _open_first(self) -> None:
        words = self.entry.get().strip()
        offers = self._find(words) if words else ()
        if len(offers) == 1:
            self._open(offers[0].thing)
        elif offers:
            self.suggestions.look_now()
        elif words:
            self._front.notices.trouble(
                f"Nothing is known of “{words[:40]}”: "
                "try fewer letters, a phone's last digits, or a tag number."
            )

    def _open(self, hit: Hit) -> None:
        self._done()
        if hit.ticket_id is not None:
            self._front.open_ticket(hit.ticket_id)
        elif hit.unit_id is not None:
            self._front.open_machine(hit.unit_id)
        elif hit.customer_id is not None:
            self._front.open_owner(hit.customer_id)

    def _done(self) -> None:
        self.suggestions.close()
        self.entry.delete(0, "end")
