"""The one window: find box on top, the board at the left, what is worked on at the right.

Pages, cards and the job behind them are read from disk when first needed: the window opens before.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import date
from functools import partial
from importlib import import_module
from pathlib import Path
from typing import TYPE_CHECKING

import ttkbootstrap as ttk

from shopdesk.desk import look
from shopdesk.desk.board import Board
from shopdesk.desk.dialogs import Dialogs
from shopdesk.desk.drafts import Drafts, Typed
from shopdesk.desk.faults import Faults
from shopdesk.desk.find_box import FindBox
from shopdesk.desk.front import Front
from shopdesk.desk.keys import Keys, action_button
from shopdesk.desk.notices import NoticeLine
from shopdesk.desk.papers_out import Opener, PapersOut
from shopdesk.desk.right_side import RightSide
from shopdesk.desk.shop_bar import ShopBar, ShopSheet
from shopdesk.desk.unfinished import Unfinished
from shopdesk.desk.worker import Worker
from shopdesk.errors import JobError, RecordsError
from shopdesk.job.drafts import Place
from shopdesk.job.shift import Shift
from shopdesk.job.shop import Shop

if TYPE_CHECKING:
    from shopdesk.desk.card import Card
    from shopdesk.desk.sheet import Sheet
    from shopdesk.desk.ticket_pane import TicketPane
    from shopdesk.job.stages import Move
    from shopdesk.job.views import BoardRow, TicketView

    Found = tuple[Mapping[Move, tuple[BoardRow, ...]], date, bool]


_SHOPS_SHEETS = {
    "part": ("parts.card", "PartCard"),
    "suppliers": ("parts.suppliers_sheet", "SuppliersSheet"),
    "flat times": ("labour.flat_times", "FlatTimes"),
    "order": ("parts.order_card", "OrderCard"),
    "receiving": ("parts.receiving_card", "ReceivingCard"),
    "part credit": ("part_credit", "PartCreditCard"),
    "reports": ("reports.sheet", "ReportsSheet"),
}
"""The shop's sheets on which something may be left typed, by the name that drafts know."""
_BOARD_SHARE = 0.26
_MOST_SAID = 300


