"""What to do next: three steps with their minutes and why, each taken by one key."""

import tkinter as tk
from collections.abc import Callable, Sequence
from functools import partial

import ttkbootstrap as ttk

from shopdesk.desk import look
from shopdesk.desk.fields import wrapping
from shopdesk.desk.keys import Keys
from shopdesk.job.ranking import StepView
from shopdesk.pricing.money import show_quantity

STEP_KEYS = ("F7", "F8", "F9")


class NextSteps(ttk.Frame):
    """``take`` is told the step whose key was pressed or that was clicked on.

    A fix that came under a key that held a check is taken once ``sure`` says that it is meant.
    """

    def __init__(
        self,
        parent: tk.Misc,
        keys: Keys,
        take: Callable[[StepView], object],
        sure: Callable[[StepView], bool],
    ) -> None:
        super().__init__(parent)
        self._take, self._sure = take, sure
        self._turned: set[int] = set()
        """The places where a fix took the place of a check."""
        self._steps: Sequence[StepView] = ()
        self._rows = [self._row(key, place) for place, key in enumerate(STEP_KEYS)]
        for place, key in enumerate(STEP_KEYS):
            keys.add(self, key, f"Take suggested step {place + 1}", partial(self.take, place))

    @property
    def words(self) -> list[str]:
        """Each step as it is shown, with why."""
        return [
            " ".join(str(label.cget("text")) for label in labels)
            for labels, _ in zip(self._rows, self._steps, strict=False)
        ]

    def show(self, steps: Sequence[StepView]) -> None:
        """Show these steps, the best first."""
        before, self._steps = self._steps, steps
        for place, (old, new) in enumerate(zip(before, steps, strict=False)):
            if old.is_check and not new.is_check:
                self._turned.add(place)
            elif new.is_check or old.key != new.key:
                self._turned.discard(place)
        for place, (title, why) in enumerate(self._rows):
            step = steps[place] if place < len(steps) else None
            title.configure(text=step_title(step, STEP_KEYS[place]) if step else "")
            why.configure(text=step.why if step else "")

    def take(self, place: int) -> None:
        """Take one of the steps."""
        if place >= len(self._steps):
            return
        step = self._steps[place]
        if place in self._turned and not self._sure(step):
            return
        self._turned.discard(place)
        self._take(step)

    def _row(self, key: str, place: int) -> tuple[ttk.Label, ttk.Label]:
        title = ttk.Label(self, font=look.STRONG, bootstyle="primary", cursor="hand2")
        why = ttk.Label(self, font=look.SMALL, cursor="hand2")
        wrapping(title).pack(fill="x", pady=(2 if place else 0, 0))
        wrapping(why).pack(fill="x")
        for label in (title, why):
            label.bind("<Button-1>", lambda _event: self.take(place))
        return title, why


def step_title(step: StepView, key: str) -> str:
    """Return a step in short: ``F7  Known-good fuel (check, 2 min)``."""
    what = "check" if step.is_check else "fix"
    return f"{key}  {step.title}  ({what}, {show_quantity(step.minutes)} min)"
