"""The Diagnosis page: is the complaint real, what was looked at, what it may be, what is next."""

from collections.abc import Sequence

import ttkbootstrap as ttk

from shopdesk.desk import look
from shopdesk.desk.causes_found import CauseFound
from shopdesk.desk.causes_panel import CausesPanel
from shopdesk.desk.columns import side_by_side
from shopdesk.desk.diagnosis_cautions import standing_line
from shopdesk.desk.diagnosis_changing import FindingActions
from shopdesk.desk.diagnosis_findings import FindingList, found_words, last_read
from shopdesk.desk.diagnosis_observation import ObservationForm
from shopdesk.desk.diagnosis_pad import CheckPad
from shopdesk.desk.forms import Form, section, wrapping
from shopdesk.desk.keys import action_button
from shopdesk.desk.labour.clock_list import TimeList
from shopdesk.desk.model_strip import ModelStrip
from shopdesk.desk.page import Draft, Page
from shopdesk.desk.photo_strip import PhotoStrip
from shopdesk.desk.teardown_strip import TeardownStrip
from shopdesk.job.diagnosis import CONFIRMED, checks_for, confirm_complaint
from shopdesk.job.ranking import ranking
from shopdesk.job.stages import Stage
from shopdesk.job.standing import DIAGNOSIS
from shopdesk.job.views import FindingView, TicketView

_MOST_SHOWN = 240


