"""The Teardown page: what came off at the left, the way back together at the right."""

import ttkbootstrap as ttk

from shopdesk.desk import look
from shopdesk.desk.columns import two_columns
from shopdesk.desk.diagnosis_cautions import CautionLines, standing_line
from shopdesk.desk.flow import Flow
from shopdesk.desk.forms import section, wrapping
from shopdesk.desk.keys import action_button
from shopdesk.desk.page import Draft, Page
from shopdesk.desk.photo_strip import PhotoStrip
from shopdesk.desk.rows import Column, RowList
from shopdesk.desk.teardown_back import WayBack
from shopdesk.desk.teardown_form import StepForm
from shopdesk.job.stages import Stage
from shopdesk.job.teardown import drop_step
from shopdesk.job.views import TeardownStepView, TicketView


class TeardownPage(Page):
    """The log of what came off, turned round into the list that puts it back."""

    title = "Teardown"
    stages = ()

    def build(self) -> None:
        """Put the log at the left, the way back at the right."""
        self._steps: dict[int, TeardownStepView] = {}
        left, right = two_columns(self.body)
        head = ttk.Frame(left)
        head.pack(fill="x")
        section(head, "Taken apart", top=0).pack_configure(side="left")
        sheet = action_button(head, self.front.keys, "Bench sheet", "Ctrl+P", self._print)
        sheet.pack(side="right", padx=(0, 12))
        self.entry = StepForm(left, self)
        self.entry.pack(fill="x")
        self.keep_typed("step", self.entry.form)
        self._put_log(left)
        section(right, "Back together, in this order", top=0)
        standing_line(right).pack(fill="x", pady=(0, 4))
        self.back = WayBack(right, self)
        self.back.pack(fill="x")
        self.keep_typed("back", self.back.form)

    def refresh(self) -> None:
        """Show the ticket's teardown and its way back."""
        ticket = self.ticket
        self._steps = {step.id: step for step in ticket.teardown}
        self.entry.offer(ticket)
        self.log.show([(step.id, _cells(step)) for step in ticket.teardown])
        self._tell()
        self.back.show(ticket)

    def show(self, ticket: TicketView, draft: Draft | None = None) -> None:
        """Show a ticket, and what something was typed for."""
        super().show(ticket, draft)
        self.entry.show_mode()
        self.back.resume()

    def focus_first(self) -> None:
        """Begin with what comes off; once something went back, with what still has to."""
        if self.ticket.stage is Stage.REPAIR and any(step.done for step in self.ticket.reassembly):
            self.back.begin()
        else:
            self.entry.form.focus_first()

    def save(self) -> bool:
        """Keep the step that is typed, and the tick."""
        if self.entry.form.changed and not self.entry.keep():
            return False
        return not self.back.form.changed or self.back.record()

    @property
    def chosen(self) -> TeardownStepView | None:
        """The step of the log that is marked."""
        return self._steps.get(self.log.selected or 0)

    @property
    def told(self) -> str:
        """What is said of the chosen step."""
        return str(self._words.cget("text"))

    def _put_log(self, parent: ttk.Frame) -> None:
        self.log = RowList(
            parent,
            [
                Column("Step", 44, right=True),
                Column("Came off", 150, grows=True),
                Column("Fasteners", 150, grows=True),
                Column("Photos", 56, right=True),
            ],
            lines=5,
            empty="Nothing is noted yet: type above what came off, then Enter.",
        )
        self.log.pack(fill="x", pady=(8, 0))
        self.log.on_select = self._tell
        self.log.on_open(lambda _key: self._change())
        self.log.bind_key("<Delete>", lambda _key: self._drop())
        line = Flow(parent)
        line.pack(fill="x", pady=(4, 0))
        for words, key, run in (
            ("Log", "Alt+L", self.log.focus_list),
            ("Change", "F2", self._change),
            ("Drop …", "Alt+D", self._drop),
        ):
            action_button(line, self.front.keys, words, key, run).pack(side="left", padx=(0, 8))
        self.cautions = CautionLines(parent)
        self.cautions.pack(fill="x", pady=(4, 0))
        self._words = wrapping(ttk.Label(parent, font=look.SMALL))
        self._words.pack(fill="x")
        self.photos = PhotoStrip(parent, self)
        self.photos.pack(fill="x", pady=(4, 0))

    def _tell(self) -> None:
        step = self.chosen
        self.cautions.show(step.cautions if step else ())
        self._words.configure(text=came_off_words(step) if step else "")
        if step is None:
            self.photos.show_loose()
        else:
            self.photos.show_step(step)

    def _change(self) -> None:
        step = self._needed()
        if step is not None:
            self.entry.change(step)

    def _drop(self) -> None:
        step = self._needed()
        if step is None:
            return
        why = self.front.dialogs.ask_text(
            "Drop a step", f"Why is step {step.number}, {step.off}, taken out of the log?"
        )
        if why is not None:
            said = "The step is out of the log; the journal keeps it."
            self.attempt(lambda: drop_step(self.front.shift, step.id, why), said=said)

    def _print(self) -> None:
        if self.save():
            self.front.papers.bench_sheet(self.ticket)

    def _needed(self) -> TeardownStepView | None:
        if self.chosen is None:
            self.front.notices.trouble("Choose a step of the log first.")
            self.log.focus_list()
        return self.chosen


def came_off_words(step: TeardownStepView) -> str:
    """Return all that was noted of a step."""
    setting = ", ".join(filter(None, (step.setting, step.setting_limit)))
    lines = [
        f"Fasteners: {'; '.join(step.fasteners)}." if step.fasteners else "",
        f"Mark: {step.mark}" if step.mark else "",
        f"Ran: {step.routing}" if step.routing else "",
        f"To be set: {setting}" if setting else "",
        f"After: {step.after}" if step.after else "",
    ]
    return "   ".join(filter(None, lines))


def _cells(step: TeardownStepView) -> tuple[str, str, str, str]:
    part_of = f"{step.sub_assembly}: " if step.sub_assembly else ""
    photos = str(len(step.photos)) if step.photos else ""
    return str(step.number), f"{part_of}{step.off}", "; ".join(step.fasteners), photos
