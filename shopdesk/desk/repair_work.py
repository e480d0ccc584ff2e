"""The work to do: what was approved, to be ticked off with Space."""

import tkinter as tk
from datetime import date

import ttkbootstrap as ttk

from shopdesk.desk import look
from shopdesk.desk.flow import Flow
from shopdesk.desk.forms import wrapping
from shopdesk.desk.keys import action_button
from shopdesk.desk.line_list import where_words, why_words
from shopdesk.desk.page import Page
from shopdesk.desk.rows import Column, RowList
from shopdesk.job.parts.supply import set_supply
from shopdesk.job.repair import do_line, undo_line
from shopdesk.job.standing import ON_HAND
from shopdesk.job.views import LineView, TicketView
from shopdesk.pricing.money import show_quantity


class WorkList(ttk.Frame):
    """The lines that are wanted and are work, for a ``page``."""

    def __init__(self, parent: tk.Misc, page: Page) -> None:
        super().__init__(parent)
        self._page = page
        self._lines: dict[int, LineView] = {}
        self.list = RowList(
            self,
            [
                Column("Done?", 60),
                Column("Kind", 66),
                Column("What", 230, grows=True),
                Column("Quantity", 72, right=True),
                Column("Why, and what it rests on", 300, grows=True),
                Column("Where it is", 144),
            ],
            lines=5,
            empty="No work is on the ticket: add lines on Approval.",
        )
        self.list.pack(fill="x")
        self.list.bind_key(("<space>", "<Return>", "<KP_Enter>"), lambda _key: self.tick())
        self._declined = wrapping(ttk.Label(self, font=look.SMALL))
        self._declined.pack(fill="x", pady=(2, 0))
        line = Flow(self)
        line.pack(fill="x", pady=(4, 0))
        for words, key, run in (
            ("Go to the work", "Alt+G", self.list.focus_list),
            ("Tick it, or untick it", "Space", self.tick),
            ("Part is here", "Alt+H", self._here),
        ):
            shown = action_button(line, page.front.keys, words, "" if key == "Space" else key, run)
            shown.pack(side="left", padx=(0, 8))
            if key == "Space":
                shown.configure(text=f"{words}  Space")

    @property
    def declined(self) -> str:
        """What is said of the lines that the owner does not want."""
        return str(self._declined.cget("text"))

    @property
    def shown(self) -> list[LineView]:
        """The lines in the list."""
        return list(self._lines.values())

    def show(self, ticket: TicketView, today: date) -> None:
        """Show a ticket's work, and name what the owner did not want."""
        wanted = [line for line in ticket.lines if not line.declined]
        self._lines = {line.id: line for line in wanted if line.is_work}
        self.list.show([(line.id, _cells(line, today)) for line in self._lines.values()])
        declined = "; ".join(line.description for line in ticket.lines if line.declined)
        self._declined.configure(
            text=f"Not to be done, the owner does not want it: {declined}." if declined else ""
        )

    def tick(self) -> None:
        """Tick the chosen line as done, or take the tick off; it stays chosen."""
        line = self._chosen()
        if line is None:
            return
        job = undo_line if line.done else do_line
        said = f"{line.description}: {'not done yet' if line.done else 'done'}."
        self._page.attempt(lambda: job(self._page.front.shift, line.id), said=said)

    def _here(self) -> None:
        line = self._chosen()
        if line is not None:
            self._page.attempt(
                lambda: set_supply(self._page.front.shift, line.id, ON_HAND),
                said=f"{line.description} is here.",
            )

    def _chosen(self) -> LineView | None:
        line = self._lines.get(self.list.selected or 0)
        if line is None:
            self._page.front.notices.trouble("Choose a line of the work first.")
            self.list.focus_list()
        return line


def _cells(line: LineView, today: date) -> tuple[str, ...]:
    hours = " h" if line.kind == "labour" else ""
    return (
        "done" if line.done else "to do",
        line.kind,
        line.description,
        f"{show_quantity(line.quantity)}{hours}",
        why_words(line),
        "" if line.done else where_words(line, today),
    )
