"""The top of a ticket, always in sight: tag, owner, machine, promise, move, and what was before."""

import tkinter as tk
from collections.abc import Sequence
from datetime import date
from tkinter.font import nametofont

import ttkbootstrap as ttk

from shopdesk.dates import days_between_words, show_date
from shopdesk.desk import look
from shopdesk.desk.fields import wrapping
from shopdesk.desk.flow import Flow
from shopdesk.desk.front import Front
from shopdesk.desk.keys import action_button
from shopdesk.desk.labour.clock_strip import ClockStrip
from shopdesk.desk.rows import fitted
from shopdesk.desk.signs import Sign, SignMark
from shopdesk.job.stages import Move, Stage
from shopdesk.job.views import TicketView, VisitView

MOVES = {
    Move.BENCH: "the bench's move",
    Move.OWNER: "the owner's move",
    Move.SUPPLIER: "the supplier's move",
    Move.COUNTER: "the counter's move",
    Move.NOBODY: "nobody's move",
}
_VISITS_SHOWN, _PHONES_SHOWN = 2, 2
_VISIT_LENGTH = 70
_EDGES = (12, 8, 12, 4)
_BESIDE = 18
"""What is kept free beside each part, in pixels."""


class Header(ttk.Frame):
    """The strip over a ticket's pages."""

    def __init__(self, parent: tk.Misc, front: Front) -> None:
        super().__init__(parent, padding=_EDGES)
        self._front = front
        self._ticket: TicketView | None = None
        self.columnconfigure(2, weight=1)
        self._tag = self._put(look.TITLE, 0, 0, rows=2, bootstyle="primary")
        self._owner = self._put(look.HEADING, 0, 1)
        self._phones = self._put("TkDefaultFont", 1, 1, bootstyle="secondary")
        self._machine = self._put(look.HEADING, 0, 2)
        self._serial = self._put("TkDefaultFont", 1, 2, bootstyle="secondary")
        self._promise_line = ttk.Frame(self)
        self._promise_line.grid(row=0, column=3, sticky="e")
        self._late = SignMark(self._promise_line, Sign.TROUBLE)
        self._promise = ttk.Label(self._promise_line, font=look.STRONG)
        self._promise.pack(side="right")
        self._move = self._put("TkDefaultFont", 1, 3)
        self._move.grid_configure(sticky="e", padx=0)
        self._put_history()
        self._said: dict[ttk.Label, tuple[str, ...]] = {}
        """What each part says, and what instead where that is too wide."""
        self.bind("<Configure>", self._fit_words)

    def show(self, ticket: TicketView, visits: Sequence[VisitView], today: date) -> None:
        """Show a ticket; ``visits`` are the machine's earlier ones, newest first."""
        self._ticket = ticket
        self._tag.configure(text=ticket.tag)
        serial = f"serial {ticket.unit.serial}" if ticket.unit.serial else "no serial number"
        self._said = {
            self._owner: (ticket.owner.name,),
            self._phones: (phone_words(ticket), phone_words(ticket, 1)),
            self._machine: (ticket.unit.title,),
            self._serial: (f"{ticket.unit.engine}  ·  {serial}",),
        }
        whose = "" if ticket.stage is Stage.CLOSED else f"  ·  {MOVES[ticket.move]}"
        self._move.configure(text=f"{ticket.stage}{whose}")
        self._show_promise(ticket, today)
        self._show_history(ticket, visits)
        self.clock.show(ticket)
        self._fit_words()

    def _fit_words(self, _event: object = None) -> None:
        """Share the room between tag and promise: to the owner what is needed, or half of it."""
        if not self._said:
            return
        taken = max(self._promise_words_width(), self._move.winfo_reqwidth())
        room = self._inner_width() - self._tag.winfo_reqwidth() - taken - 4 * _BESIDE
        owner = min(
            max(map(self._needs, (self._owner, self._phones))),
            max(room // 2, room - max(map(self._needs, (self._machine, self._serial)))),
        )
        rooms = {self._owner: owner, self._phones: owner}
        for label, said in self._said.items():
            font, width = str(label.cget("font")), rooms.get(label, room - owner)
            shown = [fitted(words, width, font) for words in said]
            whole = (words for words in shown if words in said)
            label.configure(text=next(whole, shown[-1]))

    def _needs(self, label: ttk.Label) -> int:
        return nametofont(str(label.cget("font"))).measure(self._said[label][0])

    def _promise_words_width(self) -> int:
        sign = self._late.winfo_reqwidth() + 5 if self._late.winfo_manager() else 0
        return sign + self._promise.winfo_reqwidth()

    def _inner_width(self) -> int:
        left, _top, right, _bottom = _EDGES
        return self.winfo_width() - left - right

    def _put(
        self, font: str, row: int, column: int, *, rows: int = 1, bootstyle: str = "default"
    ) -> ttk.Label:
        label = ttk.Label(self, font=font, bootstyle=bootstyle)
        label.grid(row=row, column=column, rowspan=rows, sticky="w", padx=(0, 18))
        return label

    def _put_history(self) -> None:
        line = Flow(self)
        line.grid(row=2, column=0, columnspan=4, sticky="ew", pady=(6, 0))
        self._comeback_sign = SignMark(line, Sign.CAUTION)
        self._history = wrapping(ttk.Label(line, font=look.SMALL))
        keys = self._front.keys
        action_button(line, keys, "Machine", "Alt+M", self._open_machine, bootstyle="link").pack(
            side="right"
        )
        action_button(line, keys, "Owner", "Alt+O", self._open_owner, bootstyle="link").pack(
            side="right"
        )
        action_button(line, keys, "History", "F12", self._open_history, bootstyle="link").pack(
            side="right"
        )
        self.clock = ClockStrip(self, self._front, line)
        self.clock.grid(row=3, column=0, columnspan=4, sticky="ew", pady=(2, 0))
        self._history.pack(side="left", fill="x", expand=True)

    def _show_promise(self, ticket: TicketView, today: date) -> None:
        late = ticket.days_late > 0
        self._promise.configure(
            text=promise_words(ticket, today), bootstyle="danger" if late else "default"
        )
        if late:
            self._late.pack(side="left", padx=(0, 5))
        else:
            self._late.pack_forget()

    def _show_history(self, ticket: TicketView, visits: Sequence[VisitView]) -> None:
        comeback = ticket.comeback_of is not None
        self._history.configure(
            text=history_words(ticket, visits), font=look.STRONG if comeback else look.SMALL
        )
        if comeback:
            self._comeback_sign.pack(side="left", before=self._history, padx=(0, 5))
        else:
            self._comeback_sign.pack_forget()

    def _open_owner(self) -> None:
        if self._ticket is not None:
            self._front.open_owner(self._ticket.owner.id)

    def _open_history(self) -> None:
        from shopdesk.desk.history_card import HistoryCard

        if self._ticket is not None:
            self._front.open_card(HistoryCard, self._ticket.unit.id)

    def _open_machine(self) -> None:
        if self._ticket is not None:
            self._front.open_machine(self._ticket.unit.id)


def promise_words(ticket: TicketView, today: date) -> str:
    """Return the promise in words: ``promised Fri 14 Mar, in 3 days``."""
    if ticket.stage is Stage.CLOSED:
        return f"closed: {ticket.outcome}"
    if ticket.promised_on is None:
        return "no day promised"
    day = show_date(ticket.promised_on, today)
    if ticket.stage is Stage.PICKUP:
        return f"ready  ·  promised {day}"
    return f"promised {day}, {days_between_words(ticket.promised_on, today)}"


def history_words(ticket: TicketView, visits: Sequence[VisitView]) -> str:
    """Return what was before in one or two lines; a comeback is named first."""
    earlier = [visit for visit in visits if visit.ticket_id != ticket.id]
    if not earlier:
        return "First visit of this machine."
    said = [visit_words(visit) for visit in earlier[:_VISITS_SHOWN]]
    if len(earlier) > _VISITS_SHOWN:
        said.append(f"and {len(earlier) - _VISITS_SHOWN} more")
    comeback = f"Comeback of T{ticket.comeback_of}.  " if ticket.comeback_of is not None else ""
    return f"{comeback}Before:  {'   |   '.join(said)}"


def visit_words(visit: VisitView) -> str:
    """Return one earlier visit: when, its tag, what was done or found, and how it ended."""
    what = "; ".join(visit.done or visit.failed) or visit.complaint
    what = shortened(" ".join(what.split()), _VISIT_LENGTH)
    how = visit.outcome or visit.stage
    return f"{show_date(visit.taken_in_on)[4:]} {visit.tag} {how}: {what}"


def phone_words(ticket: TicketView, most: int = _PHONES_SHOWN) -> str:
    """Return the owner's first phones, and how many more there are."""
    numbers = [" ".join(filter(None, (one.label, one.number))) for one in ticket.owner.phones]
    shown = [shortened(number, 24) for number in numbers[:most]]
    if len(numbers) > most:
        shown.append(f"{len(numbers) - most} more")
    return "  ·  ".join(shown) or "no phone"


def shortened(words: str, most: int) -> str:
    """Return the words, or their beginning with an ellipsis."""
    return words if len(words) <= most else f"{words[: most - 1]}…"
