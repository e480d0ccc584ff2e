"""What is to be bought again: parts that are down to their mark, from whom, and for how much."""

from datetime import date

import ttkbootstrap as ttk

from shopdesk.desk.buying.sheet import BuyingSheet
from shopdesk.desk.forms import wrapping
from shopdesk.desk.parts.card import PartCard
from shopdesk.desk.parts.order_card import OrderCard
from shopdesk.desk.rows import Column, RowList
from shopdesk.desk.sheet import Sheet
from shopdesk.job.csv_out import save_csv
from shopdesk.job.drafts import Content
from shopdesk.job.parts.reorder import (
    ReorderRow,
    order_these,
    reorder_cells,
    reorder_content,
    reorder_list,
)
from shopdesk.pricing.money import show_money, show_quantity


class ReorderSheet(Sheet):
    """All of them are ordered unless Space takes one off; one order to a supplier."""

    page, called = "reorder list", "the reorder list"

    def build(self) -> None:
        """Put the list."""
        self._rows: dict[int, ReorderRow] = {}
        self._left_out: set[int] = set()
        self.head("Reorder list")
        self.action("Order these", "Alt+O", self._order, main=True)
        self.action("Buy for all tickets", "Alt+A", lambda: self.front.open_sheet(BuyingSheet))
        self.action("Paper", "Ctrl+P", self._print)
        self.action("For a spreadsheet", "Alt+V", self._save_csv)
        self.list = RowList(
            self.body,
            [
                Column("Order?", 60),
                Column("Part number", 110, grows=True),
                Column("Name", 190, grows=True),
                Column("Free", 56, right=True),
                Column("Coming", 64, right=True),
                Column("Mark", 56, right=True),
                Column("Packs", 90, right=True),
                Column("Supplier", 150, grows=True),
                Column("Costs us", 84, right=True),
            ],
            lines=13,
            empty="Nothing is down to its mark. A part's card says when it is bought again.",
        )
        self.list.pack(fill="both", expand=True)
        self.list.on_open(lambda key: self.front.open_card(PartCard, key))
        self.list.bind_key("<space>", self._turn)
        self.list.on_select = self._tell
        self._words = wrapping(ttk.Label(self.body))
        self._words.pack(fill="x", pady=(4, 0))

    def show_now(self) -> None:
        """Show what is to be bought now."""
        self._rows = {row.part_id: row for row in reorder_list(self.front.shift)}
        self._left_out &= self._rows.keys()
        self._show()
        self.focus_first()

    def focus_first(self) -> None:
        """Begin in the list."""
        self.list.focus_list()

    def draft(self) -> Content:
        """Return nothing: nothing is typed here."""
        return {}

    def throw_away(self) -> None:
        """Order all of them again."""
        self._left_out.clear()
        self._show()

    @property
    def told(self) -> str:
        """What is said of the chosen part."""
        return str(self._words.cget("text"))

    def _show(self) -> None:
        currency = self.front.shift.shop.currency
        self.list.show(
            [_listed(row, key not in self._left_out, currency) for key, row in self._rows.items()]
        )
        self._tell()

    def _tell(self) -> None:
        row = self._rows.get(self.list.selected or 0)
        self._words.configure(
            text=f"{row.number} {row.name}: {row.words}.  Space: order it or not.  Enter: its card."
            if row
            else ""
        )

    def _turn(self, part_id: int) -> None:
        self._left_out ^= {part_id}
        self._show()

    def _order(self) -> None:
        wanted = [key for key in self._rows if key not in self._left_out]
        shift = self.front.shift
        orders = self.attempt(lambda: order_these(shift, wanted))
        if orders is None:
            return
        self._left_out.clear()
        self.show_now()
        if len(orders) == 1:
            self.front.open_card(OrderCard, orders[0].id)
            return
        named = ", ".join(order.supplier.name for order in orders)
        self.front.notices.say(
            f"{len(orders)} orders are written, to {named}: look them over and place them (Ctrl+2)."
        )

    def _print(self) -> None:
        from shopdesk.papers.reorder_list import draw_reorder_list

        content = self.attempt(lambda: reorder_content(self.front.shift))
        if content is not None:
            name = _name(self.front.shift.today)
            self.front.papers.of_the_shop(name, lambda words: draw_reorder_list(content, words))

    def _save_csv(self) -> None:
        heads, *rows = reorder_cells(tuple(self._rows.values()))
        file = self.front.papers.folder / "shop" / f"{_name(self.front.shift.today)}.csv"
        self.attempt(
            lambda: save_csv(file, [str(head) for head in heads], rows),
            said=f"The list is in {file}.",
        )


def _name(day: date) -> str:
    return f"reorder list {day.isoformat()}"


def _listed(row: ReorderRow, wanted: bool, currency: str) -> tuple[int, tuple[str, ...], str]:
    pack = f" of {show_quantity(row.pack)}" if row.pack != 1 else ""
    cells = (
        ("yes" if wanted else "no") if row.supplier_id else "nobody",
        row.number,
        row.name,
        show_quantity(row.free),
        show_quantity(row.on_order) if row.on_order else "",
        show_quantity(row.reorder_at),
        f"{show_quantity(row.packs)}{pack}",
        row.supplier or "nobody sells it",
        "" if row.cost is None else show_money(row.cost, currency),
    )
    return row.part_id, cells, "" if wanted and row.supplier_id else "faint"
