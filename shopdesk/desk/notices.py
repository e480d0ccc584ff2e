"""The line at the foot of the window: what was done, what went wrong, and what is being done."""

import tkinter as tk

import ttkbootstrap as ttk

from shopdesk.desk import look
from shopdesk.desk.fields import wrapping
from shopdesk.desk.signs import Sign, SignMark


class NoticeLine(ttk.Frame):
    """Shows one sentence with its sign; what runs meanwhile stands at the right."""

    def __init__(self, parent: tk.Misc) -> None:
        super().__init__(parent, padding=(12, 3))
        self._sign = SignMark(self, Sign.GOOD)
        self._words = wrapping(ttk.Label(self, text="", anchor="w"))
        self._words.pack(side="left", fill="x", expand=True)
        self._busy = ttk.Label(self, text="", bootstyle="secondary", font=look.SMALL)
        self._bar = ttk.Progressbar(self, mode="indeterminate", length=look.pixels(self, 80))

    @property
    def text(self) -> str:
        """The sentence that is shown."""
        return str(self._words.cget("text"))

    @property
    def busy_with(self) -> str:
        """What is being done beside the window, or an empty string."""
        return str(self._busy.cget("text")) if self._busy.winfo_manager() else ""

    def say(self, sentence: str) -> None:
        """Say what was done."""
        self._show(sentence, Sign.GOOD, "default")

    def trouble(self, sentence: str) -> None:
        """Say what went wrong and what to do."""
        self._show(sentence, Sign.TROUBLE, "danger")

    def mention(self, sentence: str) -> None:
        """Say what is good to know, and stops nobody."""
        self._show(sentence, Sign.UNSURE, "default")

    def clear(self) -> None:
        """Say nothing."""
        self._sign.pack_forget()
        self._words.configure(text="")

    def doing(self, words: str) -> None:
        """Show what is being done beside the window, or nothing."""
        if not words:
            self._bar.stop()
            self._bar.pack_forget()
            self._busy.pack_forget()
            return
        self._busy.configure(text=f"{words} …")
        self._bar.pack(side="right")
        self._busy.pack(side="right", padx=8)
        self._bar.start(20)

    def _show(self, sentence: str, sign: Sign, bootstyle: str) -> None:
        self._sign.show(sign)
        self._sign.pack(side="left", before=self._words, padx=(0, 6))
        self._words.configure(text=sentence, bootstyle=bootstyle)
