"""The way back together: each step in its order, ticked with its fasteners and its setting."""

import tkinter as tk

import ttkbootstrap as ttk

from shopdesk.desk import look
from shopdesk.desk.diagnosis_cautions import CautionLines
from shopdesk.desk.fields import Value
from shopdesk.desk.flow import Flow
from shopdesk.desk.forms import Form, wrapping
from shopdesk.desk.keys import action_button
from shopdesk.desk.line_held import hold
from shopdesk.desk.page import Page
from shopdesk.desk.rows import Column, RowList
from shopdesk.job.teardown import explain_left_over, tick_step, untick_step
from shopdesk.job.views import ReassemblyStepView, TicketView


class WayBack(ttk.Frame):
    """The reassembly list of a ``page``'s ticket; Space ticks a step, or asks what goes with it."""

    def __init__(self, parent: tk.Misc, page: Page) -> None:
        super().__init__(parent)
        self._page = page
        self._steps: dict[int, ReassemblyStepView] = {}
        self.list = RowList(
            self,
            [Column("Back?", 76), Column("What goes back", 250, grows=True), Column("Set", 90)],
            lines=7,
            empty="Nothing is taken apart: what is noted at the left goes back here.",
        )
        self.list.pack(fill="x")
        self.list.on_select = self._tell
        self.list.bind_key("<space>", lambda _key: self.tick())
        self.list.bind_key(("<Return>", "<KP_Enter>"), lambda _key: self.count())
        self._put_actions()
        self.cautions = CautionLines(self)
        self.cautions.pack(fill="x", pady=(4, 0))
        self._title = wrapping(ttk.Label(self, font=look.STRONG))
        self._title.pack(fill="x", pady=(4, 0))
        self._words = wrapping(ttk.Label(self))
        self._words.pack(fill="x")
        self._put_form()

    @property
    def words(self) -> str:
        """What is said of the chosen step."""
        return f"{self._title.cget('text')}\n{self._words.cget('text')}"

    @property
    def chosen(self) -> ReassemblyStepView | None:
        """The step that is marked."""
        return self._steps.get(self.list.selected or 0)

    def show(self, ticket: TicketView) -> None:
        """Show a ticket's way back."""
        self._steps = {step.step_id: step for step in ticket.reassembly}
        self.form.fill({})
        self.list.show([(step.step_id, _cells(step), _tag(step)) for step in ticket.reassembly])
        self._tell()

    def begin(self) -> None:
        """Go to the first step that is not back yet."""
        waiting = [key for key, step in self._steps.items() if not step.done]
        if waiting:
            self.list.select(waiting[0])
        self.list.focus_list()

    def tick(self) -> None:
        """Tick the chosen step as back or off again; with something to count or set, ask first."""
        step = self._needed()
        if step is None:
            return
        if step.done:
            self._take_tick_off(step)
        else:
            self.count()

    def count(self) -> None:
        """Go to what is counted or set at the chosen step, again if need be; else tick it."""
        step = self._needed()
        if step is None:
            return
        if step.fasteners or step.setting:
            self._focus_on("fasteners_back" if step.fasteners else "setting")
        elif not step.done:
            self.record()

    def record(self) -> bool:
        """Tick the chosen step with what is typed, and go on to the next."""
        step, form = self._needed(), self.form
        if step is None:
            return False
        back, setting = form.text_of("fasteners_back"), form.text_of("setting")
        done = self._page.attempt(
            lambda: tick_step(self._page.front.shift, step.step_id, back, setting),
            form,
            said=f"Step {step.number} is back.",
            empty=True,
        )
        if done:
            self._go_on_from(self._steps[step.step_id])
        return done

    def _go_on_from(self, step: ReassemblyStepView) -> None:
        """Go to the next step; where something is left over stay, for counting again."""
        if not step.left_over or step.explained:
            self.begin()
            return
        self._page.front.notices.trouble(
            f"Left over at {step.left_over}: count again, or explain it (Alt+E)."
        )
        self.list.select(step.step_id)
        self.count()

    def _focus_on(self, name: str) -> None:
        self.form[name].focus_input()
        self.form[name].input.event_generate("<<SelectAll>>")

    def _take_tick_off(self, step: ReassemblyStepView) -> None:
        front = self._page.front
        question = (
            f"Take the tick off step {step.number}, {step.words}? "
            "What was counted and set at it goes with the tick."
        )
        if (step.back or step.entered) and not front.dialogs.confirm(
            "Off again", question, "Take it off", "Leave it"
        ):
            return
        self._page.attempt(
            lambda: untick_step(front.shift, step.step_id),
            said=f"Step {step.number} is not back: its tick is off.",
        )

    def resume(self) -> None:
        """Choose the step again that something was typed for."""
        step = self.form.text_of("step")
        if step and int(step) in self._steps:
            self.list.select(int(step))
            self._tell()

    def _put_actions(self) -> None:
        line = Flow(self)
        line.pack(fill="x", pady=(4, 0))
        keys = self._page.front.keys
        action_button(line, keys, "Way back", "Alt+G", self.begin).pack(side="left")
        tick = action_button(line, keys, "Tick, or off again  Space", "", self.tick)
        tick.pack(side="left", padx=8)
        action_button(line, keys, "Explain …", "Alt+E", self._explain).pack(side="left")

    def _put_form(self) -> None:
        self.form = form = Form(self, columns=2)
        form.line("fasteners_back", "Fasteners put back", "by kind: 2, 1")
        form.line("setting", "Set to", "Enter ticks it")
        hold(form, "step")
        form.submit_with(self.record, "setting")
        form["fasteners_back"].on_enter = self._counted
        for name in ("fasteners_back", "setting"):
            form[name].watch(self._typed)
        form.pack(fill="x", pady=(6, 0))

    def _counted(self) -> None:
        """Go from the count to what is to be set, or tick where nothing is."""
        step = self.chosen
        if step is not None and step.setting and not self.form.text_of("setting"):
            self.form["setting"].focus_input()
        else:
            self.record()

    def _typed(self) -> None:
        chosen = self.chosen
        typed = self.form.text_of("fasteners_back") or self.form.text_of("setting")
        self.form["step"].set(str(chosen.step_id) if chosen and typed else "")

    def _explain(self) -> None:
        step, front = self._needed(), self._page.front
        if step is None:
            return
        question = (
            f"{step.left_over or step.words}: why may it stay so? Empty takes the reason back."
        )
        why = front.dialogs.ask_text("Explain", question, step.explained)
        if why is not None:
            self._page.attempt(
                lambda: explain_left_over(front.shift, step.step_id, why), said="Noted."
            )

    def _needed(self) -> ReassemblyStepView | None:
        if self.chosen is None:
            self._page.front.notices.trouble("Choose a step of the way back first.")
            self.list.focus_list()
        return self.chosen

    def _tell(self) -> None:
        step = self.chosen
        self.cautions.show(step.cautions if step else ())
        self._title.configure(text=step.words if step else "")
        self._words.configure(text=step_words(step) if step else "")
        if not self.form.changed:
            self.form.fill(as_entered(step) if step else {})


