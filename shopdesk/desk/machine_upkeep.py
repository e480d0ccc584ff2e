"""A machine's upkeep plan on its card: what is due when and why, and what was done meanwhile."""

import tkinter as tk
from collections.abc import Callable

import ttkbootstrap as ttk

from shopdesk.dates import show_date
from shopdesk.desk.fields import wrapping
from shopdesk.desk.flow import Flow
from shopdesk.desk.front import Front
from shopdesk.desk.keys import action_button
from shopdesk.desk.rows import Column, RowList
from shopdesk.errors import JobError
from shopdesk.job.meter import MeterBackwardsError, read_meter
from shopdesk.job.own_intervals import (
    IntervalEntry,
    drop_interval,
    intervals_of_unit,
    set_model_interval,
    set_unit_interval,
)
from shopdesk.job.upkeep_done import DOERS, DoneEntry, say_done, take_back_done
from shopdesk.job.upkeep_plan import PlanRow, PlanView, upkeep_plan
from shopdesk.job.views import UnitView

_LONGEST = 60


class MachineUpkeep(ttk.Frame):
    """The plan as a list with its reasons; ``changed`` is told when the machine was changed."""

    def __init__(self, parent: tk.Misc, front: Front, changed: Callable[[], object]) -> None:
        super().__init__(parent)
        self._front = front
        self._changed = changed
        self._unit: UnitView | None = None
        self._plan: PlanView | None = None
        self._use = wrapping(ttk.Label(self))
        self._use.pack(fill="x")
        self.list = RowList(
            self,
            [
                Column("Due", 105),
                Column("Upkeep", 210, grows=True),
                Column("Why then", 260, grows=True),
                Column("Last done", 150),
            ],
            lines=6,
            empty="No upkeep is known for this kind of machine.",
        )
        self.list.pack(fill="x", pady=(4, 0))
        self.list.on_select = self._show_row
        self.list.on_open(lambda _row: self._say_done())
        self._about = wrapping(ttk.Label(self, bootstyle="secondary"))
        self._about.pack(fill="x", pady=(2, 4))
        line = Flow(self)
        line.pack(fill="x")
        for words, key, run in (
            ("It was done …", "Alt+D", self._say_done),
            ("How often …", "Alt+E", self._set_interval),
            ("It was not done …", "Alt+K", self._take_back),
            ("Hour meter …", "Alt+U", self._read_meter),
        ):
            action_button(line, front.keys, words, key, run).pack(side="left", padx=(0, 8))

    def show(self, unit: UnitView) -> None:
        """Show a machine's plan as of today."""
        self._unit = unit
        self._plan = plan = upkeep_plan(self._front.shift, unit.id)
        self._use.configure(text=plan.use)
        rows = enumerate(plan.rows)
        self.list.show([(place, _cells(row), _tag(row, plan)) for place, row in rows])
        self._show_row()

    @property
    def about(self) -> str:
        """What is said of the chosen task."""
        return str(self._about.cget("text"))

    def _row(self) -> PlanRow | None:
        if self._plan is None or not self._plan.rows:
            self._front.notices.trouble("No upkeep is known for this kind of machine.")
            return None
        return self._plan.rows[self.list.selected or 0]

    def _show_row(self) -> None:
        if self._plan is None or not self._plan.rows:
            self._about.configure(text="")
            return
        row = self._plan.rows[self.list.selected or 0]
        who = "The owner can do this alone." if row.owner_can else "Better left to us."
        self._about.configure(
            text=f"{row.why} {who} Why then: {row.because}. "
            f"How often: {row.every} ({row.every_from})."
        )

    def _say_done(self) -> None:
        row, front = self._row(), self._front
        if row is None:
            return
        who = front.dialogs.choose(row.title[:_LONGEST], "Who did it?", DOERS)
        if who is None:
            return
        day = front.dialogs.ask_text(row.title[:_LONGEST], "On which day was it done?", "today")
        if day is not None:
            entry = DoneEntry(row.task_key, day, DOERS[who])
            self._attempt(lambda unit: say_done(front.shift, unit.id, entry), "It counts as done.")

    def _take_back(self) -> None:
        row, front = self._row(), self._front
        if row is None:
            return
        said = row.said_id
        if said is None:
            front.notices.trouble(
                "Nobody said that this was done: what a repair of ours did stands on its ticket."
            )
            return
        why = front.dialogs.ask_text(row.title[:_LONGEST], "Why does it not count?", "")
        if why is not None:
            self._attempt(lambda _unit: take_back_done(front.shift, said, why), "Taken back.")

    def _set_interval(self) -> None:
        row, front, unit = self._row(), self._front, self._unit
        if row is None or unit is None:
            return
        whose = ["this machine alone", *([f"all {unit.make} {unit.model}"] if unit.model else [])]
        kept = intervals_of_unit(front.shift, unit.id)
        own = [one.id for one in kept if one.task_key == row.task_key]
        back = ["as it was before we wrote our own"] if own else []
        place = front.dialogs.choose(row.title[:_LONGEST], "For which?", [*whose, *back])
        if place is None:
            return
        if place == len(whose):
            self._attempt(lambda _unit: drop_interval(front.shift, own[0]), "It is as before.")
            return
        every = front.dialogs.ask_text(
            row.title[:_LONGEST],
            "How often? As 25 h, 12 months, 25 h or 12 months, never",
            row.every,
        )
        source = every and front.dialogs.ask_text(
            row.title[:_LONGEST], "Who says so? (the maker's manual, sawdust …)", ""
        )
        if every and source is not None:
            self._keep_interval(
                unit, IntervalEntry(row.task_key, every, source), of_unit=place == 0
            )

    def _keep_interval(self, unit: UnitView, entry: IntervalEntry, *, of_unit: bool) -> None:
        shift = self._front.shift
        if of_unit:
            self._attempt(lambda _unit: set_unit_interval(shift, unit.id, entry), "Kept.")
        else:
            self._attempt(
                lambda _unit: set_model_interval(shift, unit.make, unit.model, entry), "Kept."
            )

    def _read_meter(self) -> None:
        front, unit = self._front, self._unit
        hours = front.dialogs.ask_text("Hour meter", "What does the hour meter read?", "")
        if not hours or unit is None:
            return
        try:
            read_meter(front.shift, unit.id, hours)
        except MeterBackwardsError as error:
            if not front.dialogs.confirm("Hour meter", f"{error.sentence} Is it a new meter?"):
                return
            self._attempt(
                lambda unit: read_meter(front.shift, unit.id, hours, new_meter=True),
                "The reading of the new meter is kept.",
            )
        except JobError as error:
            front.notices.trouble(error.sentence)
        else:
            self._changed()
            front.notices.say("The reading is kept.")

    def _attempt(self, job: Callable[[UnitView], object], said: str) -> None:
        assert self._unit is not None
        try:
            job(self._unit)
        except JobError as error:
            self._front.notices.trouble(error.sentence)
            return
        self._changed()
        self._front.notices.say(said)


def _cells(row: PlanRow) -> tuple[str, ...]:
    due = show_date(row.due_on)[4:] if row.due_on else "no day"
    done = f"{show_date(row.done_on)[4:]}, {row.done_words}" if row.done_on else row.done_words
    return due, row.title, row.because, done


def _tag(row: PlanRow, plan: PlanView) -> str:
    if row.due_on is None:
        return "faint"
    return "strong" if row.due_on <= plan.on else ""
