"""The bar under a ticket: the way on with what is missing, and the way back with a reason."""

import tkinter as tk
from collections.abc import Callable, Sequence
from functools import partial
from itertools import islice

import ttkbootstrap as ttk

from shopdesk.desk import look
from shopdesk.desk.causes_ask import ask_cause
from shopdesk.desk.fields import wrapping
from shopdesk.desk.front import Front
from shopdesk.desk.keys import action_button
from shopdesk.errors import JobError
from shopdesk.job.labour.spells import stopped_words
from shopdesk.job.moving import go_on, send_back
from shopdesk.job.pickup import hand_over
from shopdesk.job.stages import Stage, Way
from shopdesk.job.views import TicketView

_ON_KEYS = ("Ctrl+Enter", "Ctrl+Shift+Enter")
_DOES = ("Go on to the next stage", "Go on the other way")


class WayBar(ttk.Frame):
    """Moves the ticket. ``save_first`` keeps what is typed and says whether that went well.

    ``still_typed`` names what of the ticket is typed elsewhere, which holds back a handing over.
    """

    def __init__(
        self,
        parent: tk.Misc,
        front: Front,
        save_first: Callable[[], bool],
        still_typed: Callable[[], Sequence[str]],
    ) -> None:
        super().__init__(parent, padding=(12, 6))
        self._front = front
        self._save_first = save_first
        self._still_typed = still_typed
        self._ticket: TicketView | None = None
        self._ways: tuple[Way, ...] = ()
        ttk.Separator(parent, orient="horizontal").pack(side="bottom", fill="x")
        self._back = action_button(self, front.keys, "Send back …", "Alt+B", self._go_back)
        self._back.pack(side="right", anchor="n", padx=(12, 0))
        self._on = [
            action_button(
                self,
                front.keys,
                _DOES[place],
                key,
                partial(self._go, place),
                main=not place,
                shut=partial(self._go, place),
            )
            for place, key in enumerate(_ON_KEYS)
        ]
        self._missing = wrapping(ttk.Label(self, font=look.SMALL))

    @property
    def missing(self) -> str:
        """What stands beside the way on."""
        return str(self._missing.cget("text"))

    def show(self, ticket: TicketView) -> None:
        """Show a ticket's ways on, the nearest first, and whether one leads back."""
        self._ticket = ticket
        self._ways = nearest_ways(ticket)
        for button in self._on:
            button.pack_forget()
        self._missing.pack_forget()
        for button, way, key in zip(self._on, self._ways, _ON_KEYS, strict=False):
            button.configure(text=f"{way_label(way.to)}  {key}")
            button.state(["disabled" if way.missing else "!disabled"])
            button.pack(side="left", anchor="n", padx=(0, 8))
        self._missing.configure(text="\n".join(self._missing_words()))
        self._missing.pack(side="left", fill="x", expand=True, padx=4)
        back = [way for way in ticket.ways_back if not way.missing]
        self._back.configure(
            text=f"{'Open again' if ticket.stage is Stage.CLOSED else 'Send back'} …  Alt+B"
        )
        self._back.state(["!disabled" if back else "disabled"])

    def _missing_words(self) -> list[str]:
        return [missing_words(way) for way in self._ways if way.missing]

    def _go(self, place: int) -> None:
        """Keep what is typed, then go where the button said; else say why that way is shut."""
        if self._ticket is None or place >= len(self._ways):
            return
        to = self._ways[place].to
        if not self._save_first():
            return
        way = next((way for way in self._ticket.ways_on if way.to is to), None)
        if way is None or way.missing:
            self._front.notices.trouble(missing_words(way) if way else f"No way leads to {to} now.")
            return
        if to is Stage.CLOSED and (typed := self._still_typed()):
            self._front.notices.trouble(
                f"Typed and not saved yet: {', '.join(typed)}. Save it or empty it, "
                "then hand the machine over."
            )
            return
        if not ask_cause(self._front, self._ticket, to):
            return
        ticket_id, shift, before = self._ticket.id, self._front.shift, self._ticket
        try:
            moved = (
                hand_over(shift, ticket_id) if to is Stage.CLOSED else go_on(shift, ticket_id, to)
            )
        except JobError as error:
            self._front.notices.trouble(error.sentence)
            return
        self._front.notices.say(" ".join(filter(None, (moved_words(moved), clocks(before, moved)))))
        self._front.show_ticket(moved)
        self._front.open_ticket(moved.id)

    def _go_back(self) -> None:
        if self._ticket is None or not self._save_first():
            return
        ways = [way.to for way in self._ticket.ways_back if not way.missing]
        place = 0
        if len(ways) > 1:
            chosen = self._front.dialogs.choose(
                "Send back", f"Send {self._ticket.tag} back to", ways
            )
            if chosen is None:
                return
            place = chosen
        self._send_back(self._ticket, ways[place])

    def _send_back(self, ticket: TicketView, to: Stage) -> None:
        why = self._front.dialogs.ask_text("Send back", f"Why does {ticket.tag} go back to {to}?")
        if why is None:
            return
        try:
            moved = send_back(self._front.shift, ticket.id, to, why)
        except JobError as error:
            self._front.notices.trouble(error.sentence)
            return
        self._front.notices.say(f"{moved.tag} is back in {moved.stage}.")
        self._front.show_ticket(moved)
        self._front.open_ticket(moved.id)


def nearest_ways(ticket: TicketView) -> tuple[Way, ...]:
    """Return the nearest way on, and another one that is open."""
    nearest = ticket.next_way
    others = (way for way in ticket.ways_on if way is not nearest and not way.missing)
    return () if nearest is None else (nearest, *islice(others, 1))


def missing_words(way: Way) -> str:
    """Return what is missing before a way is open."""
    return f"Before {_before(way.to)}: {'; '.join(way.missing)}."


def moved_words(moved: TicketView) -> str:
    """Return where the ticket stands now."""
    if moved.stage is Stage.CLOSED:
        return f"{moved.tag} is closed: {moved.outcome}."
    return f"{moved.tag} is in {moved.stage} now."


def clocks(before: TicketView, moved: TicketView) -> str:
    """Return which clocks stopped as the ticket moved; empty where none did."""
    ran = {spell.id for spell in before.running}
    return stopped_words(spell for spell in moved.spells if spell.id in ran and not spell.running)


def way_label(to: Stage) -> str:
    """Return what the button for a stage says."""
    return "Hand it over" if to is Stage.CLOSED else f"On to {to}"


def _before(to: Stage) -> str:
    return "it is handed over" if to is Stage.CLOSED else str(to)
