"""Something seen or set that no check is listed for, with the mechanic's own verdict."""

import tkinter as tk

from shopdesk.bench.checks import System
from shopdesk.desk.forms import Form
from shopdesk.desk.keys import action_button
from shopdesk.desk.line_held import hold
from shopdesk.desk.page import Page
from shopdesk.job.diagnosis import VERDICTS, correct_finding, record_observation
from shopdesk.job.views import FindingView, TicketView


class ObservationForm(Form):
    """One row to fill in; Enter records it. ``phase`` as in the job's findings."""

    def __init__(self, parent: tk.Misc, page: Page, phase: str) -> None:
        super().__init__(parent, columns=10)
        self._page = page
        self.phase = phase
        self.line("title", "What was looked at", span=3)
        self.line("reading", "What was found", span=3)
        self.choice("verdict", "Verdict", VERDICTS, span=2)
        self.choice("system", "System", [str(system) for system in System], span=2, free=True)
        self.line("note", "Note", span=6)
        self._button = action_button(
            self, page.front.keys, "Record this", "Alt+E", self._go, main=False
        )
        self._button.grid(row=1, column=6, columnspan=4, sticky="sw", pady=(0, 6))
        hold(self, "finding")
        self.submit_with(self.record)

    def correct(self, finding: FindingView) -> None:
        """Put an observation into the form, for putting right."""
        self.fill({})
        self.restore(
            {
                "finding": str(finding.id),
                "title": finding.title,
                "reading": finding.typed,
                "verdict": finding.verdict,
                "system": finding.system,
                "note": finding.note,
            }
        )
        self.focus_first()

    def record(self) -> bool:
        """Record what is typed, or put the observation right; returns whether it was done."""
        correcting = self.text_of("finding")
        said = (
            "The finding is put right; the journal keeps what it was."
            if correcting
            else "Recorded."
        )
        job = self._corrected if correcting else self._recorded
        done = self._page.attempt(job, self, said=said, empty=True)
        if done:
            self.focus_first()
        return done

    def _go(self) -> None:
        if self.changed:
            self.record()
        else:
            self.focus_first()

    def _recorded(self) -> TicketView:
        page = self._page
        return record_observation(
            page.front.shift,
            page.ticket.id,
            self.text_of("title"),
            self.text_of("reading"),
            self.text_of("verdict"),
            phase=self.phase,
            system=self.text_of("system"),
            note=self.text_of("note"),
        )

    def _corrected(self) -> TicketView:
        return correct_finding(
            self._page.front.shift,
            int(self.text_of("finding")),
            self.text_of("reading"),
            note=self.text_of("note"),
            title=self.text_of("title"),
            verdict=self.text_of("verdict"),
        )
