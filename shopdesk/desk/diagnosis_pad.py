"""Recording a check in a few keystrokes: choose it, type the reading, see the verdict, Enter."""

import tkinter as tk
from collections.abc import Mapping, Sequence

import ttkbootstrap as ttk

from shopdesk.bench.checks import Check
from shopdesk.desk.diagnosis_card import CheckCard
from shopdesk.desk.diagnosis_choosing import CheckChooser
from shopdesk.desk.diagnosis_findings import verdict_words
from shopdesk.desk.diagnosis_verdict import VerdictPanel
from shopdesk.desk.forms import Form
from shopdesk.desk.keys import action_button
from shopdesk.desk.line_held import hold
from shopdesk.desk.page import Page
from shopdesk.desk.scrolling import bring_into_sight
from shopdesk.errors import JobError
from shopdesk.job.diagnosis import correct_finding, record_finding, try_reading
from shopdesk.job.views import FindingView


class CheckPad(ttk.Frame):
    """Works for a ``page``: its ticket, its way of saying what went wrong, its keys.

    ``narrow``: the check stands below the list, which folds, not beside it.
    """

    def __init__(self, parent: tk.Misc, page: Page, phase: str, *, narrow: bool = False) -> None:
        super().__init__(parent)
        self._page = page
        self.phase = phase
        self.chooser = CheckChooser(self, folds=narrow)
        self._right = ttk.Frame(self)
        self._lay_out(narrow=narrow)
        self._put_right()
        self.chooser.on_choose = self._chosen
        self.chooser.on_take = self._to_reading
        page.front.keys.add(self, "Alt+K", "Look for a check", self.chooser.focus_box)

    def offer(self, checks: Sequence[Check], read: Mapping[str, str], called: str = "Read") -> None:
        """Offer these checks, with what was read of each; ``resume`` is due after it."""
        self.chooser.offer(checks, read, called)

    def resume(self) -> None:
        """Show the check again that something was typed for, or the one that is marked."""
        key = self.form.text_of("check_key")
        if key:
            self.chooser.choose(key)
        self._chosen()

    def take(self, check_key: str) -> None:
        """Have a check ready, with the cursor in the reading; what is typed goes first."""
        waiting = self.form.text_of("check_key")
        if waiting not in ("", check_key):
            self._page.front.notices.trouble(
                "Something is typed for another check: record it (Alt+R) or empty it first."
            )
        elif self.chooser.offers(check_key):
            self.chooser.choose(check_key)
            self._chosen()
        self._to_reading()

    def correct(self, finding: FindingView) -> None:
        """Put a finding's reading into the form, for putting right."""
        if not self.chooser.offers(finding.check_key):
            self._page.front.notices.trouble(
                f"{finding.title} is no check for this machine any more: "
                "drop the finding, and record what was seen anew."
            )
            return
        self.form.fill({})
        self.form.restore(
            {
                "check_key": finding.check_key,
                "finding": str(finding.id),
                "phase": finding.phase,
                "reading": finding.typed,
                "note": finding.note,
            }
        )
        self.resume()
        self._to_reading()
        self.form["reading"].input.event_generate("<<SelectAll>>")

    def record(self) -> bool:
        """Record what is typed (or put the finding right), and be ready for the next check."""
        if self.form.text_of("finding"):
            done = self._put_right_finding(int(self.form.text_of("finding")))
        else:
            done = self._record_new()
        if done:
            self.chooser.clear()
            self.chooser.focus_box()
        return done

    def leave_correction(self) -> None:
        """Forget the correction; the finding stays as it is."""
        self.form.fill({})
        self._chosen()
        self.chooser.focus_box()

    def _lay_out(self, *, narrow: bool) -> None:
        self.columnconfigure(0, weight=10, uniform="pad")
        self.chooser.grid(row=0, column=0, sticky="nsew", padx=(0, 0 if narrow else 16))
        if narrow:
            self._right.grid(row=1, column=0, sticky="nsew", pady=(6, 0))
        else:
            self.columnconfigure(1, weight=11, uniform="pad")
            self._right.grid(row=0, column=1, sticky="nsew")

    def _put_right(self) -> None:
        self.card = CheckCard(self._right)
        self.card.pack(fill="x")
        self.card.on_seen = self._seen
        self.form = Form(self._right, columns=10)
        self.form.line("reading", "Reading", "Enter records it", span=4)
        self.form.line("note", "Note", span=3)
        keys = self._page.front.keys
        self._button = action_button(self.form, keys, "Record it", "Alt+R", self.record, main=True)
        self._button.grid(row=0, column=7, columnspan=3, sticky="sw", pady=(0, 6))
        hold(self.form, "check_key", "phase", "finding")
        self.form.submit_with(self.record)
        self.form.pack(fill="x", pady=(8, 0))
        self.form["reading"].watch(self._typed)
        self.form["note"].watch(self._typed)
        self.verdict = VerdictPanel(self._right)
        self.verdict.pack(fill="x")
        self.verdict.bind("<Configure>", lambda _event: self._see_verdict())
        self._leave = action_button(
            self._right, keys, "Leave it as it was", "Esc", self.leave_correction
        )

    def _see_verdict(self) -> None:
        """Keep the whole verdict in sight while it is typed for."""
        if self.verdict.text and self.focus_get() in (
            self.form["reading"].input,
            self.form["note"].input,
        ):
            bring_into_sight(self.verdict)

    def _to_reading(self) -> None:
        self.chooser.fold()
        self.form["reading"].focus_input()

    def _record_new(self) -> bool:
        check = self.chooser.chosen
        if check is None:
            self._page.front.notices.trouble("No check is chosen: type a few letters of one first.")
            self.chooser.focus_box()
            return False
        page, reading, note = self._page, self.form.text_of("reading"), self.form.text_of("note")
        done = page.attempt(
            lambda: record_finding(
                page.front.shift, page.ticket.id, check.key, reading, phase=self.phase, note=note
            ),
            self.form,
            empty=True,
        )
        if done:
            latest = max(page.ticket.findings, key=lambda one: one.id)
            page.front.notices.say(f"{verdict_words(latest)}. It is recorded.")
        return done

    def _put_right_finding(self, finding_id: int) -> bool:
        page, reading, note = self._page, self.form.text_of("reading"), self.form.text_of("note")
        done = page.attempt(
            lambda: correct_finding(page.front.shift, finding_id, reading, note=note),
            self.form,
            empty=True,
        )
        if done:
            right = next(one for one in page.ticket.findings if one.id == finding_id)
            page.front.notices.say(
                f"{verdict_words(right)}. It is put right; the journal keeps what it was."
            )
        return done

    def _chosen(self) -> None:
        check = self.chooser.chosen
        correcting = self.form.text_of("finding")
        if correcting and check and check.key != self.form.text_of("check_key"):
            self.form.fill({})
        self.card.show(check)
        self._typed()

    def _typed(self) -> None:
        check = self.chooser.chosen
        typed = self.form.text_of("reading") or self.form.text_of("note")
        correcting = bool(self.form.text_of("finding"))
        if not correcting:
            self.form["check_key"].set(check.key if check and typed else "")
            self.form["phase"].set(self.phase if check and typed else "")
        self._show_mode(correcting=correcting)
        self._judge(check)

    def _show_mode(self, *, correcting: bool) -> None:
        words = "Put it right" if correcting else "Record it"
        self._button.configure(text=f"{words}  Alt+R")
        if correcting:
            self._leave.pack(anchor="w", pady=(4, 0))
        else:
            self._leave.pack_forget()

    def _judge(self, check: Check | None) -> None:
        reading = self.form.text_of("reading")
        if check is None or not reading.strip():
            self.verdict.say("")
            return
        try:
            judged = try_reading(self._page.front.shift, self._page.ticket.id, check.key, reading)
        except JobError as error:
            self.verdict.say(error.sentence)
        else:
            self.verdict.show(check, judged)

    def _seen(self, letter: str) -> None:
        self.form.restore({"reading": letter})
        self.form["reading"].focus_input()
        self._typed()