def as_entered(step: ReassemblyStepView) -> dict[str, Value]:
    """Return what was counted and set at a step, as it would be typed."""
    return {"fasteners_back": ", ".join(map(str, step.back)), "setting": step.entered}


def step_words(step: ReassemblyStepView) -> str:
    """Return what goes with a step of the way back, one thing a line."""
    limit = f", {step.limit}" if step.limit else ""
    lines = [
        f"Before it: {'; '.join(step.waits_for)}." if step.waits_for else "",
        *step.care,
        f"To count back: {'; '.join(step.fasteners)}." if step.fasteners else "",
        f"To be set: {step.setting}{limit}." if step.setting else "",
        step.says,
        f"Left over: {step.left_over}." if step.left_over and step.done else "",
        f"Explained: {step.explained}" if step.explained else "",
    ]
    return "\n".join(filter(None, lines))


def _cells(step: ReassemblyStepView) -> tuple[str, str, str]:
    wrong = step.left_over and not step.explained
    state = ("look again" if wrong else "back") if step.done else "off"
    entered = " ".join(filter(None, (step.entered, step.verdict)))
    return state, f"{step.number}  {step.words}", entered


def _tag(step: ReassemblyStepView) -> str:
    if step.done:
        return "trouble" if step.left_over and not step.explained else "faint"
    return ""
