"""A packet that came: how many packs of each line, at what cost, and which tickets got their parts.

Everything that is still to come stands there already, so that a whole packet needs one key.
"""

import tkinter as tk
from collections.abc import Callable
from dataclasses import replace

import ttkbootstrap as ttk

from shopdesk.desk import look
from shopdesk.desk.card import Card
from shopdesk.desk.fields import Value
from shopdesk.desk.forms import Form, wrapping
from shopdesk.desk.front import Front
from shopdesk.desk.parts.receipt_list import ReceiptList
from shopdesk.job.parts.order_views import OrderLineView, OrderView, open_order
from shopdesk.job.parts.receipt import PackedEntry, Receipt, ReceiptEntry
from shopdesk.job.parts.receiving import all_to_come, asked_costs, receive
from shopdesk.pricing.money import show_quantity


class ReceivingCard(Card):
    """A row of fields for each line that is still to come; after it is put away, who got what."""

    page = "receiving"

    def __init__(self, parent: tk.Misc, front: Front, leave: Callable[[], object]) -> None:
        self._order: OrderView | None = None
        super().__init__(parent, front, leave)

    def build(self) -> None:
        """Put the actions, the place of the fields, and the list of what became of it."""
        self._put_away = self.action("Put it away", "Ctrl+S", self.save, main=True)
        self._none = self.action("Type only what came", "Alt+N", self._empty)
        self._words = wrapping(ttk.Label(self.body, font=look.STRONG))
        self._words.pack(fill="x", pady=(0, 6))
        self.watch_form(Form(self.body, columns=12))
        self.receipt = ReceiptList(self.body, self.front)

    def fill(self, known: int) -> None:
        """Show what of the order is still to come."""
        order = self._order = open_order(self.front.shift, known)
        self.head(f"Packet of order {order.number}, {order.supplier.name}")
        self.receipt.pack_forget()
        self._put_form(order)
        for button in (self._put_away, self._none):
            button.state(["!disabled" if order.may_receive else "disabled"])
        self._words.configure(
            text="What came? All that is still to come stands here: change what is not so, "
            "then Ctrl+S puts it away."
            if order.may_receive
            else "Nothing of this order is still to come."
        )

    def save(self) -> bool:
        """Put away what came, and show which tickets got their parts."""
        if self._order is None or not self._order.may_receive:
            return True
        order_id = self._order.id
        entry = self._confirmed(order_id, self._entry())
        if entry is None:
            return False
        receipt = self.attempt(lambda: receive(self.front.shift, order_id, entry), self.form)
        if receipt is None:
            return False
        self.form.settle()
        self.front.drafts.gather()
        self._show_receipt(receipt)
        return True

    def focus_first(self) -> None:
        """Begin with the packs of the first line."""
        if self._order is not None and self._order.may_receive:
            self.form.focus_first()
            next(iter(self.form)).input.event_generate("<<SelectAll>>")
        else:
            self.receipt.list.focus_list()

    @property
    def called(self) -> str:
        """Return whose packet it is."""
        return f"a packet of order {self._order.number}" if self._order else "a packet"

    def _put_form(self, order: OrderView) -> None:
        self.form.destroy()
        self.form = form = Form(self.body, columns=12)
        entry = all_to_come(self.front.shift, order.id) if order.may_receive else ReceiptEntry(())
        lines = {line.id: line for line in order.lines}
        values: dict[str, Value] = {"postage": entry.postage, "note": entry.note}
        for packed in entry.lines:
            _put_line(form, lines[packed.line_id])
            values[f"packs_{packed.line_id}"] = packed.packs
            values[f"cost_{packed.line_id}"] = packed.cost
        form.next_row()
        form.line("note", "Note", "on the packet", span=9)
        form.line("postage", "Postage charged", span=3)
        _walk_down(form)
        form.fill(values)
        self.watch_form(form)
        if order.may_receive:
            form.pack(fill="x", after=self._words)

    def _entry(self) -> ReceiptEntry:
        form = self.form
        ids = [int(name.removeprefix("packs_")) for name in form.fields if "packs_" in name]
        return ReceiptEntry(
            tuple(
                PackedEntry(
                    line_id, form.text_of(f"packs_{line_id}"), form.text_of(f"cost_{line_id}")
                )
                for line_id in ids
            ),
            form.text_of("postage"),
            form.text_of("note"),
        )

    def _confirmed(self, order_id: int, entry: ReceiptEntry) -> ReceiptEntry | None:
        """Ask about every cost that is hardly meant; ``None`` where one is to be looked at."""
        asked = self.attempt(lambda: asked_costs(self.front.shift, order_id, entry), self.form)
        for line_id, question in (asked or {}).items():
            if not self.front.dialogs.confirm(
                "What a pack costs", question, "It is so", "Look again", risky=True
            ):
                self.form[f"cost_{line_id}"].focus_input()
                return None
        return None if asked is None else replace(entry, confirmed=frozenset(asked))

    def _empty(self) -> None:
        names = [name for name in self.form.fields if name.startswith("packs_")]
        self.form.restore(dict.fromkeys(names, ""))
        self.form.focus_first()

    def _show_receipt(self, receipt: Receipt) -> None:
        self.form.pack_forget()
        self._order = receipt.order
        for button in (self._put_away, self._none):
            button.state(["disabled"])
        self._words.configure(text=f"Order {receipt.order.number}: {receipt.order.state}.")
        self.receipt.pack(fill="both", expand=True)
        self.receipt.show(receipt)
        self.receipt.list.focus_list()
        self.front.refresh_board()
        self.front.notices.say("Put away. Enter opens a ticket; Esc goes back.")


def _put_line(form: Form, line: OrderLineView) -> None:
    pack = f" of {show_quantity(line.pack)}" if line.pack != 1 else ""
    form.next_row()
    form.words(
        f"{line.number}  {line.name}:  packs{pack} to come {show_quantity(line.to_come)}", span=7
    )
    form.line(f"packs_{line.id}", "Packs that came", span=2)
    form.line(f"cost_{line.id}", "A pack costs us", span=3)


def _walk_down(form: Form) -> None:
    """Let Tab go down the counts first, then down the costs, then to what is of the packet."""
    for field in form:
        if not field.name.startswith("packs_"):
            field.lift()
