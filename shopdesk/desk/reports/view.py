"""A report in the window: what it goes by, its pictures, and its tables to go through."""

import tkinter as tk
from collections.abc import Callable
from functools import partial
from tkinter.font import nametofont

import ttkbootstrap as ttk

from shopdesk.desk import look
from shopdesk.desk.forms import section, wrapping
from shopdesk.desk.reports.charts import Pictures
from shopdesk.desk.rows import Column, RowList
from shopdesk.job.reports.report import Kind, Report, Table
from shopdesk.job.reports.shown import shown

_MOST_LINES = 14
_NARROWEST, _WIDEST = 48, 260
_EDGES = 22
_NARROW = 560
"""How wide a table is that is not stretched over the page: its numbers stay by their names."""


class ReportView(ttk.Frame):
    """Shows one report after another; Enter on a row opens the ticket that it is about."""

    def __init__(self, parent: tk.Misc, open_ticket: Callable[[int], object]) -> None:
        super().__init__(parent)
        self._open_ticket = open_ticket
        self._title = section(self, "")
        self._basis = wrapping(ttk.Label(self, font=look.SMALL))
        self._basis.pack(fill="x")
        self._notes = wrapping(ttk.Label(self, font=look.STRONG))
        self.pictures = Pictures(self)
        self.pictures.pack(fill="x", pady=(8, 0))
        self.tables: list[RowList] = []
        self._below = ttk.Frame(self)
        self._below.pack(fill="both", expand=True)

    def show(self, report: Report) -> None:
        """Show a report in place of the one before."""
        self._title.configure(text=f"{report.title}: {report.period.words}")
        self._basis.configure(text=f"{report.basis} Amounts in {report.currency}.")
        self._notes.configure(text="\n".join(report.notes))
        if report.notes:
            self._notes.pack(fill="x", before=self.pictures)
        else:
            self._notes.pack_forget()
        self.pictures.show(report.pictures)
        for widget in self._below.winfo_children():
            widget.destroy()
        self.tables = [self._table(table) for table in report.tables]

    @property
    def words(self) -> str:
        """What stands over the pictures."""
        labels = (self._title, self._basis, self._notes)
        return "\n".join(str(label.cget("text")) for label in labels)

    def _table(self, table: Table) -> RowList:
        section(self._below, table.title)
        rows = [
            [
                shown(cell, column.kind)
                for cell, column in zip(row.cells, table.columns, strict=True)
            ]
            for row in table.rows
        ]
        lines = min(max(len(rows), 2), _MOST_LINES)
        widths = self._widths(table, rows)
        columns = [
            Column(column.title, width, right=column.kind.is_number, grows=place == grows)
            for place, (column, width) in enumerate(zip(table.columns, widths, strict=True))
            for grows in [_grows(table)]
        ]
        listed = RowList(self._below, columns, lines=lines, empty=table.empty)
        listed.show(
            [
                (place, cells, "strong" if row.is_sum else "")
                for place, (cells, row) in enumerate(zip(rows, table.rows, strict=True))
            ]
        )
        if sum(widths) > _NARROW:
            listed.pack(fill="x")
        else:
            listed.pack(anchor="w")
        listed.on_open(partial(self._open, table))
        return listed

    def _widths(self, table: Table, rows: list[list[str]]) -> list[int]:
        """Return unscaled widths that hold the cells, in the letters that they are shown in."""
        measure = nametofont(look.STRONG, root=self).measure
        scale = look.pixels(self, 100) / 100
        found = []
        for place, column in enumerate(table.columns):
            widest = max(measure(words) for words in [column.title, *(row[place] for row in rows)])
            found.append(min(max(int(widest / scale) + _EDGES, _NARROWEST), _WIDEST))
        return found

    def _open(self, table: Table, place: int) -> None:
        ticket_id = table.rows[place].ticket_id
        if ticket_id is not None:
            self._open_ticket(ticket_id)


def _grows(table: Table) -> int:
    """Return which column takes the room that is left: the last one of words."""
    wordy = [at for at, column in enumerate(table.columns) if column.kind is Kind.WORDS]
    return wordy[-1] if wordy else 0
