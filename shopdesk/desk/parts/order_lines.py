"""The lines of an order: what is ordered, what came of it, and for which tickets it is."""

from collections.abc import Mapping
from datetime import date
from typing import ClassVar

import ttkbootstrap as ttk

from shopdesk.dates import show_date
from shopdesk.desk import look
from shopdesk.desk.entries import Entries
from shopdesk.desk.fields import Value
from shopdesk.desk.forms import Form, wrapping
from shopdesk.desk.line_held import hold
from shopdesk.desk.parts.suggest import HELD, PartPick
from shopdesk.desk.rows import Column, RowList
from shopdesk.errors import JobError
from shopdesk.job.parts.order_changes import cancel_order_line
from shopdesk.job.parts.order_views import OrderLineView, OrderView
from shopdesk.job.parts.ordering import (
    OrderLineEntry,
    add_order_line,
    change_order_line,
    drop_order_line,
)
from shopdesk.pricing.money import show_money, show_quantity


class OrderLines(Entries):
    """The list, and below it, while the order is being written, the form for a line."""

    name, held = "line", "line"
    new: ClassVar[Mapping[str, Value]] = {"packs": "1"}
    add_words = "Order this"
    keys_words = "In the list: Enter changes one."

    def build(self) -> None:
        """Put list and form."""
        self._lines: dict[int, OrderLineView] = {}
        self._order: OrderView | None = None
        self.list = RowList(
            self,
            [
                Column("Part number", 110, grows=True),
                Column("Name", 160, grows=True),
                Column("Packs", 78, right=True),
                Column("Came", 52, right=True),
                Column("To come", 74, right=True),
                Column("Pack costs", 80, right=True),
                Column("Comes to", 84, right=True),
                Column("State", 160),
                Column("For", 84),
            ],
            lines=7,
            empty="Nothing is on the order yet: type a part below.",
        )
        self.list.pack(fill="x")
        self.list.on_open(self._open)
        self.list.bind_key("<F2>", self._change)
        self.list.bind_key("<Delete>", self.drop)
        self.list.on_select = self._tell
        self._words = wrapping(ttk.Label(self, font=look.SMALL))
        self._words.pack(fill="x", pady=(2, 0))
        self.form = form = Form(self, columns=12)
        part = form.line("part", "Part  Alt+I", "number or name", span=4)
        form.line("packs", "How many packs", span=2)
        form.line("pack", "Pack of", "if not as offered", span=2)
        form.line("cost", "Pack costs us", "if not as offered", span=2)
        form.line("supplier_number", "Their number", span=2)
        hold(form, HELD, "line")
        form.pack(fill="x", pady=(4, 0))
        self.pick = PartPick(form, part, self.card.front.shift)
        self.card.front.keys.add(form, "Alt+I", "Put a part on the order", self.begin)

    @property
    def chosen(self) -> OrderLineView | None:
        """The line that is marked."""
        return self._lines.get(self.list.selected or 0)

    @property
    def told(self) -> str:
        """What is said of the chosen line."""
        return str(self._words.cget("text"))

    def show(self, order: OrderView) -> None:
        """Show an order's lines, and the form where they may be changed."""
        self._order = order
        self._lines = {line.id: line for line in order.lines}
        shift = self.card.front.shift
        today, currency = shift.today, shift.shop.currency
        self.list.show([_listed(line, today, currency) for line in order.lines])
        self._tell()
        self.empty()
        if order.may_change:
            self.form.pack(fill="x", pady=(4, 0), before=self._buttons)
            self._buttons.pack(fill="x")
        else:
            self.form.pack_forget()
            self._buttons.pack_forget()

    def keep(self) -> bool:
        """Put the typed line on the order, or keep the change of one."""
        if self.pick.suggestions.take_chosen():
            return False
        said = "It stands on the order."
        return self.card.did(self._write, self.form, said=said) and self.done()

    def _write(self) -> OrderView:
        assert self.card.known is not None
        shift = self.card.front.shift
        entry = self.form.into(OrderLineEntry, part_id=self.pick.part_id(), expected_on="")
        try:
            if self.changing is not None:
                known = self._lines.get(self.changing)
                return change_order_line(
                    shift, self.changing, entry, known.version if known else None
                )
            return add_order_line(shift, self.card.known, entry)
        except JobError as error:
            field = "part" if error.field in (HELD, "") else error.field
            raise JobError(error.sentence, field) from error

    def _open(self, line_id: int) -> None:
        from shopdesk.desk.parts.card import PartCard

        if self._order is not None and self._order.may_change:
            self._change(line_id)
        else:
            self.card.front.open_card(PartCard, self._lines[line_id].part_id)

    def _change(self, line_id: int) -> None:
        if self._order is None or not self._order.may_change:
            self.card.front.notices.trouble(
                "The order is placed: cancel the line (Delete), or receive what came (Alt+R)."
            )
            return
        line = self._lines[line_id]
        self.change(
            {
                "line": str(line.id),
                HELD: str(line.part_id),
                "part": f"{line.number}  {line.name}",
                "packs": show_quantity(line.packs),
                "pack": show_quantity(line.pack),
                "cost": str(line.cost),
                "supplier_number": line.supplier_number,
            }
        )
        self.form["packs"].focus_input()

    def drop(self, line_id: int) -> None:
        """Take a line off an order that is being written; cancel what is still to come of it."""
        card, line = self.card, self._lines[line_id]
        shift = card.front.shift
        if self._order is not None and self._order.may_change:
            card.deed(lambda: drop_order_line(shift, line.id), said="It is off the order.")
            return
        why = card.front.dialogs.ask_text("Cancel a line", f"Why is {line.name} cancelled?")
        if why is not None:
            said = "Cancelled: tickets that waited for it have it to order again."
            card.deed(lambda: cancel_order_line(shift, line.id, why), said=said)

    def _tell(self) -> None:
        line = self.chosen
        self._words.configure(text=_whole(line) if line else "")


def _whole(line: OrderLineView) -> str:
    words = [
        f"{line.number} {line.name}.",
        f"Their number {line.supplier_number}." if line.supplier_number else "",
        f"For {', '.join(line.tags)}." if line.tags else "For the shelf.",
        f"Cancelled {show_quantity(line.cancelled)}." if line.cancelled else "",
    ]
    return "  ".join(filter(None, words))


def _listed(line: OrderLineView, today: date, currency: str) -> tuple[int, tuple[str, ...], str]:
    pack = f" of {show_quantity(line.pack)}" if line.pack != 1 else ""
    due = f", {show_date(line.expected_on, today)}" if line.expected_on and line.to_come else ""
    cells = (
        line.number,
        line.name,
        f"{show_quantity(line.packs)}{pack}",
        show_quantity(line.received) if line.received else "",
        show_quantity(line.to_come) if line.to_come else "",
        show_money(line.cost, currency),
        show_money(line.total, currency),
        f"{line.state}{due}",
        ", ".join(line.tags),
    )
    return line.id, cells, "trouble" if line.back_ordered and line.to_come else ""
