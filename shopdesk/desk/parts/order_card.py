"""An order to a supplier: written, placed, followed, and what came of each line."""

import ttkbootstrap as ttk

from shopdesk.dates import show_date
from shopdesk.desk import look
from shopdesk.desk.card import Card
from shopdesk.desk.flow import Flow
from shopdesk.desk.forms import Form, section, wrapping
from shopdesk.desk.keys import action_button
from shopdesk.desk.parts.order_lines import OrderLines
from shopdesk.desk.parts.receiving_card import ReceivingCard
from shopdesk.desk.signs import Sign, SignMark
from shopdesk.job.parts.order_changes import back_order, cancel_order, change_expected
from shopdesk.job.parts.order_paper import order_content
from shopdesk.job.parts.order_views import OrderLineView, OrderView, open_order
from shopdesk.job.parts.ordering import change_order, place_order
from shopdesk.pricing.money import show_money


class OrderCard(Card):
    """State and sums, note and postage, the lines; what may be done with it now has its key."""

    page = "order"

    def build(self) -> None:
        """Put the card together from top to bottom."""
        self._order: OrderView | None = None
        self._put_actions()
        self._words = wrapping(ttk.Label(self.body, font=look.STRONG))
        self._words.pack(fill="x")
        self._short = ttk.Frame(self.body)
        SignMark(self._short, Sign.CAUTION).pack(side="left", padx=(0, 6))
        self._short_words = wrapping(ttk.Label(self._short, bootstyle="warning"))
        self._short_words.pack(side="left", fill="x", expand=True)
        self._put_forms()
        section(self.body, "What is ordered  Alt+L")
        self.lines = OrderLines(self.body, self)
        self.lines.pack(fill="x")
        self._put_line_actions()
        self.front.keys.add(self, "Alt+L", "Go to the lines", self.lines.list.focus_list)

    def fill(self, known: int) -> None:
        """Show the order as it is now."""
        shift = self.front.shift
        order = self._order = open_order(shift, known)
        self.head(_title(order))
        self._words.configure(text=order_words(order, shift.shop.currency))
        self._short_words.configure(text=order.short_of_least)
        if order.short_of_least:
            self._short.pack(fill="x", after=self._words)
        else:
            self._short.pack_forget()
        self._note.fill({"note": order.note})
        self.terms.fill({})
        if order.may_change:
            self.terms.grid()
        else:
            self.terms.grid_remove()
        self.lines.show(order)
        off = "Take the line off" if order.may_change else "Cancel the line …"
        self._off.configure(text=f"{off}  Delete")
        for button, may in (
            (self._place, order.may_place),
            (self._receive, order.may_receive),
            (self._day, order.may_receive),
            (self._late, order.may_receive),
            (self._off, order.may_cancel),
            (self._cancel, order.may_cancel),
        ):
            button.state(["!disabled" if may else "disabled"])

    def keep(self, known: int) -> None:
        """Keep the note; postage and day are kept as the order is placed."""
        change_order(self.front.shift, known, self._note.text_of("note"))

    def save(self) -> bool:
        """Keep the particulars and the line that is typed."""
        if not super().save():
            return False
        return not self.lines.form.changed or self.lines.keep()

    def mark_typed(self) -> None:
        """Say what is typed and not kept."""
        super().mark_typed()
        if self._order is not None:
            self.lines.show_mode()

    def focus_first(self) -> None:
        """Begin with a part for an order that is being written, else with its lines."""
        if self.order.may_change and not self.order.lines:
            self.lines.begin()
        else:
            self.lines.list.focus_list()

    @property
    def called(self) -> str:
        """Return which order it is."""
        return f"the {_title(self._order).lower()}" if self._order else "an order"

    @property
    def order(self) -> OrderView:
        """The order that the card shows."""
        assert self._order is not None, "the card was asked for its order before it was shown one"
        return self._order

    @property
    def short_told(self) -> str:
        """What is said where the supplier sends no order as small as this, or nothing."""
        return str(self._short_words.cget("text"))

    def _put_forms(self) -> None:
        line = ttk.Frame(self.body)
        line.pack(fill="x", pady=(6, 0))
        line.columnconfigure((0, 1), weight=1, uniform="half")
        self._note = Form(line, columns=1)
        self._note.line("note", "Note to the supplier")
        self._note.grid(row=0, column=0, sticky="ew")
        self.terms = Form(line, columns=2)
        self.terms.line("postage", "Postage", "empty: by their terms")
        self.terms.line("expected_on", "Expected", "empty: by their days")
        self.terms.grid(row=0, column=1, sticky="ew")
        self.watch_form(self._note)
        self.keep_typed("terms", self.terms)

    def _put_actions(self) -> None:
        self.action("Save", "Ctrl+S", self.save)
        self._place = self.action("Place it", "Alt+P", self._place_it, main=True)
        self._receive = self.action("Receive", "Alt+R", self._receive_it, main=True)
        self._day = self.action("New day …", "Alt+E", self._expect)
        self._cancel = self.action("Cancel it …", "Alt+X", self._cancel_it)
        self.action("Paper", "Ctrl+P", self._print)

    def _put_line_actions(self) -> None:
        line = Flow(self.body)
        line.pack(fill="x", pady=(4, 0))
        keys = self.front.keys
        self._late = action_button(line, keys, "Back-ordered …", "Alt+B", self._back_order)
        self._late.pack(side="left", padx=(0, 8))
        action_button(line, keys, "Its ticket", "Alt+T", self._open_ticket).pack(side="left")
        self._off = action_button(line, keys, "", "", self._drop_line)
        self._off.pack(side="left", padx=8)

    def _place_it(self) -> None:
        if self.lines.form.changed and not self.lines.keep():
            return
        if not super().save():
            return
        shift, terms, known = self.front.shift, self.terms, self.order.id
        postage, day = terms.text_of("postage"), terms.text_of("expected_on")
        order = self.attempt(lambda: place_order(shift, known, postage, day), terms)
        if order is None:
            return
        terms.settle()
        self.show_anew()
        self.front.refresh_board()
        self.front.drafts.gather()
        due = f" It is expected {show_date(order.expected_on)}." if order.expected_on else ""
        self.front.notices.say(f"Order {order.number} is placed.{due} Ctrl+P prints it.")

    def _expect(self) -> None:
        day = self.front.dialogs.ask_text("New day", "When is what is still to come expected?")
        shift, known = self.front.shift, self.order.id
        if day is not None:
            said = "The tickets that wait know it too."
            self.deed(lambda: change_expected(shift, known, day), said=said)

    def _receive_it(self) -> None:
        self.front.open_card(ReceivingCard, self.order.id)

    def _back_order(self) -> None:
        line = self._chosen()
        if line is None:
            return
        day = self.front.dialogs.ask_text(
            "Back-ordered", f"When will {line.name} come? Type a day, or leave it empty."
        )
        shift = self.front.shift
        if day is not None:
            said = f"{line.name} is back-ordered."
            self.deed(lambda: back_order(shift, line.id, day), said=said)

    def _drop_line(self) -> None:
        line = self._chosen()
        if line is not None:
            self.lines.drop(line.id)

    def _cancel_it(self) -> None:
        why = self.front.dialogs.ask_text(
            "Cancel the order", f"Why is what {self.order.supplier.name} still owes us cancelled?"
        )
        shift, known = self.front.shift, self.order.id
        if why is not None:
            said = "Cancelled: tickets that waited have their parts to order again."
            self.deed(lambda: cancel_order(shift, known, why), said=said)

    def _open_ticket(self) -> None:
        line = self._chosen()
        if line is None:
            return
        if not line.tickets:
            self.front.notices.trouble(f"{line.name} is for no ticket: it is for the shelf.")
            return
        place = (
            self.front.dialogs.choose("Its ticket", "Which one?", line.tags)
            if len(line.tickets) > 1
            else 0
        )
        if place is not None:
            self.front.open_ticket(line.tickets[place])

    def _chosen(self) -> OrderLineView | None:
        if self.lines.chosen is None:
            self.front.notices.trouble("Choose a line of the order first.")
            self.lines.list.focus_list()
        return self.lines.chosen

    def _print(self) -> None:
        from shopdesk.papers.parts_order import draw_parts_order

        content = self.attempt(lambda: order_content(self.front.shift, self.order.id))
        if content is not None:
            called = f"order {self.order.number or self.order.supplier.name}"
            self.front.papers.of_the_shop(called, lambda words: draw_parts_order(content, words))


def order_words(order: OrderView, currency: str) -> str:
    """Return how an order stands and what it comes to."""
    state = f"{order.state[:1].upper()}{order.state[1:]}"
    by = f" by {order.ordered_by}" if order.ordered_by else ""
    placed = f", placed {show_date(order.ordered_on)}{by}" if order.ordered_on else ""
    due = f", expected {show_date(order.expected_on)}" if order.expected_on else ""
    terms = f" ({order.postage_words})" if order.postage_words else ""
    return (
        f"{state}{placed}{due}.  Goods {show_money(order.goods, currency)}, "
        f"postage {show_money(order.postage, currency)}{terms}:  "
        f"{show_money(order.total, currency)} in all."
    )


def _title(order: OrderView) -> str:
    return f"Order {order.number} to {order.supplier.name}"
