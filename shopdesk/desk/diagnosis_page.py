"""The Diagnosis page: is the complaint real, what was looked at, and what it means."""

import ttkbootstrap as ttk

from shopdesk.desk import look
from shopdesk.desk.diagnosis_cautions import standing_line
from shopdesk.desk.diagnosis_changing import FindingActions
from shopdesk.desk.diagnosis_findings import FindingList, last_read
from shopdesk.desk.diagnosis_observation import ObservationForm
from shopdesk.desk.diagnosis_pad import CheckPad
from shopdesk.desk.forms import Form, section, wrapping
from shopdesk.desk.keys import action_button
from shopdesk.desk.page import Draft, Page
from shopdesk.job.diagnosis import CONFIRMED, checks_for, confirm_complaint
from shopdesk.job.stages import Stage
from shopdesk.job.standing import DIAGNOSIS
from shopdesk.job.views import FindingView, TicketView

_MOST_SHOWN = 400


class DiagnosisPage(Page):
    """The complaint and whether it was seen, the pad for checks, and the findings by system."""

    title = "Diagnosis"
    stages = (Stage.DIAGNOSIS,)

    def build(self) -> None:
        """Put the page together from top to bottom."""
        self._complaint = wrapping(ttk.Label(self.body, font=look.QUOTE))
        self._complaint.pack(fill="x")
        self._put_confirmed()
        self.standing = standing_line(self.body)
        self.standing.pack(fill="x", pady=(2, 6))
        self.pad = CheckPad(self.body, self, DIAGNOSIS)
        self.pad.pack(fill="x")
        self.keep_typed("pad", self.pad.form)
        section(self.body, "Found so far")
        self.findings = FindingList(self.body)
        self.findings.pack(fill="x")
        FindingActions(self.body, self, self.findings, self._correct).pack(fill="x", pady=(4, 0))
        section(self.body, "Something else seen, that no check is listed for")
        self.observation = ObservationForm(self.body, self, DIAGNOSIS)
        self.observation.pack(fill="x")
        self.keep_typed("observation", self.observation)

    @property
    def complaint(self) -> str:
        """The complaint as it is shown."""
        return str(self._complaint.cget("text"))

    def refresh(self) -> None:
        """Show the ticket's complaint, checks and findings."""
        ticket = self.ticket
        self._complaint.configure(text=complaint_words(ticket))
        self.confirmed.fill(
            {"confirmed": ticket.confirmed, "confirmed_note": ticket.confirmed_note}
        )
        found = [one for one in ticket.findings if one.phase == DIAGNOSIS]
        self.pad.form.fill({})
        self.pad.offer(checks_for(ticket.unit), last_read(found))
        self.observation.fill({})
        self.findings.show(found, self.front.shift.shop.zone)

    def show(self, ticket: TicketView, draft: Draft | None = None) -> None:
        """Show a ticket, and the check again that something was typed for."""
        super().show(ticket, draft)
        self.pad.resume()

    def focus_first(self) -> None:
        """Begin at the check, where most of the work is."""
        self.pad.chooser.focus_box()

    def save(self) -> bool:
        """Keep whether the complaint was seen, and what is typed of a finding."""
        if self.confirmed.changed and not self._confirm():
            return False
        if self.pad.form.changed and not self.pad.record():
            return False
        return not self.observation.changed or self.observation.record()

    def _put_confirmed(self) -> None:
        self.confirmed = form = Form(self.body, columns=8)
        form.choice("confirmed", "Was it seen here?  Alt+W", CONFIRMED, span=2)
        form.line("confirmed_note", "Note on that", span=4)
        form.pack(fill="x", pady=(4, 0))
        form.submit_with(self._confirm)
        keys = self.front.keys
        button = action_button(form, keys, "Note it", "Alt+N", self._confirm)
        button.grid(row=0, column=6, columnspan=2, sticky="sw", pady=(0, 6))
        keys.add(form, "Alt+W", "Note whether the complaint was seen", form.focus_first)
        self.keep_typed("confirmed", form)

    def _confirm(self) -> bool:
        form, shift, ticket_id = self.confirmed, self.front.shift, self.ticket.id
        seen, note = form.text_of("confirmed"), form.text_of("confirmed_note")
        return self.attempt(
            lambda: confirm_complaint(shift, ticket_id, seen, note), form, said="Noted."
        )

    def _correct(self, finding: FindingView) -> None:
        (self.pad if finding.check_key else self.observation).correct(finding)


def complaint_words(ticket: TicketView) -> str:
    """Return the complaint in the owner's words, shortened, with its kind and how it came on."""
    words = " ".join(ticket.complaint.split())
    if len(words) > _MOST_SHOWN:
        words = f"{words[:_MOST_SHOWN]}… (the whole of it is on Intake)"
    kind = "  ·  ".join(filter(None, (ticket.complaint_kind, ticket.onset)))
    return f"“{words}”   {kind}".rstrip()
