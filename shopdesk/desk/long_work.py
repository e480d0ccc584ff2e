"""Long work beside the window: how far it has come, and a key that stops it."""

from __future__ import annotations

import threading
import tkinter as tk
from collections.abc import Callable
from typing import TypeVar

import ttkbootstrap as ttk

from shopdesk.desk.front import Front
from shopdesk.desk.keys import action_button
from shopdesk.errors import JobError
from shopdesk.job.importing.progress import StoppedError, Tell

Done = TypeVar("Done")
_LOOK_MS = 100


class LongWork(ttk.Frame):
    """A bar that fills while one thing is done, with a button to stop it; else out of sight."""

    def __init__(self, parent: tk.Misc, front: Front) -> None:
        super().__init__(parent)
        self._front = front
        self._stop = threading.Event()
        self._come = (0, 1)
        self._later = ""
        self._words = ttk.Label(self)
        self._words.pack(side="left")
        self._bar = ttk.Progressbar(self, maximum=1000)
        self._bar.pack(side="left", fill="x", expand=True, padx=12)
        action_button(self, front.keys, "Stop", "Alt+Q", self.stop).pack(side="left")
        self.bind("<Destroy>", lambda _event: self._forget())
        self.running = False
        self.stands_before: tk.Misc | None = None
        """What it stands above while it is in sight."""

    def run(
        self,
        doing: str,
        work: Callable[[Tell], Done],
        then: Callable[[Done], object],
        otherwise: Callable[[], object] = lambda: None,
    ) -> None:
        """Do ``work`` beside the window, told what to tell; then ``then`` in the window.

        What goes wrong, or was stopped, stands in the notice line, and ``otherwise`` is done.
        """
        if self.running:
            self._front.notices.trouble("One thing after another: wait, or stop it with Alt+Q.")
            return
        self._stop.clear()
        self._come, self.running = (0, 1), True
        self._doing = doing
        if self.stands_before is None:
            self.pack(fill="x", pady=4)
        else:
            self.pack(fill="x", pady=4, before=self.stands_before)
        self._look()

        def finished(done: Done) -> None:
            self._end()
            then(done)

        def sorry(error: Exception) -> None:
            self._sorry(error)
            otherwise()

        self._front.worker.run(lambda: work(self._tell), finished, doing=doing, sorry=sorry)

    def stop(self) -> None:
        """Stop it: nothing is kept."""
        self._stop.set()

    def _tell(self, done: int, of: int) -> None:
        """Note how far it is; called beside the window, so it touches nothing of it."""
        self._come = (done, max(of, 1))
        if self._stop.is_set():
            raise StoppedError

    def _look(self) -> None:
        done, of = self._come
        self._bar.configure(value=1000 * done / of)
        self._words.configure(text=f"{self._doing}: {done:,} of {of:,}" if done else self._doing)
        self._later = self.after(_LOOK_MS, self._look)

    def _sorry(self, error: Exception) -> None:
        self._end()
        if not isinstance(error, JobError):
            raise error
        self._front.notices.trouble(error.sentence)

    def _end(self) -> None:
        self._forget()
        self.running = False
        self.pack_forget()

    def _forget(self) -> None:
        if self._later:
            self.after_cancel(self._later)
            self._later = ""
