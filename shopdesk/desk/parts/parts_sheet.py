"""The parts of the shop: found while typing, with what lies in the bin and what they sell for."""

import ttkbootstrap as ttk

from shopdesk.desk import look
from shopdesk.desk.forms import Form, wrapping
from shopdesk.desk.parts.card import PartCard
from shopdesk.desk.parts.deeds import count, level_words, price_words
from shopdesk.desk.parts.reorder_sheet import ReorderSheet
from shopdesk.desk.parts.suppliers_sheet import SuppliersSheet
from shopdesk.desk.rows import Column, RowList
from shopdesk.desk.sheet import Sheet
from shopdesk.job.drafts import Content, Place
from shopdesk.job.parts.find import find_parts
from shopdesk.job.parts.views import PartRow
from shopdesk.pricing.money import show_money, show_quantity

_DELAY_MS = 60
_MOST = 200


class PartsSheet(Sheet):
    """A box that finds, the list of what it found, and the chosen part in words below."""

    page, called = "parts", "the parts"

    def build(self) -> None:
        """Put box and list."""
        self._rows: dict[int, PartRow] = {}
        self._later = ""
        self.head("Parts")
        front = self.front
        self.action("New part", "Alt+N", lambda: front.open_card(PartCard, 0))
        self.action("Count it …", "Alt+C", self._count)
        self.action("Reorder list", "Alt+R", lambda: front.open_sheet(ReorderSheet))
        self.action("Suppliers", "Alt+U", lambda: front.open_sheet(SuppliersSheet))
        self._put_box()
        self.list = RowList(
            self.body,
            [
                Column("Part number", 130, grows=True),
                Column("Name", 240, grows=True),
                Column("Condition", 76),
                Column("Bin", 80),
                Column("In the bin", 76, right=True),
                Column("Free", 60, right=True),
                Column("On order", 72, right=True),
                Column("Price", 84, right=True),
            ],
            lines=12,
            empty="No part is written down yet: Alt+N writes one down.",
        )
        self.list.pack(fill="both", expand=True)
        self.list.on_open(lambda key: front.open_card(PartCard, key))
        self.list.on_select = self._tell
        self._words = wrapping(ttk.Label(self.body))
        self._words.pack(fill="x", pady=(4, 0))
        self._more = wrapping(ttk.Label(self.body, font=look.SMALL))
        self._more.pack(fill="x")
        self.bind("<Destroy>", lambda _event: self._forget())

    def show_now(self) -> None:
        """Show what the typed words find now, ready for other words."""
        self._look()
        self.focus_first()

    def come_back(self, place: Place) -> None:
        """Go on in the list, at the part that was chosen."""
        self._look()
        if self.list.selected is None:
            self.focus_first()
        else:
            self.list.focus_list()

    def focus_first(self) -> None:
        """Begin in the box, what stands there marked for overtyping."""
        entry = self._box.entry
        entry.focus_set()
        entry.selection_range(0, "end")

    def draft(self) -> Content:
        """Return nothing: what is typed to find something is not worth keeping."""
        return {}

    def throw_away(self) -> None:
        """Show all parts."""
        self.find.fill({})
        self._look()

    @property
    def told(self) -> str:
        """What is said of the chosen part."""
        return str(self._words.cget("text"))

    @property
    def more_told(self) -> str:
        """What is said where there are more than the list shows."""
        return str(self._more.cget("text"))

    def _put_box(self) -> None:
        self.find = form = Form(self.body, columns=4)
        self._box = form.line("words", "Find", "part number, name, or a supplier's number", span=3)
        tick = form.tick("inactive", "Also retired ones")
        form.pack(fill="x")
        self._box.watch(self._typed)
        tick.watch(self._look)
        self._box.on_enter = self._open_first
        self._box.entry.bind("<Down>", self._into_list, add="+")

    def _typed(self) -> None:
        self._forget()
        self._later = self.after(_DELAY_MS, self._look)

    def _forget(self) -> None:
        if self._later:
            self.after_cancel(self._later)
            self._later = ""

    def _look(self) -> None:
        self._forget()
        shift = self.front.shift
        found = find_parts(
            shift, self.find.text_of("words"), most=_MOST, inactive=self.find.ticked("inactive")
        )
        self._rows = {row.id: row for row in found}
        currency = shift.shop.currency
        self.list.show([_listed(row, currency) for row in found])
        self.list.say_empty(self._nothing())
        self._more.configure(
            text=f"These are the first {_MOST}: type more to find others."
            if len(found) >= _MOST
            else ""
        )
        self._tell()

    def _nothing(self) -> str:
        words = self.find.text_of("words").strip()
        if not words:
            return "No part is written down yet: Alt+N writes one down."
        return f"No part is called “{words[:40]}”: try fewer letters, or Alt+N for a new one."

    def _open_first(self) -> None:
        self._look()
        if self._rows:
            self.front.open_card(PartCard, next(iter(self._rows)))

    def _into_list(self, _event: object) -> str:
        self.list.focus_list()
        return "break"

    def _tell(self) -> None:
        row = self._rows.get(self.list.selected or 0)
        currency = self.front.shift.shop.currency
        self._words.configure(
            text=f"{row.name}.  {level_words(row)}  {price_words(row, currency)}" if row else ""
        )

    def _count(self) -> None:
        row = self._rows.get(self.list.selected or 0)
        if row is None:
            self.front.notices.trouble("Choose a part in the list first.")
            self.list.focus_list()
        elif count(self, row) is not None:
            self._look()
            self.front.refresh_board()


def _listed(row: PartRow, currency: str) -> tuple[int, tuple[str, ...], str]:
    cells = (
        row.number,
        f"{row.name} (kit)" if row.is_kit else row.name,
        row.condition,
        row.bin,
        show_quantity(row.quantity),
        show_quantity(row.free),
        show_quantity(row.on_order) if row.on_order else "",
        "" if row.price is None else show_money(row.price, currency),
    )
    return row.id, cells, "" if row.active else "faint"
