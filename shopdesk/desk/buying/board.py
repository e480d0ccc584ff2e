"""What is needed and the three baskets beside each other, looked for beside the window."""

import tkinter as tk
from collections.abc import Callable
from functools import partial

import ttkbootstrap as ttk

from shopdesk.dates import show_date
from shopdesk.desk import look
from shopdesk.desk.buying.card import BasketCard
from shopdesk.desk.forms import Form, wrapping
from shopdesk.desk.front import Front
from shopdesk.desk.parts.card import PartCard
from shopdesk.desk.rows import Column, RowList
from shopdesk.errors import JobError
from shopdesk.job.buying.views import BY_DAY, CHEAPEST, SOONEST, BuyingView, NeedView
from shopdesk.pricing.money import show_quantity

Find = Callable[[str | None], BuyingView]
"""Looks for the baskets; given is the day as typed, None for the usual one."""
_CARDS = (
    (CHEAPEST, "Cheapest", "F7"),
    (SOONEST, "Soonest", "F8"),
    (BY_DAY, "Cheapest by a day", "F9"),
)
_NOBODY = "Nothing of this can be ordered: nobody is known to offer it."
_DOING = "Looking for the best baskets"


class BuyingBoard(ttk.Frame):
    """Shows what ``find`` finds; ``order`` is done with a basket once it was asked about."""

    def __init__(
        self,
        parent: tk.Misc,
        front: Front,
        order: Callable[[BuyingView, str], object],
        *,
        tickets: bool = False,
        lines: int = 4,
    ) -> None:
        super().__init__(parent)
        self._front = front
        self._order = order
        self._tickets = tickets
        self._find: Find | None = None
        self._asked = 0
        self._by: str | None = None
        self.view: BuyingView | None = None
        self.list = RowList(self, self._columns(), lines=lines)
        self.list.pack(fill="x")
        self.list.on_open(self._open_part)
        self._trouble = wrapping(ttk.Label(self, bootstyle="danger"))
        self._ways = self._put_ways()
        self.cards = self._put_cards()

    def look(self, find: Find) -> None:
        """Look for the baskets anew, for another ticket or as things stand now."""
        self._find = find
        self._look()

    def forget(self) -> None:
        """Take away what stands here: it is another ticket's."""
        self._by, self.view = None, None
        self.form.fill({})
        self.list.show([])
        self._say_trouble("")
        for card in self.cards.values():
            card.look()

    def focus_first(self) -> None:
        """Begin in the list."""
        self.list.focus_list()

    @property
    def nothing(self) -> str:
        """What stands in place of the baskets where there are none."""
        return str(self._nothing.cget("text")) if self._nothing.winfo_manager() else ""

    @property
    def trouble(self) -> str:
        """What is said of what can't be bought."""
        return str(self._trouble.cget("text"))

    def _columns(self) -> list[Column]:
        columns = [
            Column("Part", 190, grows=True),
            Column("Number", 110),
            Column("How many", 86, right=True),
            Column("Condition", 76),
            Column("Where it is", 230, grows=True),
        ]
        return [Column("Ticket", 70), *columns] if self._tickets else columns

    def _put_ways(self) -> ttk.Frame:
        row = ttk.Frame(self)
        row.pack(fill="x", pady=(4, 0))
        heading = ttk.Label(
            row, text="Three ways to buy what is to order", font=look.HEADING, bootstyle="primary"
        )
        heading.pack(side="left", anchor="s", pady=(0, 8))
        self.form = form = Form(row, columns=1)
        form.line("by", "All here by", hint="as fri, in 3 days; Enter looks again")
        form.submit_with(self._look_by, "by")
        form.pack(side="right")
        return row

    def _put_cards(self) -> dict[str, BasketCard]:
        self._nothing = wrapping(ttk.Label(self))
        self._row_of_cards = row = ttk.Frame(self)
        row.pack(fill="both", expand=True, pady=(2, 0))
        cards = {}
        for place, (aim, title, key) in enumerate(_CARDS):
            card = BasketCard(
                row, self._front.keys, title, key, partial(self._ask, aim), self._say_why
            )
            card.grid(row=0, column=place, sticky="nsew", padx=(0, 8 if place < 2 else 0))
            row.columnconfigure(place, weight=1, uniform="card")
            cards[aim] = card
        return cards

    def _look_by(self) -> None:
        self._by = self.form.text_of("by")
        self._look()

    def _look(self) -> None:
        find = self._find
        assert find is not None, "nothing was said of what to look for"
        self._asked += 1
        self.form.clear_errors()
        self._front.worker.run(
            partial(find, self._by),
            partial(self._found, self._asked),
            doing=_DOING,
            sorry=partial(self._failed, self._asked),
        )

    def _found(self, asked: int, view: BuyingView) -> None:
        if asked != self._asked or not self.winfo_exists():
            return
        self.view = view
        shop = self._front.shift.shop
        if self.form.text_of("by") == self._by or not self.form.changed:
            today = self._front.shift.today
            self.form.fill({"by": show_date(view.by, today) if view.by else ""})
        self.list.say_empty(view.empty)
        self.list.show([self._row(place, need) for place, need in enumerate(view.needs)])
        if view.needs and self.list.selected is None:
            self.list.select(0)
        self._ways.pack(fill="x", pady=(4, 0), after=self.list)
        self._say_trouble(" ".join([*view.lacking, *filter(None, [view.refused])]))
        self._show_cards(view, shop.currency)

    def _show_cards(self, view: BuyingView, currency: str) -> None:
        """Show the baskets, or words in their place where there is nothing to buy."""
        for found in view.baskets:
            self.cards[found.aim].show(found, currency, view.refused)
        if view.baskets:
            self._nothing.pack_forget()
            self._row_of_cards.pack(fill="both", expand=True, pady=(2, 0))
        else:
            self._row_of_cards.pack_forget()
            self._nothing.configure(text=view.empty or _NOBODY)
            self._nothing.pack(fill="x", pady=(2, 0))
        if not view.needs:
            self._ways.pack_forget()
            self._nothing.pack_forget()

    def _failed(self, asked: int, error: Exception) -> None:
        if asked != self._asked or not self.winfo_exists():
            return
        if not isinstance(error, JobError):
            raise error
        if not self.form.show_error(error):
            self._front.notices.trouble(error.sentence)

    def _row(self, place: int, need: NeedView) -> tuple[int, tuple[str, ...], str]:
        cells = (
            need.title,
            need.number,
            show_quantity(need.quantity),
            need.condition,
            "nobody to ask" if need.trouble else need.where,
        )
        tag = "trouble" if need.trouble else "strong" if need.to_order else ""
        return place, ((need.tag, *cells) if self._tickets else cells), tag

    def _ask(self, aim: str) -> None:
        view = self.view
        found = view.basket(aim) if view else None
        if view is None or found is None:
            return
        if self._front.dialogs.confirm("Order parts", found.question, "Order", "Not yet"):
            self._order(view, aim)

    def _open_part(self, place: int) -> None:
        part_id = self.view.needs[place].part_id if self.view else None
        if part_id is None:
            self._front.notices.trouble("This line names no part of the catalogue.")
        else:
            self._front.open_card(PartCard, part_id)

    def _say_trouble(self, words: str) -> None:
        self._trouble.configure(text=words)
        if words:
            self._trouble.pack(fill="x", pady=(4, 0), before=self._ways)
        else:
            self._trouble.pack_forget()

    def _say_why(self, words: str) -> None:
        self._front.notices.trouble(words)
