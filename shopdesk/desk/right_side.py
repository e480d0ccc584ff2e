"""What stands at the right: the ticket that is open, a sheet, or the words to start with.

Pages and sheets are read from disk when first needed: the window opens before.
"""

from __future__ import annotations

import tkinter as tk
from collections.abc import Callable
from typing import TYPE_CHECKING, TypeVar

import ttkbootstrap as ttk

from shopdesk.desk import look
from shopdesk.desk.front import Front
from shopdesk.job.drafts import Place

if TYPE_CHECKING:
    from shopdesk.desk.sheet import Sheet
    from shopdesk.desk.ticket_pane import TicketPane
    from shopdesk.job.views import TicketView

    AnySheet = TypeVar("AnySheet", bound=Sheet)

_START = (
    "F6 and the arrows go through the board; Enter opens the ticket.",
    "Ctrl+F finds a name, a phone's last digits, a serial, a tag, a word of a complaint.",
    "Scan a tag there, and its ticket opens.",
    "Ctrl+N takes a new machine in.",
)


class RightSide(ttk.Frame):
    """One thing at a time; what was there before is as it was when it is brought again.

    ``leave`` is what Escape on a sheet does; ``told`` hears when something else is brought.
    """

    def __init__(
        self,
        parent: tk.Misc,
        front: Front,
        leave: Callable[[], object],
        told: Callable[[], object],
    ) -> None:
        super().__init__(parent)
        self._front = front
        self._leave = leave
        self._told = told
        self._pane: TicketPane | None = None
        self._sheets: dict[type[Sheet], Sheet] = {}
        self._under: list[tuple[Sheet, Place]] = []
        self._start = _start_words(self)
        self._start.pack(fill="both", expand=True)
        self._shown = self._start

    @property
    def pane(self) -> TicketPane:
        """The pages of a ticket."""
        from shopdesk.desk.pages import PAGES
        from shopdesk.desk.ticket_pane import TicketPane

        if self._pane is None:
            self._pane = TicketPane(self, self._front, PAGES)
        return self._pane

    @property
    def in_sight(self) -> ttk.Frame:
        """What stands there now."""
        return self._shown

    @property
    def opened(self) -> TicketView | None:
        """The ticket whose pages are open, in sight or behind a sheet."""
        return self._pane.ticket if self._pane is not None else None

    @property
    def ticket(self) -> TicketView | None:
        """The ticket whose pages are in sight."""
        return self.opened if self._shown is self._pane else None

    def bring_pane(self) -> TicketPane:
        """Bring the pages of the open ticket into sight."""
        self._under.clear()
        self._bring(self.pane)
        return self.pane

    def bring_start(self) -> None:
        """Bring the words to start with."""
        self._under.clear()
        self._bring(self._start)

    def sheet(self, kind: type[AnySheet], *, over: bool = False) -> AnySheet:
        """Bring a sheet into sight, ``over`` another one that is to be there again after it."""
        if kind not in self._sheets:
            self._sheets[kind] = kind(self, self._front, self._leave)
        found = self._sheets[kind]
        assert isinstance(found, kind)
        under = self._sheet_in_sight()
        if not over:
            self._under.clear()
        elif under is not None:
            self._under.append((under, under.held_at))
        if found is not self._shown:
            found.to_top()
        self._bring(found)
        return found

    def step_back(self) -> bool:
        """Bring the sheet that lay under the one in sight; returns whether there was one."""
        if not self._under:
            return False
        sheet, place = self._under.pop()
        self._bring(sheet)
        sheet.come_back(place)
        return True

    def focus_first(self) -> None:
        """Put the focus where work on what is in sight begins."""
        if self.ticket is not None:
            self.pane.page.focus_first()
        elif (sheet := self._sheet_in_sight()) is not None:
            sheet.focus_first()

    def shows(self, place: Place) -> bool:
        """Whether what is typed at that place is in sight, or on another page of this ticket."""
        if self.ticket is not None:
            return self.pane.holds(place)
        sheet = self._sheet_in_sight()
        return sheet is not None and sheet.held_at == place

    def mark(self) -> None:
        """Say where something is typed, and what of it an earlier window left."""
        if self._pane is not None:
            self._pane.mark()
        for sheet in self._sheets.values():
            sheet.mark_put_back()

    def _sheet_in_sight(self) -> Sheet | None:
        return next((one for one in self._sheets.values() if one is self._shown), None)

    def _bring(self, frame: ttk.Frame) -> None:
        if self._shown is not frame:
            self._shown.pack_forget()
            frame.pack(fill="both", expand=True)
            self._shown = frame
        self._told()


def _start_words(parent: tk.Misc) -> ttk.Frame:
    start = ttk.Frame(parent)
    inside = ttk.Frame(start)
    inside.place(relx=0.5, rely=0.4, anchor="center")
    ttk.Label(inside, text="Open a ticket", font=look.TITLE, bootstyle="primary").pack(pady=(0, 12))
    for words in _START:
        ttk.Label(inside, text=words).pack(pady=2)
    return start
