"""The Repair page: the work ticked off, the settings left, the readings again beside the first."""

import tkinter as tk

import ttkbootstrap as ttk

from shopdesk.bench.checks import Check
from shopdesk.desk import look
from shopdesk.desk.causes_found import CauseFound
from shopdesk.desk.diagnosis_cautions import standing_line
from shopdesk.desk.diagnosis_changing import FindingActions
from shopdesk.desk.diagnosis_findings import FindingList, first_read, last_read
from shopdesk.desk.diagnosis_observation import ObservationForm
from shopdesk.desk.diagnosis_pad import CheckPad
from shopdesk.desk.flow import Flow
from shopdesk.desk.forms import Form, section
from shopdesk.desk.keys import action_button
from shopdesk.desk.labour.clock_list import TimeList
from shopdesk.desk.page import Draft, Page
from shopdesk.desk.repair_work import WorkList
from shopdesk.desk.teardown_strip import TeardownStrip
from shopdesk.job.diagnosis import checks_for, proof_checks_for, say_no_proof, setting_checks_for
from shopdesk.job.ranking import ranking
from shopdesk.job.stages import Stage
from shopdesk.job.standing import DIAGNOSIS, PROOF, SETTING
from shopdesk.job.views import FindingView, TicketView

_PHASES = (
    (PROOF, "The proof run", "Alt+P"),
    (SETTING, "A setting left", "Alt+S"),
    (DIAGNOSIS, "Found at the work", "Alt+F"),
)


class RepairPage(Page):
    """What to do, then what was set, tried and found; one pad serves all three."""

    title = "Repair"
    stages = (Stage.REPAIR,)

    def build(self) -> None:
        """Put the page together from top to bottom."""
        section(self.body, "Work to do", top=0)
        self.work = WorkList(self.body, self)
        self.work.pack(fill="x")
        self.teardown = TeardownStrip(self.body)
        self.teardown.pack(fill="x", pady=(6, 0))
        section(self.body, "Settings and proof run")
        standing_line(self.body).pack(fill="x", pady=(0, 4))
        self._put_phases()
        self.pad = CheckPad(self.body, self, PROOF)
        self.pad.pack(fill="x")
        self.keep_typed("pad", self.pad.form)
        self.findings = FindingList(self.body, lines=6, after=True)
        self.findings.pack(fill="x", pady=(8, 0))
        FindingActions(self.body, self, self.findings, self._correct).pack(fill="x", pady=(4, 0))
        self.found = CauseFound(self.body, self)
        self.found.pack(fill="x", pady=(8, 0))
        self.keep_typed("cause", self.found.form)
        section(self.body, "A note on the work, or something no check is listed for")
        self.observation = ObservationForm(self.body, self, PROOF)
        self.observation.pack(fill="x")
        self.keep_typed("observation", self.observation)
        self._put_reason()
        self._put_time()

    def refresh(self) -> None:
        """Show the ticket's work and what was recorded of it."""
        ticket = self.ticket
        self.work.show(ticket, self.front.shift.today)
        self.teardown.show(ticket)
        self.found.show(ranking(self.front.shift, ticket.id).causes)
        self.pad.form.fill({})
        self.observation.fill({})
        self._offer()
        self.findings.show(ticket.findings, self.front.shift.shop.zone)
        self.reason.fill({"proof_reason": ticket.proof_reason})
        self.time.show(ticket, self.front.shift.shop)

    def show(self, ticket: TicketView, draft: Draft | None = None) -> None:
        """Show a ticket, and the check again that something was typed for."""
        super().show(ticket, draft)
        self.time.show_mode()
        typed_for = self.pad.form.text_of("phase")
        if typed_for and typed_for != self._phase.get():
            self._turn_to(typed_for)
        else:
            self.pad.resume()

    def focus_first(self) -> None:
        """Begin at the work while some is left, else at the proof run."""
        if any(not line.done for line in self.work.shown):
            self.work.list.focus_list()
        else:
            self.pad.chooser.focus_box()

    def save(self) -> bool:
        """Keep what is typed for a check, beside the checks, and as the reason for no proof run."""
        if self.pad.form.changed and not self.pad.record():
            return False
        if self.found.form.changed and not self.found.say():
            return False
        if self.observation.changed and not self.observation.record():
            return False
        if self.time.form.changed and not self.time.keep():
            return False
        return not self.reason.changed or self._say_no_proof()

    @property
    def phase(self) -> str:
        """What is recorded now: the proof run, a setting left, or what was found at the work."""
        return self._phase.get()

    def _put_phases(self) -> None:
        self._phase = tk.StringVar(self, PROOF)
        line = Flow(self.body)
        line.pack(fill="x", pady=(0, 6))
        ttk.Label(line, text="What is recorded is", font=look.SMALL).pack(side="left", padx=(0, 10))
        for phase, words, key in _PHASES:
            button = ttk.Radiobutton(
                line,
                text=f"{words}  {key}",
                variable=self._phase,
                value=phase,
                command=lambda phase=phase: self._turn_to(phase),
            )
            button.pack(side="left", padx=(0, 18))
            self.front.keys.add(button, key, f"Record: {words.lower()}", button.invoke)

    def _put_reason(self) -> None:
        section(self.body, "No proof run, or one that failed")
        self.reason = form = Form(self.body, columns=8)
        form.line(
            "proof_reason", "Why the machine goes all the same", "empty takes it back", span=6
        )
        form.pack(fill="x")
        form.submit_with(self._say_no_proof)
        button = action_button(form, self.front.keys, "Note why", "Alt+N", self._say_no_proof)
        button.grid(row=0, column=6, columnspan=2, sticky="sw", pady=(0, 6))
        self.keep_typed("proof_reason", form)

    def _put_time(self) -> None:
        section(self.body, "Time at the bench")
        self.time = TimeList(self.body, self)
        self.time.pack(fill="x")
        self.keep_typed("time", self.time.form)

    def _turn_to(self, phase: str) -> None:
        self._phase.set(phase)
        self._offer()
        self.pad.resume()

    def _offer(self) -> None:
        phase, ticket = self._phase.get(), self.ticket
        self.pad.phase = self.observation.phase = phase
        mine = [one for one in ticket.findings if one.phase == phase]
        if phase == PROOF:
            self.pad.offer(_checks(phase, ticket), first_read(ticket.findings), "Before")
        else:
            self.pad.offer(_checks(phase, ticket), last_read(mine))

    def _correct(self, finding: FindingView) -> None:
        self._turn_to(finding.phase)
        (self.pad if finding.check_key else self.observation).correct(finding)

    def _say_no_proof(self) -> bool:
        """Note the reason, or take it back where it was emptied; nothing typed notes nothing."""
        why = self.reason.text_of("proof_reason")
        if not why.strip() and not self.ticket.proof_reason:
            self.ask_for(
                self.reason,
                "proof_reason",
                "Type why the machine goes without a proof run that passed, then Alt+N.",
            )
            return False
        return self.attempt(
            lambda: say_no_proof(self.front.shift, self.ticket.id, why),
            self.reason,
            said="Noted." if why.strip() else "The reason is taken back.",
        )


def _checks(phase: str, ticket: TicketView) -> tuple[Check, ...]:
    if phase == PROOF:
        return proof_checks_for(ticket)
    return setting_checks_for(ticket.unit) if phase == SETTING else checks_for(ticket.unit)
