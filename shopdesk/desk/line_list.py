"""The lines of a ticket as a list: what, how much, why, what it rests on, and where the part is."""

import tkinter as tk
from collections.abc import Sequence
from datetime import date

import ttkbootstrap as ttk

from shopdesk.dates import show_date
from shopdesk.desk import look
from shopdesk.desk.forms import wrapping
from shopdesk.desk.rows import Column, RowList
from shopdesk.job.labour.rates import rate_words
from shopdesk.job.shop import Shop
from shopdesk.job.views import LineView
from shopdesk.pricing.money import show_money, show_percent, show_quantity
from shopdesk.pricing.totals import LineKind


class LineList(ttk.Frame):
    """``list`` takes the keys; the chosen line is told in full below it."""

    def __init__(self, parent: tk.Misc, *, lines: int = 5) -> None:
        super().__init__(parent)
        self._lines: dict[int, LineView] = {}
        self._shop: Shop | None = None
        self.list = RowList(
            self,
            [
                Column("Kind", 66),
                Column("What", 170, grows=True),
                Column("Quantity", 72, right=True),
                Column("Price", 78, right=True),
                Column("Comes to", 84, right=True),
                Column("Why, and what it rests on", 230, grows=True),
                Column("Where it is", 144),
            ],
            lines=lines,
            empty="No part, labour or fee is on the ticket yet: Alt+A adds the first.",
        )
        self.list.pack(fill="x")
        self.list.on_select = self._tell
        self._words = wrapping(ttk.Label(self, font=look.SMALL))
        self._words.pack(fill="x", pady=(2, 0))

    @property
    def told(self) -> str:
        """What is said of the chosen line."""
        return str(self._words.cget("text"))

    @property
    def chosen(self) -> LineView | None:
        """The line that is marked."""
        return self._lines.get(self.list.selected or 0)

    def show(self, lines: Sequence[LineView], shop: Shop, today: date) -> None:
        """Show the lines in their order, those that are not wanted in a fainter hand."""
        self._lines = {line.id: line for line in lines}
        self._shop = shop
        self.list.show(
            [
                (line.id, _cells(line, shop, today), "faint" if line.declined else "")
                for line in lines
            ]
        )
        self._tell()

    def _tell(self) -> None:
        line = self.chosen
        self._words.configure(text=whole_line(line, self._shop) if line and self._shop else "")


def _cells(line: LineView, shop: Shop, today: date) -> tuple[str, ...]:
    hours = " h" if line.kind == "labour" else ""
    return (
        line.kind,
        line.description,
        f"{show_quantity(line.quantity)}{hours}",
        price_words(line, shop),
        show_money(line.net, shop.currency),
        why_words(line),
        where_words(line, today),
    )


def price_words(line: LineView, shop: Shop) -> str:
    """Return the price of one, as the percentage it is, or as what it would have been."""
    if line.kind is LineKind.DISCOUNT and line.percent is not None:
        return show_percent(line.percent)
    return show_money(line.unit_price if line.value is None else line.value, shop.currency)


def why_words(line: LineView) -> str:
    """Return the reason of a line and what bears it out: ``worn: Compression: 98 psi …``."""
    return ":  ".join(filter(None, (line.reason_words, line.evidence)))


def where_words(line: LineView, today: date) -> str:
    """Return where a part is, or what became of a line."""
    if line.declined:
        return "left out" if line.left_out_because else "not wanted"
    if line.done:
        return "done"
    due = f", {show_date(line.expected_on, today)}" if line.expected_on else ""
    return f"{line.supply}{due}"


def whole_line(line: LineView, shop: Shop) -> str:
    """Return all that a line says."""
    part = " ".join(filter(None, (line.condition, line.part_number)))
    words = [
        f"{line.description}{f' ({part})' if part else ''}: {line.reason_words}.",
        f"Rests on {line.evidence}"
        if line.finding_id
        else f"{line.evidence[:1].upper()}{line.evidence[1:]}",
        f"Note: {line.reason_note}" if line.reason_note else "",
        _charged_words(line, shop),
        "Taxed." if line.taxed else "Not taxed.",
        f"Costs us {show_money(line.cost, shop.currency)}." if line.cost is not None else "",
        f"Expected {show_date(line.expected_on)}." if line.expected_on else "",
        _left_out_words(line),
    ]
    return "  ".join(filter(None, words))


def _charged_words(line: LineView, shop: Shop) -> str:
    """Return what is special about the charge: worth more, less by so much, at another rate."""
    if line.value is not None:
        return f"Worth {show_money(line.value, shop.currency)} each, no charge."
    off = show_money(line.off, shop.currency)
    percent = f" ({show_percent(line.percent)})" if line.percent is not None else ""
    words = [
        f"At the rate {rate_words(line.rate)}" if line.rate else "",
        f"{off}{percent} comes off" if line.off else "",
    ]
    return "  ".join(f"{one}." for one in filter(None, words))


def _left_out_words(line: LineView) -> str:
    if line.left_out_because:
        return f"Left out: {line.left_out_because}."
    return "The owner does not want it." if line.declined else ""
