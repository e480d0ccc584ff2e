"""The real questions: small windows over the desk, answered by keyboard."""

import tkinter as tk
from collections.abc import Callable, Sequence
from functools import partial
from math import ceil
from pathlib import Path
from tkinter import filedialog

import ttkbootstrap as ttk

from shopdesk.desk import look

_WRAP, _LEAST = 420, 320
_EDGE, _BETWEEN = 16, 24
"""What is free around the words, and between their columns, in pixels."""
_MOST_LINES = 20
"""How many lines stand one under another before they go on in a column beside."""


class TkDialogs:
    """Asks in windows of its own over ``window``; Enter answers, Escape leaves."""

    def __init__(self, window: tk.Misc) -> None:
        self._window = window

    def confirm(
        self, title: str, question: str, yes: str = "Yes", no: str = "No", *, risky: bool = False
    ) -> bool:
        """Return whether the person said yes; where that is ``risky``, Enter alone means no."""
        box = Box(self._window, title, question)
        answers = ((yes, lambda: True), (no, lambda: False))
        box.answers(*(reversed(answers) if risky else answers))
        return box.ask() is True

    def ask_text(self, title: str, question: str, initial: str = "") -> str | None:
        """Return the line that was typed, or ``None``."""
        box = Box(self._window, title, question)
        entry = ttk.Entry(box.inside, width=52)
        entry.insert(0, initial)
        entry.pack(fill="x", pady=(0, 12))
        box.answers(("OK", entry.get), ("Cancel", lambda: None))
        found = box.ask(entry)
        return None if found is None else str(found)

    def choose(self, title: str, question: str, choices: Sequence[str]) -> int | None:
        """Return the index of the choice taken, or ``None``."""
        box = Box(self._window, title, question)
        taken = tk.IntVar(box.window, 0)
        for place, words in enumerate(choices):
            ttk.Radiobutton(box.inside, text=words, variable=taken, value=place).pack(
                anchor="w", pady=2
            )
        first = box.inside.winfo_children()[-len(choices)]
        _arrows(box.inside.winfo_children()[-len(choices) :], taken)
        box.answers(("OK", taken.get), ("Cancel", lambda: None))
        found = box.ask(first)
        return None if found is None else int(str(found))

    def inform(self, title: str, sentence: str) -> None:
        """Say something that must be read."""
        box = Box(self._window, title, sentence)
        box.answers(("OK", lambda: None))
        box.ask()

    def choose_files(self, title: str, endings: Sequence[str]) -> tuple[Path, ...]:
        """Return existing files; none if the person thought better of it."""
        patterns = [f"*{one}" for ending in endings for one in (ending, ending.upper())]
        names = filedialog.askopenfilenames(
            parent=self._window, title=title, filetypes=[(title, patterns)]
        )
        return tuple(Path(name) for name in names or ())


class Box:
    """A question in a window of its own; build it, then ``ask``."""

    def __init__(self, over: tk.Misc, title: str, question: str) -> None:
        self._over = over
        self._answer: object = None
        self._back_to = over.focus_get()
        self.window = ttk.Toplevel(
            master=over, title=title, resizable=(False, False), iconphoto=None
        )
        self.window.withdraw()
        self.inside = ttk.Frame(self.window, padding=_EDGE)
        self.inside.pack(fill="both", expand=True)
        words = ttk.Frame(self.inside)
        words.pack(anchor="w", pady=(0, 12))
        columns = _columns(question, _room_for(over, question))
        long = columns[0].count("\n") >= _MOST_LINES
        for column in columns:
            label = ttk.Label(
                words,
                text=column,
                wraplength=look.pixels(over, _WRAP),
                font=look.SMALL if long else "TkDefaultFont",
            )
            label.pack(side="left", anchor="n", padx=(0, _BETWEEN))
        self.window.bind("<Escape>", lambda _event: self._close(None))
        self.window.protocol("WM_DELETE_WINDOW", lambda: self._close(None))

    def answers(
        self, first: tuple[str, Callable[[], object]], *others: tuple[str, Callable[[], object]]
    ) -> None:
        """Add a button for each answer; Enter gives the first one."""
        line = ttk.Frame(self.inside)
        line.pack(side="bottom", anchor="e", pady=(8, 0))
        for place, (words, value) in enumerate((first, *others)):
            style = "default" if place else "primary"
            button = ttk.Button(
                line, text=words, bootstyle=style, command=lambda value=value: self._close(value())
            )
            button.pack(side="left", padx=(8, 0))
            if not place:
                self._first = button
        for key in ("<Return>", "<KP_Enter>"):
            self.window.bind(key, self._entered)

    def ask(self, focus: tk.Misc | None = None) -> object:
        """Show the question, wait for the answer and return it."""
        self.window.minsize(look.pixels(self._over, _LEAST), 1)
        self.window.transient(self._over.winfo_toplevel())
        self.window.place_window_center()
        self.window.deiconify()
        self.window.wait_visibility()
        self.window.grab_set()
        (focus or self._first).focus_force()
        self.window.wait_window()
        return self._answer

    def _entered(self, event: "tk.Event[tk.Misc]") -> None:
        if not isinstance(event.widget, ttk.Button):
            self._first.invoke()

    def _close(self, answer: object) -> None:
        self._answer = answer
        self.window.grab_release()
        self.window.destroy()
        if self._back_to is not None and self._back_to.winfo_exists():
            self._back_to.focus_force()


def _room_for(over: tk.Misc, words: str) -> int:
    """Return how many columns of these lines the window is wide enough for."""
    measure = ttk.nametofont("TkDefaultFont", root=over).measure
    widest = min(max(map(measure, words.splitlines() or [words])), look.pixels(over, _WRAP))
    return max(1, (over.winfo_toplevel().winfo_width() - 2 * _EDGE) // (widest + _BETWEEN))


def _columns(words: str, most: int) -> list[str]:
    """Return many lines as columns of about the same length, at most so many of them."""
    lines = words.splitlines() or [words]
    each = ceil(len(lines) / min(ceil(len(lines) / _MOST_LINES), most))
    return ["\n".join(lines[at : at + each]) for at in range(0, len(lines), each)]


def _arrows(buttons: Sequence[tk.Misc], taken: tk.IntVar) -> None:
    """Let the up and down keys go through radio buttons and take the one they come to."""

    def go(place: int, _event: object) -> None:
        place %= len(buttons)
        taken.set(place)
        buttons[place].focus_set()

    for place, button in enumerate(buttons):
        button.bind("<Down>", partial(go, place + 1))
        button.bind("<Up>", partial(go, place - 1))
