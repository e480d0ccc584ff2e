"""How far a long work has come, and how it is stopped on the way."""

from collections.abc import Callable
from typing import TypeAlias

from shopdesk.errors import JobError

Tell: TypeAlias = Callable[[int, int], object]
"""Told how many of how many are done; it may raise ``StoppedError``."""
EACH = 200
"""How many rows are done between one telling and the next."""


class StoppedError(JobError):
    """The person stopped it: nothing was kept."""

    def __init__(self) -> None:
        super().__init__("Stopped: nothing was kept.")


def in_silence(done: int, of: int) -> None:
    """Tell nobody."""