class Window(ttk.Frame):
    """Everything inside the root window once the shop is known."""

    def __init__(
        self,
        root: ttk.App,
        shift: Shift,
        *,
        dialogs: Dialogs,
        opener: Opener,
        faults: Faults,
        papers_folder: Path | None = None,
    ) -> None:
        super().__init__(root)
        notices = NoticeLine(self)
        worker = Worker(root, faults.report, notices.doing)
        self.front = Front(
            shift=shift,
            keys=Keys(root),
            dialogs=dialogs,
            worker=worker,
            drafts=Drafts(root, shift, notices.mention, faults.report),
            papers=PapersOut(shift, worker, notices, opener, papers_folder),
            notices=notices,
            show_ticket=self.show_ticket,
            refresh_board=self.refresh_board,
            open_ticket=self.open_ticket,
            open_owner=self.open_owner,
            open_machine=self.open_machine,
            open_sheet=self.open_over,
            open_card=self.open_card,
            new_ticket=self.new_ticket,
            prepare=lambda title, draft: self.pane.prepare(title, draft),
            show_shop=self.show_shop,
        )
        self._lay_out()
        self.front.drafts.on_change = self._drafts_changed
        self._show_unfinished()

    @property
    def pane(self) -> TicketPane:
        """The ticket's pages, built when first needed."""
        return self._right.pane

    @property
    def in_sight(self) -> ttk.Frame:
        """What stands at the right: the ticket's pages, a sheet, or the words to start with."""
        return self._right.in_sight

    def show_shop(self, shop: Shop) -> None:
        """Show whose desk this is."""
        self._name.configure(text=shop.name if len(shop.name) <= 30 else f"{shop.name[:29]}…")

    def refresh_board(self) -> None:
        """Read the board anew, beside the window."""
        self.front.worker.run(partial(_read_board, self.front.shift), self._show_board)

    def show_ticket(self, ticket: TicketView) -> None:
        """Show a ticket as it is now; the page in sight stays."""
        self.pane.show(ticket)
        self._right.bring_pane()
        self.refresh_board()

    def open_ticket(self, ticket_id: int) -> None:
        """Open a ticket on the page of its stage."""
        from shopdesk.job.opened import open_ticket

        ticket = open_ticket(self.front.shift, ticket_id)
        shown = self._right.ticket
        if shown is None or shown.id != ticket_id:
            self.front.notices.clear()
        self._right.bring_pane().open(ticket)
        self._show_unfinished()
        self.board.mark_ticket(ticket_id)

    def open_owner(self, customer_id: int) -> None:
        """Open an owner's card."""
        from shopdesk.desk.owner_card import OwnerCard

        self.front.notices.clear()
        self._right.sheet(OwnerCard).show(customer_id)
        self._show_unfinished()

    def open_machine(self, unit_id: int) -> None:
        """Open a machine's card."""
        from shopdesk.desk.machine_card import MachineCard

        self.front.notices.clear()
        self._right.sheet(MachineCard).show(unit_id)
        self._show_unfinished()

    def new_ticket(self, owner_id: int | None = None, unit_id: int | None = None) -> None:
        """Begin a new ticket; what was typed and not taken in is still there."""
        from shopdesk.desk.intake_new import NewTicket

        self.front.notices.clear()
        self._right.sheet(NewTicket).begin(owner_id, unit_id)

    def open_settings(self) -> None:
        """Open the shop's particulars."""
        from shopdesk.desk.settings import Settings

        self.front.notices.clear()
        self._right.sheet(Settings).show()

    def open_sheet(self, sheet: ShopSheet) -> None:
        """Open one of the shop's sheets."""
        self.front.notices.clear()
        self._right.sheet(sheet.load()).show_now()
        self._show_unfinished()

    def open_over(self, kind: type[Sheet]) -> None:
        """Open a sheet over the one in sight, which is there again when this one is left."""
        self.front.notices.clear()
        self._right.sheet(kind, over=True).show_now()
        self._show_unfinished()

    def open_card(self, kind: type[Card], known: int) -> None:
        """Open a card over the sheet in sight, which is there again when the card is left."""
        self.front.notices.clear()
        self._right.sheet(kind, over=True).show(known)
        self._show_unfinished()

    def go_back(self) -> None:
        """Leave a sheet: back to the one under it, to the ticket that was open, or to the board."""
        if self._right.step_back():
            self._show_unfinished()
        elif self._right.opened is not None:
            self._right.bring_pane()
            self._read_anew()
            self._right.focus_first()
        else:
            self._right.bring_start()
            self.board.focus_list()

    def unsaved(self) -> list[str]:
        """Return in words everything that is typed and not kept."""
        return [typed.called for typed in self.front.drafts.all]

    def go_on_with(self, typed: Typed) -> None:
        """Open the place where something is typed and not saved.

        What has no place any more is said, as far as a sentence holds it, and dropped.
        """
        openers: dict[str, Callable[[], object]] = {
            "new ticket": self.new_ticket,
            "owner": partial(self.open_owner, typed.place.about),
            "machine": partial(self.open_machine, typed.place.about),
            "settings": self.open_settings,
            **{
                page: partial(self._open_shops, *at, typed.place.about)
                for page, at in _SHOPS_SHEETS.items()
            },
        }
        try:
            openers.get(typed.place.page, partial(self._open_page, typed.place))()
        except RecordsError:
            raise
        except JobError as error:
            self.front.drafts.forget(typed.place)
            self.front.notices.trouble(f"{error.sentence} {_what_stood_there(typed)}")

    def _lay_out(self) -> None:
        self._put_top()
        self.front.notices.pack(in_=self, side="bottom", fill="x")
        ttk.Separator(self, orient="horizontal").pack(side="bottom", fill="x")
        sides = ttk.Frame(self)
        sides.pack(fill="both", expand=True)
        left = ttk.Frame(sides)
        self.board = Board(left, self.open_ticket)
        self.board.pack(fill="both", expand=True)
        self.unfinished = Unfinished(left, self.front.keys, self.front.dialogs, self.go_on_with)
        self._right = RightSide(sides, self.front, self.go_back, self._show_unfinished)
        ttk.Separator(sides, orient="vertical").place(relx=_BOARD_SHARE, relheight=1)
        left.place(relwidth=_BOARD_SHARE, width=-1, relheight=1)
        self._right.place(relx=_BOARD_SHARE, x=1, relwidth=1 - _BOARD_SHARE, width=-1, relheight=1)
        keys = self.front.keys
        keys.add(self, "F6", "Go between the board and what is open", self._switch_side)
        keys.add(self, "F5", "Read the board and the ticket anew", self._read_anew)

    def _put_top(self) -> None:
        top = ttk.Frame(self, padding=(12, 8))
        top.pack(side="top", fill="x")
        front = self.front
        ShopBar(self, front.keys, self.open_sheet).pack(side="top", fill="x")
        ttk.Separator(self, orient="horizontal").pack(side="top", fill="x")
        self._name = ttk.Label(top, font=look.STRONG, bootstyle="primary")
        self._name.pack(side="left", padx=(0, 16))
        self.find = FindBox(top, front)
        for words, key, run in (
            ("Keys", "F1", self._list_keys),
            ("Settings", "F10", self.open_settings),
            ("New ticket", "Ctrl+N", self.new_ticket),
        ):
            action_button(top, front.keys, words, key, run).pack(side="right", padx=(8, 0))
        self.find.pack(side="left", fill="x", expand=True)

    def _drafts_changed(self) -> None:
        self._show_unfinished()
        self._right.mark()

    def _show_unfinished(self) -> None:
        typed = self.front.drafts.all
        self.unfinished.show([one for one in typed if not self._right.shows(one.place)])

    def _open_shops(self, module: str, name: str, about: int) -> None:
        from shopdesk.desk.card import Card

        kind = getattr(import_module(f"shopdesk.desk.{module}"), name)
        if issubclass(kind, Card):
            self.open_card(kind, about)
        else:
            self.open_over(kind)

    def _open_page(self, place: Place) -> None:
        if not self.pane.has(place):
            raise JobError(f"There is no page {place.page} any more.")
        self.open_ticket(place.about)
        self.pane.go_on_with(place)

    def _show_board(self, found: Found) -> None:
        groups, today, more = found
        self.board.show(groups, today, more=more)
        ticket = self._right.ticket
        if ticket is not None:
            self.board.mark_ticket(ticket.id)

    def _switch_side(self) -> None:
        if self.board.has_focus:
            self._right.focus_first()
            if not self.board.has_focus:
                return
        self.board.focus_list()

    def _read_anew(self) -> None:
        from shopdesk.job.opened import open_ticket

        ticket = self._right.ticket
        if ticket is not None:
            self.show_ticket(open_ticket(self.front.shift, ticket.id))
        else:
            self.refresh_board()

    def _list_keys(self) -> None:
        lines = [f"{key.name}:  {key.does}" for key in self.front.keys.in_force()]
        self.front.dialogs.inform("Keys that work here", "\n".join([*lines, *_EVERYWHERE]))


_EVERYWHERE = (
    "Tab, Shift+Tab:  Next field, field before",
    "Enter:  Next field; in a list, open the row",
    "Arrows:  Go through a list; letters choose in a box of choices",
    "PgUp, PgDn, Ctrl+Home, Ctrl+End:  Go through a page",
    "Space:  Press a button, tick a box",
)


def _read_board(shift: Shift) -> Found:
    from shopdesk.job.board import MOST, open_tickets

    groups = open_tickets(shift)
    return groups, shift.today, sum(map(len, groups.values())) >= MOST


def _what_stood_there(typed: Typed) -> str:
    words = [str(value) for fields in typed.content.values() for value in fields.values()]
    said = " / ".join(" ".join(one.split()) for one in words if one.strip())
    return f"Typed there was: “{said[:_MOST_SAID]}”."
