"""Many things of one kind done beside the window: how far it is, and a key that stops it."""

import tkinter as tk
from collections.abc import Callable, Sequence

import ttkbootstrap as ttk

from shopdesk.desk import look
from shopdesk.desk.front import Front
from shopdesk.desk.keys import action_button
from shopdesk.errors import JobError


class Batch(ttk.Frame):
    """Does one job after another; out of sight while there is nothing to do.

    What a job says that it can't be done is gathered, and the next one is done. Anything else that
    goes wrong ends it, and is said in the notice line.
    """

    def __init__(self, parent: tk.Misc, front: Front, key: str) -> None:
        super().__init__(parent)
        self._front = front
        self._words = ttk.Label(self)
        self._words.pack(side="left")
        self._bar = ttk.Progressbar(self, length=look.pixels(self, 220))
        self._bar.pack(side="left", padx=12)
        self._button = action_button(self, front.keys, "Stop", key, self.stop)
        self._button.pack(side="left")
        self._jobs: Sequence[Callable[[], object]] = ()
        self._then: Callable[[list[str], bool], object] = lambda _refused, _whole: None
        self._doing = ""
        self._refused: list[str] = []
        self._done = 0
        self._stopped = False
        self.running = False
        """Whether it is at work."""

    def run(
        self,
        doing: str,
        jobs: Sequence[Callable[[], object]],
        then: Callable[[list[str], bool], object],
    ) -> None:
        """Do the jobs, then tell ``then`` what was refused, and whether all of them were done.

        The jobs may not touch the window.
        """
        self._doing, self._jobs, self._then = doing, jobs, then
        self._refused, self._done, self._stopped, self.running = [], 0, False, True
        self._bar.configure(maximum=max(len(jobs), 1))
        self.pack(fill="x", pady=(0, 8))
        self._next()

    def stop(self) -> None:
        """Do none of those that wait; the one at work is finished."""
        self._stopped = True

    @property
    def words(self) -> str:
        """How far it is."""
        return str(self._words.cget("text"))

    def _next(self) -> None:
        self._bar.configure(value=self._done)
        self._words.configure(text=f"{self._doing}: {self._done} of {len(self._jobs)}")
        if self._stopped or self._done == len(self._jobs):
            self._end()
            return
        self._front.worker.run(
            self._jobs[self._done], self._one_done, doing=self._doing, sorry=self._sorry
        )

    def _one_done(self, _made: object) -> None:
        self._done += 1
        self._next()

    def _sorry(self, error: Exception) -> None:
        if isinstance(error, JobError):
            self._refused.append(error.sentence)
            self._one_done(None)
            return
        self._leave()
        raise error

    def _end(self) -> None:
        self._leave()
        self._then(self._refused, self._done == len(self._jobs))

    def _leave(self) -> None:
        self.running = False
        self.pack_forget()
