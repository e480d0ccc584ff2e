"""The ticket at the right of the window: its header, its pages, and the way on."""

import tkinter as tk
from collections.abc import Callable, Sequence

import ttkbootstrap as ttk

from shopdesk.desk.front import Front
from shopdesk.desk.header import Header
from shopdesk.desk.page import Draft, Page
from shopdesk.desk.way_bar import WayBar
from shopdesk.job.history import unit_history
from shopdesk.job.views import TicketView


class TicketPane(ttk.Frame):
    """Shows one ticket at a time; what was typed on another's pages waits for it."""

    def __init__(self, parent: tk.Misc, front: Front, pages: Sequence[type[Page]]) -> None:
        super().__init__(parent)
        self._front = front
        self._kinds = tuple(pages)
        self._built: dict[str, Page] = {}
        self._drafts: dict[int, dict[str, Draft]] = {}
        self._tags: dict[int, str] = {}
        self._ticket: TicketView | None = None
        self.header = Header(self, front)
        self.header.pack(fill="x")
        self.ways = WayBar(self, front, self._save_page)
        self.ways.pack(side="bottom", fill="x")
        self._book = ttk.Notebook(self)
        self._book.pack(fill="both", expand=True)
        self._leaves = [self._leaf(kind, place) for place, kind in enumerate(pages, 1)]
        self._book.bind("<<NotebookTabChanged>>", self._turned)
        front.keys.add(self, "Ctrl+S", "Save what is typed on this page", self._save_page)

    @property
    def ticket(self) -> TicketView | None:
        """The ticket that is shown."""
        return self._ticket

    @property
    def page(self) -> Page:
        """The page in sight, built if it was not."""
        place = self._book.index("current")
        kind = self._kinds[place]
        if kind.title not in self._built:
            page = kind(self._leaves[place], self._front)
            page.pack(fill="both", expand=True)
            page.on_typed = self._mark_typed
            self._built[kind.title] = page
        return self._built[kind.title]

    def open(self, ticket: TicketView) -> None:
        """Show a ticket on the page of its stage, and put the focus there."""
        self.show(ticket)
        kind = next(kind for kind in self._kinds if ticket.stage in kind.stages)
        self.turn_to(kind)
        self.page.focus_first()

    def turn_to(self, kind: type[Page]) -> None:
        """Bring a page into sight."""
        self._book.select(self._kinds.index(kind))
        self._show_page()

    def prepare(self, title: str, draft: Draft) -> None:
        """Turn to a page with this typed on it; what is typed there and not kept goes first."""
        kind = next(kind for kind in self._kinds if kind.title == title)
        self.turn_to(kind)
        if self.page.changed:
            self._front.notices.trouble(
                f"Something is typed on {title} and not saved yet: save it or empty it first."
            )
        elif self._ticket is not None:
            self.page.show(self._ticket, draft)
            self._mark_typed()
        self.page.focus_first()

    def show(self, ticket: TicketView) -> None:
        """Show a ticket, or the same one as it is now; the page in sight stays."""
        if self._ticket is not None and self._ticket.id != ticket.id:
            self._put_away(self._ticket)
        self._ticket = ticket
        self._tags[ticket.id] = ticket.tag
        shift = self._front.shift
        self.header.show(ticket, unit_history(shift, ticket.unit.id), shift.today)
        self.ways.show(ticket)
        self._show_page()

    def unsaved(self) -> list[str]:
        """Return in words what is typed and not kept: ``T1043 Intake``."""
        if self._ticket is not None:
            self._put_away(self._ticket)
        return [
            f"{self._tags[ticket]} {title}"
            for ticket, kept in self._drafts.items()
            for title in kept
        ]

    def _leaf(self, kind: type[Page], place: int) -> ttk.Frame:
        leaf = ttk.Frame(self._book)
        self._book.add(leaf, text=_tab_text(kind, place, typed=False), sticky="nsew")
        self._front.keys.add(self, f"Alt+{place}", f"Page {kind.title}", self._turner(kind))
        return leaf

    def _turner(self, kind: type[Page]) -> Callable[[], None]:
        def turn() -> None:
            self.turn_to(kind)
            self.page.focus_first()

        return turn

    def _turned(self, _event: object) -> None:
        self._show_page()

    def _show_page(self) -> None:
        if self._ticket is None:
            return
        ticket, page = self._ticket, self.page
        page.show(ticket, self._drafts.get(ticket.id, {}).pop(page.title, None))
        self._mark_typed()

    def _put_away(self, ticket: TicketView) -> None:
        kept = self._drafts.setdefault(ticket.id, {})
        for title, page in self._built.items():
            if page.shows(ticket) and page.changed:
                kept[title] = page.draft()

    def _save_page(self) -> bool:
        return self.page.save() if self._ticket is not None else True

    def _mark_typed(self) -> None:
        for place, kind in enumerate(self._kinds):
            page = self._built.get(kind.title)
            here = page is not None and self._ticket is not None and page.shows(self._ticket)
            typed = bool(here and page and page.changed)
            text = _tab_text(kind, place + 1, typed=typed)
            if self._book.tab(place, "text") != text:
                self._book.tab(place, text=text)


def _tab_text(kind: type[Page], place: int, *, typed: bool) -> str:
    return f"{kind.title}{' (not saved yet)' if typed else ''}  Alt+{place}"
