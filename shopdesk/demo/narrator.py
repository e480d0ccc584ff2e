"""Prints what is done on the demo's one ticket, the stage in the margin, wrapped for the screen."""

import shutil
import textwrap
from collections.abc import Callable
from dataclasses import dataclass

from shopdesk.job.stages import Stage

MARGIN = 11
WIDEST = 110


@dataclass(slots=True)
class Narrator:
    """Hears of a ticket and writes each sentence with ``write``."""

    write: Callable[[str], None]
    _stage: Stage | None = None

    def __call__(self, stage: Stage, words: str) -> None:
        """Write the sentence; the stage stands beside the first one of it."""
        label = "" if stage is self._stage else str(stage)
        self._stage = stage
        self.write(
            textwrap.fill(
                words,
                min(WIDEST, shutil.get_terminal_size((WIDEST, 40)).columns),
                initial_indent=f"{label:<{MARGIN}}",
                subsequent_indent=" " * (MARGIN + 2),
                break_long_words=False,
            )
        )
