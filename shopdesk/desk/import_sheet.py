"""In and out: lists of owners and machines brought in, and all that the shop keeps written out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

import ttkbootstrap as ttk

from shopdesk.dates import show_moment
from shopdesk.desk.forms import section, wrapping
from shopdesk.desk.import_columns import ImportColumns
from shopdesk.desk.long_work import LongWork
from shopdesk.desk.rows import Column, RowList
from shopdesk.desk.sheet import Sheet
from shopdesk.job.drafts import Content
from shopdesk.job.exporting import Exported, export_all
from shopdesk.job.importing.entries import Wrong
from shopdesk.job.importing.keeping import Brought, bring_in, imports
from shopdesk.job.importing.listing import Listing, read_list
from shopdesk.job.importing.plan import Plan, PlannedRow, Will, Work, dry_run, prepared
from shopdesk.job.importing.progress import Tell
from shopdesk.job.importing.taking_back import take_back

ENDINGS = (".csv", ".txt", ".tsv", ".vcf")
MOST_SHOWN = 300
_KNOWN = (
    (Will.ADD.value, "add to what is there"),
    (Will.SKIP.value, "leave the row out"),
    (Will.NEW.value, "write them down again"),
)
_WRONG = tuple((one.value, one.value) for one in Wrong)


class ImportSheet(Sheet):
    """Choose lists, see where each column goes, see what becomes of each row, then bring them in.

    Nothing is kept until then, and it can be taken back afterwards.
    """

    page, called = "in and out", "a list to bring in"

    def build(self) -> None:
        """Put columns and rows."""
        self.work: Work | None = None
        self.plan: Plan | None = None
        self.head("In and out")
        self.action("Choose lists …", "Alt+C", self._choose, main=True)
        self.action("Bring them in", "Alt+K", self._bring_in)
        self.action("Only what needs a look", "Alt+W", self._only)
        self.action("Take a list back …", "Alt+Z", self._take_back)
        self.action("Write all out", "Alt+E", self._export)
        self._only_told = False
        self.long = LongWork(self.body, self.front)
        self._told = wrapping(
            ttk.Label(
                self.body,
                text="Owners and machines from CSV files or vCards: choose the lists (Alt+C). "
                "They are tried first; nothing is kept before you bring them in.",
            )
        )
        self._told.pack(fill="x")
        self.long.stands_before = self._told
        section(self.body, "Where each column goes")
        self.columns = ImportColumns(self.body, self._matched)
        self.columns.pack(fill="x")
        self._put_choices()
        section(self.body, "What becomes of each row")
        self.rows = RowList(
            self.body,
            [
                Column("Line", 56, right=True),
                Column("Owner in the list", 150, grows=True),
                Column("What happens", 250, grows=True),
                Column("Machine", 210, grows=True),
                Column("Look at", 220, grows=True),
            ],
            lines=6,
            empty="No list is chosen yet: Alt+C chooses one.",
        )
        self.rows.pack(fill="both", expand=True)
        self.rows.on_open(self._decide)
        self.rows.on_select = self._picked
        self._row_words = wrapping(ttk.Label(self.body))
        self._row_words.pack(fill="x", pady=(4, 0))

    def show_now(self) -> None:
        """Show what is chosen; a list that is being looked at stays."""
        self.focus_first()

    def focus_first(self) -> None:
        """Begin with the columns, or with the rows where there is nothing to match."""
        if self.work is None:
            self.rows.focus_list()
        else:
            self.columns.focus_list()

    def draft(self) -> Content:
        """Return nothing: the lists lie in their files."""
        return {}

    def throw_away(self) -> None:
        """Forget the chosen lists."""
        self.work = self.plan = None
        self.columns.show(())
        self._show_rows()

    @property
    def told(self) -> str:
        """What is said of the lists and their rows."""
        return str(self._told.cget("text"))

    def _put_choices(self) -> None:
        self.choices = form = self.columns.form
        form.choice("known", "An owner who is there already", _KNOWN)
        form.choice("wrong", "What can't be read", _WRONG)
        form.fill({"known": Will.ADD.value, "wrong": Wrong.STOP.value})
        for name in ("known", "wrong"):
            form[name].watch(self._chosen)

    def _choose(self) -> None:
        files = self.front.dialogs.choose_files("Lists of owners and machines", ENDINGS)
        if files:
            self._read(files)

    def _read(self, files: Sequence[Path]) -> None:
        known, wrong = self._choice_values()

        def work(_tell: Tell) -> Work:
            return prepared(*(read_list(file) for file in files), known=known, wrong=wrong)

        self.long.run("Reading the lists", work, self._have_read)

    def _have_read(self, work: Work) -> None:
        self.work = work
        self.columns.show(work.lists)
        self._try()
        self.columns.focus_list()

    def _choice_values(self) -> tuple[Will, Wrong]:
        known, wrong = self.choices.text_of("known"), self.choices.text_of("wrong")
        return (
            Will(known) if known in [one for one, _ in _KNOWN] else Will.ADD,
            Wrong(wrong) if wrong in [one for one, _ in _WRONG] else Wrong.STOP,
        )

    def _chosen(self) -> None:
        """Try anew when another rule is chosen."""
        known, wrong = self._choice_values()
        if self.work is not None and (self.work.known, self.work.wrong) != (known, wrong):
            self.work = replace(self.work, known=known, wrong=wrong)
            self._try()

    def _matched(self) -> None:
        """Try anew when a column goes elsewhere."""
        if self.work is not None:
            self.work = replace(self.work, lists=self.columns.lists, choices={})
            self._try()

    def _try(self) -> None:
        work = self.work
        self.plan = None
        if work is None or self.long.running:
            return
        self.long.run(
            "Trying the rows",
            lambda tell: dry_run(self.front.shift, work, tell),
            lambda plan: self._tried(work, plan),
            lambda: self._not_tried(work),
        )

    def _tried(self, work: Work, plan: Plan) -> None:
        if work is not self.work:
            self._try()
            return
        self.plan = plan
        self.front.notices.clear()
        self._show_rows()

    def _not_tried(self, work: Work) -> None:
        """Show that there is no plan, or try what was changed meanwhile."""
        if work is not self.work:
            self._try()
        else:
            self._show_rows()

    def _only(self) -> None:
        self._only_told = not self._only_told
        self._show_rows()

    def _show_rows(self) -> None:
        plan = self.plan
        if plan is None or self.work is None:
            self.rows.show([])
            self._picked()
            return
        shown = [
            (place, row)
            for place, row in enumerate(plan.rows)
            if not self._only_told or row.problems or row.is_known or row.remarks
        ]
        self.rows.show([_listed(place, row) for place, row in shown[:MOST_SHOWN]])
        self.rows.say_empty(
            "Nothing in these lists needs a look." if plan.rows else "No list is chosen yet."
        )
        more = (
            f" The first {MOST_SHOWN} of {len(shown):,} rows are shown."
            if len(shown) > MOST_SHOWN
            else ""
        )
        self._picked()
        read = ". ".join(_read_as(listing) for listing, _ in self.work.lists)
        self._told.configure(text=f"{read}. {plan.words}.{more}")

    def _picked(self) -> None:
        """Say the chosen row whole, whatever there is room for in the list."""
        place = self.rows.selected
        row = self.plan.rows[place] if self.plan is not None and place is not None else None
        self._row_words.configure(text=_whole(row) if row is not None else "")

    def _decide(self, place: int) -> None:
        """Ask what becomes of a row whose owner may be there already."""
        plan, work = self.plan, self.work
        if plan is None or work is None:
            return
        row = plan.rows[place]
        if not row.is_known:
            self.front.notices.say("Nobody there is like this owner: there is nothing to choose.")
            return
        ways = [Will.ADD, Will.NEW, Will.SKIP]
        answer = self.front.dialogs.choose(
            f"{row.title}, line {row.line}",
            f"There is already {row.may_be}.",
            ("Add to them", "Somebody else: write down anew", "Leave this row out"),
        )
        if answer is not None:
            self.work = replace(work, choices={**work.choices, place: ways[answer]})
            self._try()

    def _bring_in(self) -> None:
        plan, work = self.plan, self.work
        if plan is None or work is None:
            self.front.notices.trouble("Choose a list first (Alt+C), and wait until it is tried.")
            return
        if not plan.stops and not self.front.dialogs.confirm(
            "Bring them in", f"{plan.words}. Bring them in?", "Bring in", "Not yet"
        ):
            return
        shift = self.front.shift
        self.long.run("Bringing in", lambda tell: bring_in(shift, work, plan, tell), self._brought)

    def _brought(self, one: Brought) -> None:
        self.throw_away()
        self._told.configure(text=f"Brought in as list {one.id}: {one.words}.")
        self.front.notices.say(f"Brought in: {one.words}. Alt+Z takes it back.")

    def _take_back(self) -> None:
        shift = self.front.shift
        there = [one for one in imports(shift) if one.taken_back_at is None][:8]
        if not there:
            self.front.notices.trouble("No list was brought in that could be taken back.")
            return
        zone = shift.shop.zone
        words = [f"{show_moment(one.done_at, zone)}: {one.files}, {one.words}" for one in there]
        at = self.front.dialogs.choose(
            "Take a list back",
            "Its owners and machines are taken away again, while nothing hangs on them.",
            words,
        )
        if at is None:
            return
        run = there[at].id
        self.long.run(
            "Taking back",
            lambda tell: take_back(shift, run, tell),
            lambda one: self.front.notices.say(f"Taken back: {one.files}, {one.words}."),
        )

    def _export(self) -> None:
        shift = self.front.shift
        name = f"everything {shift.today.isoformat()}.zip"
        file = self.front.papers.folder / "shop" / name
        self.long.run("Writing all out", lambda tell: export_all(shift, file, tell), self._exported)

    def _exported(self, done: Exported) -> None:
        self.front.notices.say(f"All that the shop keeps, {done.rows:,} rows: {done.place}")


def _read_as(listing: Listing) -> str:
    return f"{listing.name}: {len(listing.rows):,} rows, {listing.read_as}"


def _listed(place: int, row: PlannedRow) -> tuple[int, tuple[str, ...], str]:
    look = [f"{one.heading}: {one.sentence}" for one in row.problems] + [*row.remarks]
    if row.stops:
        tag = "trouble"
    else:
        tag = "faint" if row.owner is Will.SKIP and row.machine is not Will.NEW else ""
    cells = (str(row.line), row.title, row.owner_words, row.machine_words, "; ".join(look))
    return place, cells, tag


def _whole(row: PlannedRow) -> str:
    wrong = (one.sentence for one in row.problems if row.entry is not None)
    parts = (row.owner_words, row.machine_words, *row.remarks, *wrong)
    return f"Line {row.line}, {row.title}: {'; '.join(filter(None, parts)).rstrip('.')}."
