"""The lines of an estimate or invoice with the why under each, and the sums that follow them."""

from collections.abc import Sequence
from decimal import Decimal
from typing import Any

from reportlab.platypus import Paragraph, Table

from shopdesk.job.paper_content import ChargeRow
from shopdesk.papers import styles
from shopdesk.papers.fonts import BOLD, MEDIUM, REGULAR, text_width
from shopdesk.papers.paper import Paper
from shopdesk.papers.tables import BLANK, PLAIN, Command, stacked_first
from shopdesk.pricing.money import show_money, show_quantity
from shopdesk.pricing.totals import Totals

_KINDS = ("part", "labour", "sublet", "fee", "discount")
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

    def lines(self, rows: Sequence[ChargeRow]) -> None:
        """Add the lines, those of a kind together under its name."""
        for kind in _KINDS:
            chosen = [row for row in rows if row.kind == kind]
            if chosen:
                self._heading(self._paper.say(f"kind_{kind}"))
            for row in chosen:
                self._line(row)
        self._any_taxed = any(row.taxed for row in rows)

    def sums(self, totals: Totals) -> None:
        """Add subtotals, tax and total; they stay on one page with the last line."""
        say = self._paper.say
        self._rule(len(self._data))
        self.sum(say("sum_parts"), totals.parts)
        if self._any_taxed:
            self._data[-1][0] = self._paper.type.paragraph(say("taxed_note"), styles.SMALL)
        self.sum(say("sum_labour"), totals.labour)
        for key in ("sublet", "fees", "discount"):
            amount = getattr(totals, key)
            if amount:
                self.sum(say(f"sum_{key}"), amount)
        self.sum(say("sum_net"), totals.net)
        for tax in totals.taxes:
            base = show_money(tax.base, self._paper.shop.currency)
            self.sum(say("sum_tax", tax=tax.label, base=base), tax.tax)
        if not totals.taxes:
            self.sum(say("sum_no_tax"), totals.tax)
        self.strong_sum(say("sum_total"), totals.total)

    def sum(self, label: str, amount: Decimal) -> None:
        """Add one sum."""
        self._sum_row(label, amount, REGULAR, 9)

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
            ("FONT", (0, row), (0, row), MEDIUM, 8.5, 11),
            ("TEXTCOLOR", (0, row), (0, row), styles.ACCENT),
            ("TOPPADDING", (0, row), (-1, row), 4),
            ("NOSPLIT", (0, row), (0, row + 1)),
        ]

    def _line(self, row: ChargeRow) -> None:
        first = self._last_line = len(self._data)
        self._data.extend(stacked_first(self._words(row), self._numbers(row)))
        last = len(self._data) - 1
        self._commands += [
            ("TOPPADDING", (0, first), (-1, first), 2),
            ("BOTTOMPADDING", (0, last), (-1, last), 3),
        ]
        if last > first:
            self._commands.append(("NOSPLIT", (0, first), (0, first + 1)))
            self._last_line = last - 1

    def _words(self, row: ChargeRow) -> list[Paragraph]:
        paper, width = self._paper, self._widths[0] - 8
        what = row.description
        if row.part_number:
            what += "  ·  " + paper.say("part_number", number=row.part_number)
        reason = row.why.rstrip(".")
        why = paper.say("line_why", why=reason, evidence=row.evidence) if reason else ""
        return [
            *paper.type.cell(what, styles.CELL, width),
            *paper.type.cell(why.strip(), styles.SMALL, width),
        ]

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
    ("FONT", (0, 0), (-1, -1), REGULAR, 9, 12),
    ("TEXTCOLOR", (0, 0), (-1, -1), styles.INK),
    ("FONT", (0, 0), (-1, 0), MEDIUM, 8, 11),
    ("TEXTCOLOR", (0, 0), (-1, 0), styles.ACCENT),
    ("ALIGN", (2, 0), (_AMOUNT, -1), "RIGHT"),
    ("RIGHTPADDING", (_AMOUNT, 0), (_AMOUNT, -1), 2),
    ("LINEBELOW", (0, 0), (-1, 0), 0.8, styles.ACCENT),
    ("BOTTOMPADDING", (0, 0), (-1, 0), 3),
)
