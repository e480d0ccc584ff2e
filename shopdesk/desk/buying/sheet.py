"""Buying for all tickets that wait and for the bin together: one basket shares its postage."""

from functools import partial

from shopdesk.desk.buying.board import BuyingBoard
from shopdesk.desk.sheet import Sheet
from shopdesk.job.buying.baskets import baskets_for_shop, order_basket
from shopdesk.job.buying.views import BuyingView
from shopdesk.job.drafts import Content


class BuyingSheet(Sheet):
    """F7, F8 and F9 order a basket for all that is needed."""

    page, called = "buying", "buying for all tickets"

    def build(self) -> None:
        """Put the board."""
        self.head("Buy for all tickets together")
        self.board = BuyingBoard(self.body, self.front, self._order, tickets=True, lines=8)
        self.board.pack(fill="both", expand=True)

    def show_now(self) -> None:
        """Look for what is needed now, and for the baskets."""
        self.board.look(self._find)
        self.focus_first()

    def focus_first(self) -> None:
        """Begin in the list."""
        self.board.focus_first()

    def draft(self) -> Content:
        """Return nothing: a day to look by is not kept."""
        return {}

    def throw_away(self) -> None:
        """Look anew."""
        self.board.forget()
        self.board.look(self._find)

    def _find(self, by: str | None) -> BuyingView:
        return baskets_for_shop(self.front.shift, by or "")

    def _order(self, view: BuyingView, aim: str) -> None:
        ordered = self.attempt(partial(order_basket, self.front.shift, view, aim))
        if ordered is not None:
            self.front.notices.say(ordered.words)
            self.front.refresh_board()
            self.board.look(self._find)
