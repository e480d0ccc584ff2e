"""Does what takes long beside the window, one thing after another, and brings the results back."""

import queue
import threading
import tkinter as tk
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, TypeVar

Found = TypeVar("Found")
POLL_MS = 15
PATIENCE_SECONDS = 10.0


@dataclass(frozen=True, slots=True)
class Task:
    """One thing to do, and what to do in the window with what came of it."""

    doing: str
    work: Callable[[], Any]
    then: Callable[[Any], object]
    sorry: Callable[[Exception], object]


class Worker:
    """One thread of its own. ``busy_changed`` is told in words what it does, or an empty string."""

    def __init__(
        self,
        window: tk.Misc,
        sorry: Callable[[Exception], object],
        busy_changed: Callable[[str], object] = lambda words: None,
    ) -> None:
        self._window = window
        self._sorry = sorry
        self._busy_changed = busy_changed
        self._tasks: queue.SimpleQueue[Task | None] = queue.SimpleQueue()
        self._results: queue.SimpleQueue[tuple[Task, Any, Exception | None]] = queue.SimpleQueue()
        self._waiting: list[Task] = []
        self._poll = ""
        self._thread: threading.Thread | None = None
        self._closed = False

    @property
    def busy(self) -> bool:
        """Whether anything is not finished yet."""
        return bool(self._waiting)

    def run(
        self,
        work: Callable[[], Found],
        then: Callable[[Found], object],
        *,
        doing: str = "",
        sorry: Callable[[Exception], object] | None = None,
    ) -> None:
        """Do ``work`` off the window's thread, then ``then`` on it; an error goes to ``sorry``.

        ``work`` may not touch the window. ``doing`` is shown while it runs ("Writing the invoice").
        """
        if self._closed:
            return
        self._start()
        task = Task(doing, work, then, sorry or self._sorry)
        self._waiting.append(task)
        self._tasks.put(task)
        self._tell()
        if not self._poll:
            self._poll = self._window.after(POLL_MS, self._collect)

    def finish(self) -> None:
        """Wait for all that was handed in, and bring its results back; the window waits as well."""
        if not self.busy:
            return
        done = threading.Event()
        self.run(done.set, lambda _: None)
        done.wait(PATIENCE_SECONDS)
        if self._poll:
            self._window.after_cancel(self._poll)
        self._collect()

    def close(self) -> None:
        """Take on nothing more, drop what waits, and wait for what runs."""
        self._closed = True
        if self._poll:
            self._window.after_cancel(self._poll)
        while not self._tasks.empty():
            self._tasks.get_nowait()
        self._tasks.put(None)
        if self._thread is not None:
            self._thread.join(PATIENCE_SECONDS)

    def _start(self) -> None:
        if self._thread is None:
            self._thread = threading.Thread(target=self._labour, name="desk work", daemon=True)
            self._thread.start()

    def _labour(self) -> None:
        while (task := self._tasks.get()) is not None:
            try:
                self._results.put((task, task.work(), None))
            except Exception as error:
                self._results.put((task, None, error))

    def _collect(self) -> None:
        self._poll = ""
        try:
            while not self._results.empty():
                self._finish(*self._results.get_nowait())
        finally:
            if self._waiting and not self._closed and not self._poll:
                self._poll = self._window.after(POLL_MS, self._collect)

    def _finish(self, task: Task, found: Any, error: Exception | None) -> None:
        self._waiting.remove(task)
        self._tell()
        if error is None:
            task.then(found)
        else:
            task.sorry(error)

    def _tell(self) -> None:
        self._busy_changed(next((task.doing for task in self._waiting if task.doing), ""))
