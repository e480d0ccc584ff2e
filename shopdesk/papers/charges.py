"""The lines of an estimate or invoice with the why under each, and the sums that follow them."""

from collections import defaultdict
from collections.abc import Sequence
from decimal import Decimal
from typing import Any

from reportlab.lib.styles import ParagraphStyle
from reportlab.platypus import Table

from shopdesk.job.paper_content import ChargeRow
from shopdesk.papers import styles
from shopdesk.papers.fonts import BOLD, MEDIUM, REGULAR, text_width
from shopdesk.papers.paper import Paper
from shopdesk.papers.tables import BLANK, PLAIN, Command
from shopdesk.pricing.money import show_money, show_percent, show_quantity
from shopdesk.pricing.totals import ZERO, Totals, line_net

_KINDS = ("part", "labour", "sublet", "fee", "discount")
_SUMS = (
    *(("part", "parts"), ("labour", "labour"), ("sublet", "sublet")),
    *(("fee", "fees"), ("discount", "discount")),
)
"""Each kind of line, and what its sum is called."""
_ALWAYS_SHOWN = 2
"""Parts and labour have their sums even where they are nothing."""
_NUMBERS = (54.0, 42.0, 62.0, 66.0, 12.0)
_AMOUNT = 4


class Charges:
    """The table in the making: heads, lines by kind, sums.

    Amounts are plain strings in their cells, not paragraphs: that makes it quick.
    """

    def __init__(self, paper: Paper) -> None:
        """Begin with the heads."""
        self._paper = paper
        self._widths = (paper.width - sum(_NUMBERS), *_NUMBERS)
        self._data: list[list[Any]] = []
        self._commands: list[Command] = list(_LOOK)
        heads = ("col_what", "col_condition", "col_quantity", "col_each", "col_amount")
        self._data.append([*(paper.type.line(paper.say(head)) for head in heads), *BLANK])
        self._last_line = 0
        self._any_taxed = False
        self._written: defaultdict[str, Decimal] = defaultdict(lambda: ZERO)

    def lines(self, rows: Sequence[ChargeRow]) -> None:
        """Add the lines, those of a kind together under its name."""
        for kind in _KINDS:
            chosen = [row for row in rows if row.kind == kind]
            if chosen:
                self._heading(self._paper.say(f"kind_{kind}"))
            for row in chosen:
                self._line(row)
        self._any_taxed = any(row.taxed for row in rows)
        for row in rows:
            self._written[row.kind] += row.net

    def sums(self, totals: Totals) -> None:
        """Add subtotals, tax and total; they stay on one page with the last line."""
        say = self._paper.say
        self._rule(len(self._data))
        for row, (kind, key) in enumerate(_SUMS):
            amount = self._written[kind] if totals.included else getattr(totals, key)
            if amount or row < _ALWAYS_SHOWN:
                self.sum(say(f"sum_{key}"), amount + ZERO)
            if row == 0 and self._any_taxed:
                self._data[-1][0] = self._paper.type.paragraph(say("taxed_note"), styles.SMALL)
        within = "_within" if totals.included else ""
        self.sum(say(f"sum_net{within}"), totals.net)
        for tax in totals.taxes:
            base = show_money(tax.base, self._paper.shop.currency)
            self.sum(say(f"sum_tax{within}", tax=tax.label, base=base), tax.tax)
        if not totals.taxes:
            self.sum(say("sum_no_tax"), totals.tax)
        self.strong_sum(say("sum_total"), totals.total)

    def sum(self, label: str, amount: Decimal) -> None:
        """Add one sum."""
        self._sum_row(label, amount, REGULAR, styles.CELL.fontSize)

    def strong_sum(self, label: str, amount: Decimal) -> None:
        """Add a sum that stands out: the total, the balance."""
        row = len(self._data)
        self._sum_row(label, amount, BOLD, 11)
        self._commands += [
            ("FONT", (0, row), (-1, row), BOLD, 11, 14),
            ("LINEABOVE", (1, row), (_AMOUNT, row), 0.9, styles.INK),
            ("TOPPADDING", (0, row), (-1, row), 3),
            ("BOTTOMPADDING", (0, row), (-1, row), 6),
        ]

    def table(self) -> Table:
        """Return the finished table."""
        keep = ("NOSPLIT", (0, self._last_line), (0, len(self._data) - 1))
        return Table(self._data, self._widths, repeatRows=1, style=[*self._commands, keep])

    def _heading(self, text: str) -> None:
        row = len(self._data)
        self._data.append([self._paper.type.line(text), *BLANK * 5])
        self._commands += [
            ("FONT", (0, row), (0, row), MEDIUM, 9, 11.5),
            ("TEXTCOLOR", (0, row), (0, row), styles.ACCENT),
            ("TOPPADDING", (0, row), (-1, row), 4),
            ("NOSPLIT", (0, row), (0, row + 1)),
        ]

    def _line(self, row: ChargeRow) -> None:
        first = self._last_line = len(self._data)
        self._stack(self._what(row), styles.CELL, 1 if row.condition else 2, self._numbers(row))
        why = self._why(row)
        if why:
            self._stack(why, styles.SMALL, _AMOUNT, list(BLANK * 5))
        last = len(self._data) - 1
        self._commands += [
            ("TOPPADDING", (0, first), (-1, first), 2.5),
            ("BOTTOMPADDING", (0, last), (-1, last), 3.5),
        ]
        if last > first:
            self._commands.append(("NOSPLIT", (0, first), (0, first + 1)))
            self._last_line = last - 1

    def _stack(self, text: str, style: ParagraphStyle, columns: int, rest: list[Any]) -> None:
        """Add `text` over the first `columns`, as several rows if it is long, beside `rest`."""
        room = sum(self._widths[:columns]) - 8
        if "\n" not in text and text_width(text, style.fontName, style.fontSize) <= room:
            parts: list[Any] = [text]
        else:
            parts = [[part] for part in self._paper.type.cell(text, style, room)]
        for part in parts or [""]:
            row = len(self._data)
            self._data.append([part, *rest])
            if style is not styles.CELL:
                look = (style.fontName, style.fontSize, style.leading)
                self._commands.append(("FONT", (0, row), (0, row), *look))
                self._commands.append(("TEXTCOLOR", (0, row), (0, row), style.textColor))
            if columns > 1 and not isinstance(part, str):
                self._commands.append(("SPAN", (0, row), (columns - 1, row)))
            rest = list(BLANK * 5)

    def _what(self, row: ChargeRow) -> str:
        what = row.description
        if row.part_number:
            what += "  ·  " + self._paper.say("part_number", number=row.part_number)
        if row.rate:
            what += "  ·  " + self._paper.say("at_rate", rate=row.rate)
        return self._paper.type.lines(what)

    def _why(self, row: ChargeRow) -> str:
        reason = row.why.rstrip(".")
        why = self._paper.say("line_why", why=reason, evidence=row.evidence) if reason else ""
        said = " ".join(filter(None, (why.strip(), self._price_words(row))))
        return self._paper.type.lines(said)

    def _price_words(self, row: ChargeRow) -> str:
        """Return what a row without charge is worth, what comes off it, or what it is taken of."""
        say, currency = self._paper.say, self._paper.shop.currency
        if row.value is not None:
            worth = line_net(row.quantity, row.value)
            return say("worth", value=show_money(abs(worth), currency))
        percent = "" if row.percent is None else show_percent(row.percent)
        if row.kind == "discount":
            return say("of_the_bill", percent=percent) if percent else ""
        if not row.off:
            return ""
        off = show_money(row.off, currency)
        return say("off_percent", percent=percent, off=off) if percent else say("off", off=off)

    def _numbers(self, row: ChargeRow) -> list[Any]:
        say, currency = self._paper.say, self._paper.shop.currency
        quantity = show_quantity(row.quantity)
        return [
            say(f"condition_{row.condition}") if row.condition else [],
            say("hours", hours=quantity) if row.kind == "labour" else quantity,
            show_money(row.unit_price, currency),
            show_money(row.net, currency),
            say("taxed_mark") if row.taxed else [],
        ]

    def _rule(self, row: int) -> None:
        self._commands += [
            ("LINEABOVE", (0, row), (_AMOUNT + 1, row), styles.HAIR, styles.RULE),
            ("TOPPADDING", (0, row), (-1, row), 6),
        ]

    def _sum_row(self, label: str, amount: Decimal, font: str, size: float) -> None:
        row, text = len(self._data), self._paper.type.line(label)
        cell: Any = text
        if text_width(text, font, size) > sum(self._widths[:_AMOUNT]) - 8:
            cell = self._paper.type.paragraph(label, styles.CELL_RIGHT)
            self._commands.append(("SPAN", (0, row), (_AMOUNT - 1, row)))
        place = 0 if cell is not text else _AMOUNT - 1
        amount_words = show_money(amount, self._paper.shop.currency)
        cells: list[Any] = [*BLANK * _AMOUNT, amount_words, *BLANK]
        cells[place] = cell
        self._data.append(cells)


_LOOK: tuple[Command, ...] = (
    *PLAIN,
    ("FONT", (0, 0), (-1, -1), REGULAR, styles.CELL.fontSize, styles.CELL.leading),
    ("TEXTCOLOR", (0, 0), (-1, -1), styles.INK),
    ("FONT", (0, 0), (-1, 0), MEDIUM, 9, 11.5),
    ("TEXTCOLOR", (0, 0), (-1, 0), styles.ACCENT),
    ("ALIGN", (2, 0), (_AMOUNT, -1), "RIGHT"),
    ("RIGHTPADDING", (_AMOUNT, 0), (_AMOUNT, -1), 2),
    ("LINEBELOW", (0, 0), (-1, 0), 0.8, styles.ACCENT),
    ("BOTTOMPADDING", (0, 0), (-1, 0), 3),
)
