"""What a reading comes to, big and in words, with its limit, its correction and its source."""

import tkinter as tk

import ttkbootstrap as ttk

from shopdesk.bench.checks import Check
from shopdesk.bench.judging import Judged, Verdict
from shopdesk.bench.readings import show_reading
from shopdesk.desk import look
from shopdesk.desk.forms import wrapping
from shopdesk.desk.signs import Sign, SignMark

STYLES = {
    Verdict.PASS: (Sign.GOOD, "success"),
    Verdict.MARGINAL: (Sign.UNSURE, "warning"),
    Verdict.FAIL: (Sign.BAD, "danger"),
    Verdict.NOTED: (Sign.PLAIN, "default"),
}


class VerdictPanel(ttk.Frame):
    """The verdict on what is being typed; says what is meant while nothing can be judged yet."""

    def __init__(self, parent: tk.Misc) -> None:
        super().__init__(parent)
        self._head = head = ttk.Frame(self)
        self._sign = SignMark(head, Sign.PLAIN, scale=1.5)
        self._word = ttk.Label(head, font=look.TITLE)
        self._word.pack(side="left")
        self._limit = wrapping(ttk.Label(head, font=look.STRONG))
        self._limit.pack(side="left", fill="x", expand=True, padx=(10, 0), pady=(4, 0))
        self._why = wrapping(ttk.Label(self, font=look.SMALL))
        self._means = wrapping(ttk.Label(self))

    @property
    def text(self) -> str:
        """All that is said, for reading back."""
        labels = (self._word, self._limit, self._why, self._means)
        return " ".join(filter(None, (str(label.cget("text")) for label in labels)))

    def show(self, check: Check, judged: Judged) -> None:
        """Show the verdict on a check."""
        sign, style = STYLES[judged.verdict]
        self._sign.show(sign)
        self._sign.pack(side="left", before=self._word, padx=(0, 6))
        self._word.configure(text=judged.verdict.capitalize(), bootstyle=style)
        self._limit.configure(text=held_against(check, judged))
        self._why.configure(text=reasons(judged))
        self._means.configure(text=meaning(judged))
        self._lay_out()

    def say(self, words: str) -> None:
        """Say that there is nothing to judge yet, and why."""
        self._sign.pack_forget()
        for label in (self._word, self._limit, self._means):
            label.configure(text="")
        self._why.configure(text=words)
        self._lay_out()

    def _lay_out(self) -> None:
        """Give room to what says something, and to nothing else."""
        says = (
            (self._head, self._word.cget("text")),
            (self._why, self._why.cget("text")),
            (self._means, self._means.cget("text")),
        )
        for part, _ in says:
            part.pack_forget()
        for part, words in says:
            if words:
                part.pack(fill="x")
        if not self.text:
            self.configure(height=1)


def held_against(check: Check, judged: Judged) -> str:
    """Return what was read and its limit: ``142 psi;  limit: at least 107 psi``."""
    if judged.reading is not None:
        shown, lead = show_reading(judged.reading), "limit"
    else:
        shown, lead = next(one.words for one in check.seen if one.key == judged.seen), "should be"
    limit = f"{lead}: {judged.limit}" if judged.limit and judged.limit != shown else ""
    return ";  ".join(filter(None, (shown, limit)))


def reasons(judged: Judged) -> str:
    """Return why the limit is what it is, and who says so."""
    if not judged.source:
        return judged.says
    correction = f"{judged.correction}." if judged.correction else ""
    return " ".join(filter(None, (correction, f"Source: {judged.source}.")))


def meaning(judged: Judged) -> str:
    """Return what the verdict rules out or points to, as a sentence."""
    words = judged.rules_out or judged.points_to
    lead = "Rules out: " if judged.rules_out else "Points to: "
    return f"{lead}{words[0].lower()}{words[1:]}" if words else ""
