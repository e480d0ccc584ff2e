"""The Parts page: the parts a ticket needs, where each is, and three baskets to order them by."""

from functools import partial

import ttkbootstrap as ttk

from shopdesk.desk import look
from shopdesk.desk.buying.board import BuyingBoard
from shopdesk.desk.buying.sheet import BuyingSheet
from shopdesk.desk.keys import action_button
from shopdesk.desk.page import Draft, Page
from shopdesk.job.buying.baskets import buying, order_basket
from shopdesk.job.buying.views import BuyingView, Ordered
from shopdesk.job.views import TicketView


class BuyingPage(Page):
    """F7, F8 and F9 order a basket; Alt+A looks at what all tickets wait for together."""

    title = "Parts"
    stages = ()

    def build(self) -> None:
        """Put the board under a heading."""
        head = ttk.Frame(self.body)
        head.pack(fill="x", pady=(0, 6))
        heading = "Parts that this ticket needs"
        ttk.Label(head, text=heading, font=look.HEADING, bootstyle="primary").pack(side="left")
        action_button(
            head,
            self.front.keys,
            "Buy for all tickets together …",
            "Alt+A",
            lambda: self.front.open_sheet(BuyingSheet),
        ).pack(side="right")
        self.board = BuyingBoard(self.body, self.front, self._order)
        self.board.pack(fill="both", expand=True)

    def refresh(self) -> None:
        """Look for what the ticket needs now, and for the baskets."""
        self.board.look(partial(buying, self.front.shift, self.ticket.id))

    def show(self, ticket: TicketView, draft: Draft | None = None) -> None:
        """Show a ticket; what stands here of another one goes first."""
        if not self.shows(ticket):
            self.board.forget()
        super().show(ticket, draft)

    def focus_first(self) -> None:
        """Begin in the list of parts."""
        self.board.focus_first()

    def _order(self, view: BuyingView, aim: str) -> None:
        ordered: list[Ordered] = []
        if self.attempt(
            lambda: self.anew(lambda: ordered.append(order_basket(self.front.shift, view, aim)))
        ):
            self.front.notices.say(ordered[0].words)
