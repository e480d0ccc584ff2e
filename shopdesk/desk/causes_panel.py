"""What it may be and what to do next, beside the checks: a suggestion, never an order."""

import tkinter as tk
from collections.abc import Callable

import ttkbootstrap as ttk

from shopdesk.desk import look
from shopdesk.desk.causes_bars import Bar, BarList
from shopdesk.desk.causes_steps import NextSteps
from shopdesk.desk.fields import wrapping
from shopdesk.desk.flow import Flow
from shopdesk.desk.forms import section
from shopdesk.desk.keys import action_button
from shopdesk.desk.page import Page
from shopdesk.desk.signs import Sign, SignMark
from shopdesk.job.causes import overrule, reinstate
from shopdesk.job.fixing import line_for_fix
from shopdesk.job.ranking import CauseView, RankingView, StepView

_BARS = 5
_FOR_A_LINE = ("kind", "description", "quantity", "reason")


class CausesPanel(ttk.Frame):
    """Works for a ``page``. ``take_check`` is told the key of a check that was taken.

    ``on_cause`` is told the key of a cause that Enter was pressed on.
    """

    def __init__(self, parent: tk.Misc, page: Page, take_check: Callable[[str], object]) -> None:
        super().__init__(parent)
        self._page = page
        self._take_check = take_check
        self.on_cause: Callable[[str], object] = lambda key: None
        self._head = Flow(self)
        self._head.pack(fill="x")
        self.bars = BarList(self)
        self.bars.pack(fill="x")
        self.bars.bind_key(("<Return>", "<KP_Enter>", "<Double-Button-1>"), self._opened)
        self.bars.bind_key(("<Delete>",), self.turn_over)
        self._put_actions()
        self._odd = self._warning()
        self._next = section(self, "Next", top=6)
        self.steps = NextSteps(self, page.front.keys, self._take, self._is_meant)
        self.steps.pack(fill="x")
        self._known = wrapping(ttk.Label(self, font=look.SMALL, bootstyle="secondary"))
        self._known.pack(fill="x", pady=(6, 0))

    @property
    def said(self) -> str:
        """What is said beside the bars and the steps, for reading back."""
        labels = (self._odd_words, self._known)
        return " ".join(filter(None, (str(label.cget("text")) for label in labels)))

    def show(self, ranking: RankingView) -> None:
        """Show the odds and the steps as they are now."""
        self.bars.show(bars_of(ranking))
        self.steps.show(ranking.steps)
        self._show_odd(ranking.contradiction)
        known = "  ".join(filter(None, (ranking.told, ranking.history)))
        self._known.configure(text=known)

    def turn_over(self) -> None:
        """Say that it is not the chosen cause, or let that one count again."""
        bar, front = self.bars.chosen, self._page.front
        if bar is None or not bar.key:
            front.notices.trouble("Choose one cause with the arrows first.")
            self.bars.focus_set()
            return
        shift, ticket_id = front.shift, self._page.ticket.id
        if bar.faint:
            self._page.attempt(
                lambda: self._page.anew(lambda: reinstate(shift, ticket_id, bar.key)),
                said="That cause counts again.",
            )
            return
        why = front.dialogs.ask_text(
            "Rule out a cause", f"How do you know that it is not “{bar.title}”?"
        )
        if why is not None:
            self._page.attempt(
                lambda: self._page.anew(lambda: overrule(shift, ticket_id, bar.key, why)),
                said=f"“{bar.title}” is left out from now on.",
            )

    def _put_actions(self) -> None:
        keys = self._page.front.keys
        section(self._head, "What it may be", top=0).pack_configure(side="left")
        ttk.Label(self._head, text="Alt+C", font=look.SMALL).pack(side="left", padx=8)
        keys.add(self.bars, "Alt+C", "Go through the causes", self.bars.focus_set)
        button = action_button(
            self._head, keys, "Rule it out, or back in …", "Alt+X", self.turn_over, bootstyle="link"
        )
        button.pack(side="right")

    def _warning(self) -> ttk.Frame:
        line = ttk.Frame(self)
        SignMark(line, Sign.CAUTION).pack(side="left", anchor="n", padx=(0, 6), pady=1)
        self._odd_words = wrapping(ttk.Label(line, font=look.SMALL, bootstyle="warning"))
        self._odd_words.pack(side="left", fill="x", expand=True)
        return line

    def _show_odd(self, words: str) -> None:
        self._odd_words.configure(text=words)
        if words:
            self._odd.pack(fill="x", pady=(2, 0), before=self._next)
        else:
            self._odd.pack_forget()

    def _opened(self) -> None:
        bar = self.bars.chosen
        if bar is not None and bar.key:
            self.on_cause(bar.key)

    def _is_meant(self, step: StepView) -> bool:
        """Ask about a repair whose key held a check until now."""
        return self._page.front.dialogs.confirm(
            "A repair, no check", f"Put this repair on the ticket? {step.title}", risky=True
        )

    def _take(self, step: StepView) -> None:
        if step.is_check:
            self._take_check(step.key)
            return
        front = self._page.front
        entry = line_for_fix(front.shift, self._page.ticket.id, step.key)
        typed = {name: str(getattr(entry, name)) for name in _FOR_A_LINE}
        front.prepare("Approval", {"line": {**typed, "finding_id": str(entry.finding_id or "")}})


def bars_of(ranking: RankingView) -> list[Bar]:
    """Return the rows: the likeliest causes, the rest together, those overruled with the reason."""
    return [
        *(_bar(cause) for cause in ranking.in_short(_BARS)),
        *(
            Bar(cause.key, f"{cause.title}: {cause.overruled}", 0.0, "ruled out", faint=True)
            for cause in ranking.overruled
        ),
    ]


def _bar(cause: CauseView) -> Bar:
    return Bar(cause.key, cause.title, cause.probability, cause.words)
