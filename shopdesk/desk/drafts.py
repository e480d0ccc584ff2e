"""Holds what is typed and not saved yet, and writes it down within a second of the last key."""

from __future__ import annotations

import tkinter as tk
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import datetime
from functools import partial
from typing import Protocol

from shopdesk.desk.worker import Worker
from shopdesk.errors import JobError, RecordsError
from shopdesk.job.drafts import Content, Place, drafts_left, drop_draft, keep_draft
from shopdesk.job.shift import Shift

WRITE_MS, RETRY_MS = 900, 5_000


@dataclass(frozen=True, slots=True)
class Typed:
    """What stands typed at a place and is not saved; an empty ``content`` is nothing.

    ``came_at`` is set for what an earlier window left, and tells when it was typed.
    """

    place: Place
    called: str
    content: Content
    came_at: datetime | None = None


class Source(Protocol):
    """What is typed into: a page of a ticket, a card, the settings."""

    def typed(self) -> Typed | None:
        """Return what stands there now, or ``None`` while that can't be told."""


Changes = Mapping[Place, Typed | None]


class Drafts:
    """What is typed anywhere in one window.

    Sources say ``touched`` as often as they like; they are read when it matters, and what changed
    is written beside the window. ``say`` hears, once, why it can't be written; ``sorry`` hears of
    errors of our own. ``on_change`` is told when a place begins or ceases to hold something.
    """

    def __init__(
        self,
        window: tk.Misc,
        shift: Shift,
        say: Callable[[str], object],
        sorry: Callable[[Exception], object],
    ) -> None:
        self.on_change: Callable[[], object] = lambda: None
        self._window = window
        self._shift = shift
        self._say = say
        self._sorry = sorry
        self._worker = Worker(window, self._failed)
        self._held = {
            draft.place: Typed(draft.place, draft.called, draft.content, draft.typed_at)
            for draft in drafts_left(shift)
        }
        self._touched: dict[Source, None] = {}
        self._unwritten: set[Place] = set()
        self._writing: Changes = {}
        self._timer = ""
        self._told = False

    @property
    def all(self) -> tuple[Typed, ...]:
        """All that is typed and not saved."""
        self.gather()
        return tuple(self._held.values())

    def held(self, place: Place) -> Typed | None:
        """Return what a place was last known to hold; what was typed this moment may be missing."""
        return self._held.get(place)

    def find(self, place: Place) -> Typed | None:
        """Return what is typed at a place and not saved."""
        self.gather()
        return self._held.get(place)

    def touched(self, source: Source) -> None:
        """Take note that something was typed, saved or emptied there."""
        self._touched[source] = None
        self._arm(WRITE_MS)

    def gather(self) -> None:
        """Read what stands in the sources that were touched."""
        sources, self._touched = self._touched, {}
        for source in sources:
            typed = source.typed()
            if typed is not None:
                self._take(typed)

    def forget(self, place: Place) -> None:
        """Drop what is held for a place, here and in the records."""
        if self._held.pop(place, None) is not None:
            self._unwritten.add(place)
            self._write()
            self.on_change()

    def keep_now(self) -> bool:
        """Write what is not written yet and wait for it; returns whether all of it is kept."""
        self.gather()
        for _ in ("what is being written", "what came after it"):
            self._write()
            self._worker.finish()
        return not self._unwritten

    def close(self) -> None:
        """End the writing beside the window."""
        if self._timer:
            self._window.after_cancel(self._timer)
            self._timer = ""
        self._worker.close()

    def _take(self, typed: Typed) -> None:
        held = self._held.get(typed.place)
        if not typed.content:
            self.forget(typed.place)
        elif held is None or held.content != typed.content:
            came_at = held.came_at if held else None
            self._held[typed.place] = Typed(typed.place, typed.called, typed.content, came_at)
            self._unwritten.add(typed.place)
            self._arm(WRITE_MS)
            if held is None:
                self.on_change()

    def _arm(self, after_ms: int) -> None:
        if not self._timer:
            self._timer = self._window.after(after_ms, self._tick)

    def _tick(self) -> None:
        self._timer = ""
        self.gather()
        self._write()

    def _write(self) -> None:
        """Have what changed written; while something is being written, it waits its turn."""
        if not self._unwritten or self._writing:
            return
        self._writing = {place: self._held.get(place) for place in self._unwritten}
        self._unwritten.clear()
        self._worker.run(partial(_written, self._shift, self._writing), self._done)

    def _done(self, refused: list[str]) -> None:
        self._writing = {}
        if refused and not self._told:
            self._say(refused[0])
        self._told = bool(refused)
        self._write()

    def _failed(self, error: Exception) -> None:
        """Try again later; the person hears of it once, and types on meanwhile."""
        self._unwritten |= self._writing.keys()
        self._writing = {}
        self._arm(RETRY_MS)
        if not isinstance(error, RecordsError):
            self._sorry(error)
        elif not self._told:
            self._told = True
            self._say(f"What is typed is safe only once it is saved. {error.sentence}")


def _written(shift: Shift, changes: Changes) -> list[str]:
    """Write and drop; return in sentences what can't be kept as it is."""
    refused = []
    for place, typed in changes.items():
        try:
            if typed is None:
                drop_draft(shift, place)
            else:
                keep_draft(shift, place, typed.called, typed.content)
        except RecordsError:
            raise
        except JobError as error:
            refused.append(error.sentence)
    return refused
