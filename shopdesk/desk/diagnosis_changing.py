"""Correcting and dropping findings from their list, on whichever page it stands."""

import tkinter as tk
from collections.abc import Callable

from shopdesk.desk.diagnosis_findings import FindingList
from shopdesk.desk.flow import Flow
from shopdesk.desk.keys import action_button
from shopdesk.desk.page import Page
from shopdesk.job.diagnosis import drop_finding
from shopdesk.job.model_notes import keep_setting
from shopdesk.job.views import FindingView


class FindingActions(Flow):
    """The buttons under a list of findings; ``correct`` is told which one is to be put right."""

    def __init__(
        self,
        parent: tk.Misc,
        page: Page,
        findings: FindingList,
        correct: Callable[[FindingView], object],
    ) -> None:
        super().__init__(parent)
        self._page = page
        self._findings = findings
        self._correct = correct
        for words, key, run in (
            ("Go to the findings", "Alt+L", findings.list.focus_list),
            ("Correct it", "F2", self.correct_chosen),
            ("Drop it …", "Alt+D", self.drop_chosen),
            ("Keep on the model's card", "Ctrl+K", self.keep_chosen),
        ):
            action_button(self, page.front.keys, words, key, run).pack(side="left", padx=(0, 8))
        findings.list.on_open(lambda _key: self.correct_chosen())
        findings.list.bind_key("<Delete>", lambda _key: self.drop_chosen())

    def correct_chosen(self) -> None:
        """Put the chosen finding where it can be put right."""
        finding = self._chosen()
        if finding is not None:
            self._correct(finding)

    def drop_chosen(self) -> None:
        """Take the chosen finding off the ticket, once a reason is given."""
        finding, front = self._chosen(), self._page.front
        if finding is None:
            return
        why = front.dialogs.ask_text(
            "Drop a finding", f"Why is “{finding.title}: {finding.shown}” taken back?"
        )
        if why is not None:
            self._page.attempt(
                lambda: drop_finding(front.shift, finding.id, why),
                said="The finding is off the ticket; the journal keeps it.",
            )

    def keep_chosen(self) -> None:
        """Keep the chosen reading on the model's card, as the setting to leave."""
        finding, page = self._chosen(), self._page
        if finding is not None:
            page.attempt(
                lambda: page.anew(lambda: keep_setting(page.front.shift, finding.id)),
                said=f"{finding.title}: {finding.shown} stands on the model's card (Alt+7).",
            )

    def _chosen(self) -> FindingView | None:
        finding = self._findings.chosen
        if finding is None:
            self._page.front.notices.trouble("Choose a finding in the list first.")
            self._findings.list.focus_list()
        return finding
