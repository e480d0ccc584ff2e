"""The reports: choose one and the days, look at it, print it, or write it for a spreadsheet."""

from __future__ import annotations

from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

import ttkbootstrap as ttk

from shopdesk.desk.columns import side_by_side
from shopdesk.desk.forms import Form
from shopdesk.desk.reports.till_form import TillForm
from shopdesk.desk.reports.view import ReportView
from shopdesk.desk.rows import Column, RowList
from shopdesk.desk.sheet import Sheet
from shopdesk.errors import JobError
from shopdesk.job.drafts import Content
from shopdesk.job.reports import day_close
from shopdesk.job.reports.book import REPORTS
from shopdesk.job.reports.files import file_name, save_tables
from shopdesk.job.reports.period import NAMES, OWN, Period, chosen
from shopdesk.job.reports.report import Report

if TYPE_CHECKING:
    from shopdesk.papers.printed import Printed
    from shopdesk.papers.words import Words

_TILL = "till"


class ReportsSheet(Sheet):
    """The list of reports and the days at the top, the chosen report below."""

    page, called = "reports", "the count of the till"

    def build(self) -> None:
        """Put list, days and report."""
        self.head("Reports")
        self.action("Show", "Alt+W", self.look, main=True)
        self.action("Paper", "Ctrl+P", self._print)
        self.action("For a spreadsheet", "Alt+C", self._write)
        self.report: Report | None = None
        self._asked = 0
        self._own_choice = False
        top = ttk.Frame(self.body)
        top.pack(fill="x")
        self.list = RowList(
            top, [Column("Report", 120), Column("What it tells", 260, grows=True)], lines=7
        )
        self.list.show([(at, (kept.title, kept.tells)) for at, kept in enumerate(REPORTS)])
        self.list.on_select = self._picked
        self.list.on_open(lambda _key: self.look())
        self._chosen = -1
        self.days = self._put_days(top)
        side_by_side(top, self.list, self.days, sticky="nsew")
        self.till = TillForm(self.body, self.front)
        self.till.form.on_change = self.mark_typed
        self.till.on_kept = self.look
        self.view = ReportView(self.body, self.front.open_ticket)
        self.view.pack(fill="both", expand=True)
        held = self.front.drafts.find(self.held_at)
        if held is not None:
            self.till.form.restore(held.content.get(_TILL, {}))

    def _put_days(self, parent: ttk.Frame) -> Form:
        form = Form(parent, columns=2)
        form.choice("period", "Days", (*NAMES, OWN), span=2)
        form.line("first", "From", "1 apr, 2027-04-01")
        form.line("last", "To", "empty: up to today")
        form.submit_with(self.look)
        form["period"].watch(self._period_typed)
        return form

    def show_now(self) -> None:
        """Show the chosen report as the books stand now, or the first one."""
        if self._chosen < 0:
            self.list.select(0)
            self._pick(0)
        else:
            self.look()
        self.focus_first()

    def focus_first(self) -> None:
        """Begin in the list."""
        self.list.focus_list()

    def draft(self) -> Content:
        """Return what is typed of a count and not kept."""
        typed = self.till.form.draft()
        return {_TILL: typed} if typed else {}

    def throw_away(self) -> None:
        """Show the till as it is kept."""
        self.till.throw_away()

    def look(self) -> None:
        """Work out the chosen report for the days, beside the window."""
        self.days.clear_errors()
        shift = self.front.shift
        try:
            shop = shift.shop
            days = [self.days.text_of(name) for name in ("period", "first", "last")]
            period = chosen(days[0], days[1], days[2], shift.today_in(shop), shop)
        except JobError as error:
            self.say_error(error, self.days)
            return
        self._asked += 1
        make = REPORTS[max(self._chosen, 0)].make
        self.front.worker.run(
            lambda: make(shift, period),
            partial(self._show, self._asked, period),
            doing="Adding up",
        )

    def _picked(self) -> None:
        if self.list.selected is not None and self.list.selected != self._chosen:
            self._pick(self.list.selected)

    def _pick(self, at: int) -> None:
        """Show another report: for the days that the person chose, or those usual for it."""
        self._chosen = at
        if not self._own_choice:
            self.days.fill({"period": REPORTS[at].usual})
        self.look()

    def _period_typed(self) -> None:
        """Look at once where a period was chosen; go on to the days where they are to be typed."""
        name = self.days.text_of("period")
        self._own_choice = True
        if name == OWN:
            self.days["first"].focus_input()
        elif name in NAMES:
            for day in ("first", "last"):
                self.days[day].set("")
            self.look()

    def _show(self, asked: int, period: Period, report: Report) -> None:
        """Show what was worked out, unless something else was asked for meanwhile."""
        if asked != self._asked:
            return
        self.report = report
        self.view.show(report)
        if report.name == day_close.NAME and period.is_day:
            self.till.show(period.first)
            self.till.pack(fill="x", before=self.view)
        else:
            self.till.pack_forget()

    def _print(self) -> None:
        report, shift = self.report, self.front.shift
        if report is None:
            return
        made, called = shift.today, f"report {file_name(report)}"

        def draw(words: Words) -> Printed:
            from shopdesk.job.paperwork import letterhead
            from shopdesk.papers.report import draw_report

            return draw_report(report, letterhead(shift.shop), words, made)

        self.front.papers.of_the_shop(called, draw)

    def _write(self) -> None:
        report = self.report
        if report is None:
            return
        file = self.front.papers.folder / "shop" / f"{file_name(report)}.csv"
        self.front.worker.run(
            lambda: save_tables(report, file), self._written, doing="Writing the tables"
        )

    def _written(self, files: list[Path]) -> None:
        more = f" and {len(files) - 1} more beside it" if len(files) > 1 else ""
        self.front.notices.say(f"For a spreadsheet: {files[0]}{more}.")
