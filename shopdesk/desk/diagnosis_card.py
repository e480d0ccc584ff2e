"""A check as a card: what to beware of, what to do, with which tools, and what may be seen."""

import tkinter as tk
from collections.abc import Callable, Sequence

import ttkbootstrap as ttk

from shopdesk.bench.checks import Check
from shopdesk.desk import look
from shopdesk.desk.diagnosis_cautions import CautionLines
from shopdesk.desk.forms import wrapping

_LONG_UNITS = {"in": "inches"}


class CheckCard(ttk.Frame):
    """Shows one check. A click on something that may be seen tells ``on_seen`` its letter."""

    def __init__(self, parent: tk.Misc) -> None:
        super().__init__(parent)
        self.on_seen: Callable[[str], object] = lambda letter: None
        self._shown: Check | None = None
        self._title = wrapping(ttk.Label(self, font=look.HEADING))
        self._title.pack(fill="x")
        self.cautions = CautionLines(self)
        self.cautions.pack(fill="x", pady=(2, 2))
        self._how = wrapping(ttk.Label(self))
        self._how.pack(fill="x")
        self._tools = wrapping(ttk.Label(self, font=look.SMALL, bootstyle="secondary"))
        self._tools.pack(fill="x", pady=(2, 0))
        self._ask = ttk.Label(self, font=look.STRONG)
        self._ask.pack(anchor="w", pady=(6, 0))
        self._seen = ttk.Frame(self)
        self._seen.columnconfigure((0, 1), weight=1, uniform="seen")

    @property
    def text(self) -> str:
        """The title, the how-to and the tools, for reading back."""
        return " ".join(str(label.cget("text")) for label in (self._title, self._how, self._tools))

    @property
    def choices(self) -> Sequence[tk.Misc]:
        """What may be seen, each a label to click on."""
        return self._seen.winfo_children()

    def show(self, check: Check | None) -> None:
        """Show a check, or ask for one."""
        if check is self._shown and check is not None:
            return
        self._shown = check
        self._title.configure(text=check.title if check else "Choose a check")
        self._how.configure(
            text=check.how if check else "Type a few letters of it, or go through the list."
        )
        self._tools.configure(text=tools_line(check) if check else "")
        self._ask.configure(text=asked(check) if check else "")
        self.cautions.show_for(check.cautions if check else ())
        self._show_seen(check)

    def _show_seen(self, check: Check | None) -> None:
        for child in self._seen.winfo_children():
            child.destroy()
        if check is None or not check.seen:
            self._seen.pack_forget()
            return
        for place, choice in enumerate(check.seen):
            label = ttk.Label(
                self._seen, text=f"{choice.key}  {choice.words}", font=look.SMALL, cursor="hand2"
            )
            label.bind("<Button-1>", self._clicked_on(choice.key))
            wrapping(label).grid(
                row=place // 2, column=place % 2, sticky="new", padx=(0, 8), pady=1
            )
        self._seen.pack(fill="x", pady=(2, 0))

    def _clicked_on(self, letter: str) -> Callable[["tk.Event[tk.Misc]"], object]:
        return lambda _event: self.on_seen(letter)


def tools_line(check: Check) -> str:
    """Return tools and minutes in one line: ``Tools: feeler gauge.  About 10 min``."""
    tools = f"Tools: {', '.join(check.tools)}.  " if check.tools else "No tools.  "
    running = "On a machine that runs.  " if check.needs_running else ""
    return f"{tools}{running}About {check.minutes} min."


def asked(check: Check) -> str:
    """Return what to type: ``Type the reading; a bare number means psi``."""
    if check.quantity is None:
        return "Type the letter of what you see:"
    unit = _LONG_UNITS.get(check.usual_unit, check.usual_unit)
    reading = f"Type the reading; a bare number means {unit}." if unit else "Type the number."
    return f"{reading} Or a letter:" if check.seen else reading
