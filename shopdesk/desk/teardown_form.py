"""Noting what came off: its fasteners, its mark, how it ran, and what is set going back."""

import tkinter as tk

import ttkbootstrap as ttk

from shopdesk.desk.diagnosis_cautions import CautionLines
from shopdesk.desk.forms import Form
from shopdesk.desk.keys import action_button
from shopdesk.desk.line_held import hold
from shopdesk.desk.page import Page
from shopdesk.job.diagnosis import setting_checks_for
from shopdesk.job.reference import cautions
from shopdesk.job.teardown import StepEntry, as_entry, cautions_for, change_step, note_step
from shopdesk.job.views import TeardownStepView, TicketView


class StepForm(ttk.Frame):
    """Notes a step for the ``page``'s ticket, or puts one right; Enter does it."""

    def __init__(self, parent: tk.Misc, page: Page) -> None:
        super().__init__(parent)
        self._page = page
        self.form = form = Form(self, columns=6)
        off = form.line("off", "What came off  Alt+N", "Enter notes it", span=4)
        self.cautions = CautionLines(off)
        self.cautions.grid(row=3, column=0, sticky="ew")
        off.watch(self._beware)
        self._parts = form.choice("sub_assembly", "Belongs to", [], span=2, free=True)
        form.text(
            "fasteners",
            "Fasteners",
            "one kind a line:  2 M5 x 20 T27 in cup 3",
            lines=2,
            span=6,
        )
        form.line("mark", "Mark, or which way round", span=3)
        form.line("routing", "How hose or wire ran", span=3)
        self._settings = form.choice("setting", "To be set going back", [], span=2, free=True)
        form.line("setting_limit", "Its limit", "as 12 ± 1 N·m", span=2)
        form.line("after", "After step", "or the last", span=2)
        form.choice("caution", "Beware of", caution_choices(), span=4)
        self._put_buttons()
        hold(form, "step", "more_cautions")
        form.submit_with(self.keep)
        form.pack(fill="x")
        page.front.keys.add(self, "Alt+N", "Note what came off", form.focus_first)

    def offer(self, ticket: TicketView) -> None:
        """Empty the form, and offer the sub-assemblies named so far and the machine's settings."""
        named = dict.fromkeys(step.sub_assembly for step in ticket.teardown if step.sub_assembly)
        self._parts.offer(list(named))
        self._settings.offer([check.title for check in setting_checks_for(ticket.unit)])
        self.form.fill({})

    def change(self, step: TeardownStepView) -> None:
        """Put a step into the form, for putting right."""
        entry = as_entry(step)
        first, *more = entry.cautions or ("",)
        self.form.fill({})
        self.form.restore(
            {
                "step": str(step.id),
                "off": entry.off,
                "sub_assembly": entry.sub_assembly,
                "fasteners": entry.fasteners,
                "mark": entry.mark,
                "routing": entry.routing,
                "setting": entry.setting,
                "setting_limit": entry.setting_limit,
                "caution": first,
                "more_cautions": " ".join(more),
                "after": entry.after,
            }
        )
        self.show_mode()
        self.form.focus_first()

    def keep(self) -> bool:
        """Note what is typed, or keep the change, and be ready for the next step."""
        form, shift, ticket_id = self.form, self._page.front.shift, self._page.ticket.id
        step = form.text_of("step")
        said = "The step is put right." if step else f"{form.text_of('off').strip()} is noted."

        def kept() -> TicketView:
            if step:
                return change_step(shift, int(step), self._entry())
            return note_step(shift, ticket_id, self._entry())

        done = self._page.attempt(kept, form, said=said, empty=True)
        if done:
            self.show_mode()
            form.focus_first()
        return done

    def leave(self) -> None:
        """Forget the change; the step stays as it is."""
        self.form.fill({})
        self.show_mode()
        self.form.focus_first()

    def show_mode(self) -> None:
        """Say whether a step is noted or put right, and what to beware of at it."""
        self._beware()
        changing = bool(self.form.text_of("step"))
        self._button.configure(text=f"{'Put it right' if changing else 'Note it'}  Enter")
        if changing:
            self._leave.pack(anchor="w")
        else:
            self._leave.pack_forget()

    def _beware(self) -> None:
        self.cautions.show(cautions_for(self.form.text_of("off")))

    def _put_buttons(self) -> None:
        keys = self._page.front.keys
        self._button = action_button(self.form, keys, "Note it  Enter", "", self.keep, main=True)
        self._button.grid(row=4, column=4, columnspan=2, sticky="sw", pady=(0, 6))
        self._leave = action_button(self, keys, "Leave it as it was", "Esc", self.leave)

    def _entry(self) -> StepEntry:
        chosen = [self.form.text_of("caution"), *self.form.text_of("more_cautions").split()]
        return self.form.into(StepEntry, cautions=tuple(filter(None, chosen)))


def caution_choices() -> list[tuple[str, str]]:
    """Return what there is to beware of at a step: (key, words)."""
    known = cautions()
    named = (one for one in known.by_key.values() if one.key != known.standing.key)
    return [("", ""), *((caution.key, caution.words) for caution in named)]
