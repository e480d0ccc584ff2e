"""The ticket at the right of the window: its header, its pages, and the way on."""

import tkinter as tk
from collections.abc import Callable, Sequence
from functools import partial

import ttkbootstrap as ttk

from shopdesk.desk import look
from shopdesk.desk.front import Front
from shopdesk.desk.header import Header
from shopdesk.desk.page import Draft, Page
from shopdesk.desk.part_credit import PartCreditCard
from shopdesk.desk.way_bar import WayBar
from shopdesk.job.drafts import Place
from shopdesk.job.history import unit_history
from shopdesk.job.views import TicketView

_TAB_EDGES = 5
"""What a tab has beside its words and what is free around them, in pixels."""


class TicketPane(ttk.Frame):
    """Shows one ticket at a time; what was typed on another's pages waits for it as a draft."""

    def __init__(self, parent: tk.Misc, front: Front, pages: Sequence[type[Page]]) -> None:
        super().__init__(parent)
        self._front = front
        self._kinds = tuple(pages)
        self._built: dict[str, Page] = {}
        self._ticket: TicketView | None = None
        self._in_sight: Page | None = None
        self.header = Header(self, front)
        self.header.pack(fill="x")
        self.ways = WayBar(self, front, self._save_page, self._still_typed)
        self.ways.pack(side="bottom", fill="x")
        self._book = ttk.Notebook(self)
        self._book.pack(fill="both", expand=True)
        self._leaves = [self._leaf(kind, place) for place, kind in enumerate(pages, 1)]
        self._book.bind("<<NotebookTabChanged>>", self._turned)
        self._book.bind("<Configure>", lambda _event: self._name_tabs())
        look.when_worn(self._book, self._name_tabs)
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
            page.on_typed = partial(self._typed, page)
            self._built[kind.title] = page
        return self._built[kind.title]

    def open(self, ticket: TicketView) -> None:
        """Show a ticket on the page of its stage, and put the focus there."""
        self.show(ticket)
        kind = next(kind for kind in self._kinds if ticket.stage in kind.stages)
        self.turn_to(kind)
        self._begin()

    def turn_to(self, kind: type[Page]) -> None:
        """Bring a page into sight."""
        self._book.select(self._kinds.index(kind))
        self._show_page()
        self.page.to_top()

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
            self.mark()
        self.page.focus_first()

    def show(self, ticket: TicketView) -> None:
        """Show a ticket, or the same one as it is now; the page in sight stays."""
        self._front.drafts.gather()
        self._ticket = ticket
        shift = self._front.shift
        self.header.show(ticket, unit_history(shift, ticket.unit.id), shift.today)
        self.ways.show(ticket)
        self._show_page()

    def go_on_with(self, place: Place) -> None:
        """Turn to the page of the open ticket where something is typed."""
        self.turn_to(next(kind for kind in self._kinds if kind.title == place.page))
        self.page.focus_typed()

    def holds(self, place: Place) -> bool:
        """Whether the place is a page of the open ticket."""
        return self._ticket is not None and self._ticket.id == place.about and self.has(place)

    def has(self, place: Place) -> bool:
        """Whether there is a page of that name."""
        return any(kind.title == place.page for kind in self._kinds)

    def mark(self) -> None:
        """Say on the tabs where something is typed, and on the page what an earlier window left."""
        self._name_tabs()
        page = self._built.get(self._kinds[self._book.index("current")].title)
        if page is not None:
            page.mark_put_back()

    def _name_tabs(self) -> None:
        """Name the tabs as fully as all of them fit."""
        typed = [self._is_typed(kind) for kind in self._kinds]
        named = [
            [words(kind, place, one) for place, (kind, one) in enumerate(tabs, 1)]
            for tabs in [list(zip(self._kinds, typed, strict=True))]
            for words in (_whole, _shorter, _shortest)
        ]
        texts = next((one for one in named if self._hold(one)), named[-1])
        for place, text in enumerate(texts):
            if self._book.tab(place, "text") != text:
                self._book.tab(place, text=text)

    def _hold(self, texts: Sequence[str]) -> bool:
        measure = ttk.nametofont("TkDefaultFont", root=self).measure
        beside = 2 * look.TAB_SIDE + _TAB_EDGES
        return sum(map(measure, texts)) + len(texts) * beside <= self._book.winfo_width()

    def _leaf(self, kind: type[Page], place: int) -> ttk.Frame:
        leaf = ttk.Frame(self._book)
        self._book.add(leaf, text=_whole(kind, place, False), sticky="nsew")
        self._front.keys.add(self, f"Alt+{place}", f"Page {kind.title}", self._turner(kind))
        return leaf

    def _turner(self, kind: type[Page]) -> Callable[[], None]:
        def turn() -> None:
            self.turn_to(kind)
            self._begin()

        return turn

    def _begin(self) -> None:
        """Put the focus where work on the page begins, or goes on where an earlier window left."""
        page = self.page
        if page.put_back.words:
            page.focus_typed()
        else:
            page.focus_first()

    def _turned(self, _event: object) -> None:
        self._show_page()

    def _show_page(self) -> None:
        if self._ticket is None:
            return
        ticket, page = self._ticket, self.page
        typed = None if page.shows(ticket) else self._front.drafts.find(page.held_at(ticket))
        page.show(ticket, typed.content if typed else None)
        if page is not self._in_sight:
            page.to_top()
        self._in_sight = page
        self.mark()

    def _typed(self, page: Page) -> None:
        self._front.drafts.touched(page)
        self.mark()

    def _save_page(self) -> bool:
        return self.page.save() if self._ticket is not None else True

    def _still_typed(self) -> list[str]:
        """Name where something of the ticket is typed and not saved."""
        if self._ticket is None:
            return []
        places = [
            Place(name, self._ticket.id)
            for name in (*(kind.title for kind in self._kinds), PartCreditCard.page)
        ]
        return [one.called for one in self._front.drafts.all if one.place in places]

    def _is_typed(self, kind: type[Page]) -> bool:
        if self._ticket is None:
            return False
        page = self._built.get(kind.title)
        if page is not None and page.shows(self._ticket):
            return page.changed
        return self._front.drafts.held(Place(kind.title, self._ticket.id)) is not None


def _whole(kind: type[Page], place: int, typed: bool) -> str:
    return f"{kind.title}{' (not saved yet)' if typed else ''}  Alt+{place}"


def _shorter(kind: type[Page], place: int, typed: bool) -> str:
    return f"{kind.title}{' (not saved yet)' if typed else ''}  {place}"


def _shortest(kind: type[Page], place: int, typed: bool) -> str:
    return f"{kind.short or kind.title}{'*' if typed else ''} {place}"