class DiagnosisPage(Page):
    """The complaint, the pad for checks beside the causes and next steps, what was found below."""

    title = "Diagnosis"
    stages = (Stage.DIAGNOSIS,)

    def build(self) -> None:
        """Put the page together from top to bottom."""
        self._put_complaint()
        self.model = ModelStrip(self.body, self.front.shift)
        self.model.pack(fill="x")
        self._so_far = wrapping(ttk.Label(self.body))
        self._so_far.pack(fill="x", pady=(0, 2))
        self.standing = standing_line(self.body)
        self.standing.pack(fill="x", pady=(0, 4))
        self._put_bench()
        self._put_findings()
        self.found = CauseFound(self.body, self)
        self.found.pack(fill="x", pady=(8, 0))
        self.keep_typed("cause", self.found.form)
        self.causes.on_cause = self.found.choose
        section(self.body, "Something else seen, that no check is listed for")
        self.observation = ObservationForm(self.body, self, DIAGNOSIS)
        self.observation.pack(fill="x")
        self.keep_typed("observation", self.observation)
        self.teardown = TeardownStrip(self.body)
        self.teardown.pack(fill="x", pady=(6, 0))
        section(self.body, "Time at the bench")
        self.time = TimeList(self.body, self)
        self.time.pack(fill="x")
        self.keep_typed("time", self.time.form)

    @property
    def complaint(self) -> str:
        """The complaint as it is shown."""
        return str(self._complaint.cget("text"))

    @property
    def so_far(self) -> str:
        """What is said at the top of what was found."""
        return str(self._so_far.cget("text"))

    @property
    def safety(self) -> str:
        """What is said of the checks for safety that wait."""
        return str(self._safety.cget("text"))

    def refresh(self) -> None:
        """Show the ticket's complaint, checks, causes and findings."""
        ticket = self.ticket
        self._complaint.configure(text=complaint_words(ticket))
        self.confirmed.fill(
            {"confirmed": ticket.confirmed, "confirmed_note": ticket.confirmed_note}
        )
        self.model.show(ticket.unit)
        found = [one for one in ticket.findings if one.phase == DIAGNOSIS]
        self.pad.form.fill({})
        self.pad.offer(checks_for(ticket.unit), last_read(found))
        odds = ranking(self.front.shift, ticket.id)
        self.causes.show(odds)
        self.found.show(odds.causes)
        self._safety.configure(text=safety_words([check.title for check in odds.safety]))
        self.observation.fill({})
        self.findings.show(found, self.front.shift.shop.zone)
        self._so_far.configure(text=found_words(found))
        self._show_photos()
        self.teardown.show(ticket)
        self.time.show(ticket, self.front.shift.shop)

    def show(self, ticket: TicketView, draft: Draft | None = None) -> None:
        """Show a ticket, and the check again that something was typed for."""
        super().show(ticket, draft)
        self.pad.resume()
        self.time.show_mode()

    def focus_first(self) -> None:
        """Begin at the check, where most of the work is."""
        self.pad.chooser.focus_box()

    def save(self) -> bool:
        """Keep whether the complaint was seen, and what is typed of a finding or the cause."""
        if self.confirmed.changed and not self._confirm():
            return False
        if self.pad.form.changed and not self.pad.record():
            return False
        if self.found.form.changed and not self.found.say():
            return False
        if self.time.form.changed and not self.time.keep():
            return False
        return not self.observation.changed or self.observation.record()

    def _put_complaint(self) -> None:
        line = ttk.Frame(self.body)
        line.pack(fill="x")
        self._complaint = wrapping(ttk.Label(line, font=look.QUOTE))
        self.confirmed = form = Form(line, columns=7)
        form.choice("confirmed", "Seen here?  Alt+W", CONFIRMED, span=2)
        form.line("confirmed_note", "Note on that", span=3)
        side_by_side(line, self._complaint, form)
        form.submit_with(self._confirm)
        keys = self.front.keys
        button = action_button(form, keys, "Note it", "Alt+N", self._confirm)
        button.grid(row=0, column=5, columnspan=2, sticky="sw", pady=(0, 6))
        keys.add(form, "Alt+W", "Note whether the complaint was seen", form.focus_first)
        self.keep_typed("confirmed", form)

    def _put_bench(self) -> None:
        """Put the pad at the left, and what it may be at the right."""
        line = ttk.Frame(self.body)
        line.pack(fill="x")
        left = ttk.Frame(line)
        self.pad = CheckPad(left, self, DIAGNOSIS, narrow=True)
        self.pad.pack(fill="x")
        self.keep_typed("pad", self.pad.form)
        self._safety = wrapping(ttk.Label(left, font=look.SMALL))
        self._safety.pack(fill="x", pady=(8, 0))
        self.causes = CausesPanel(line, self, self.pad.take)
        side_by_side(line, left, self.causes, sticky="nsew")

    def _put_findings(self) -> None:
        section(self.body, "Found so far")
        self.findings = FindingList(self.body)
        self.findings.pack(fill="x")
        self.findings.on_choose = self._show_photos
        FindingActions(self.body, self, self.findings, self._correct).pack(fill="x", pady=(4, 0))
        self.photos = PhotoStrip(self.body, self)
        self.photos.pack(fill="x", pady=(4, 0))

    def _show_photos(self) -> None:
        chosen = self.findings.chosen
        if chosen is None:
            self.photos.show_loose()
        else:
            self.photos.show_finding(chosen)

    def _confirm(self) -> bool:
        form, shift, ticket_id = self.confirmed, self.front.shift, self.ticket.id
        seen, note = form.text_of("confirmed"), form.text_of("confirmed_note")
        return self.attempt(
            lambda: confirm_complaint(shift, ticket_id, seen, note), form, said="Noted."
        )

    def _correct(self, finding: FindingView) -> None:
        (self.pad if finding.check_key else self.observation).correct(finding)


def safety_words(titles: Sequence[str]) -> str:
    """Return the checks for safety that wait, whatever the odds say."""
    if not titles:
        return ""
    return f"For safety, whatever the odds, still to be looked at: {'; '.join(titles)}."


def complaint_words(ticket: TicketView) -> str:
    """Return the complaint in the owner's words, shortened, with its kind and how it came on."""
    words = " ".join(ticket.complaint.split())
    if len(words) > _MOST_SHOWN:
        words = f"{words[:_MOST_SHOWN]}… (the whole of it is on Intake)"
    kind = "  ·  ".join(filter(None, (ticket.complaint_kind, ticket.onset)))
    return f"“{words}”   {kind}".rstrip()
