"""What the desk may ask a person in between: yes or no, a line of text, one of several, a file."""

from collections.abc import Sequence
from pathlib import Path
from typing import Protocol


class Dialogs(Protocol):
    """The questions, without a window: the real ones and the tests' ones answer alike."""

    def confirm(
        self, title: str, question: str, yes: str = "Yes", no: str = "No", *, risky: bool = False
    ) -> bool:
        """Return whether the person said yes; where that is ``risky``, Enter alone means no."""

    def ask_text(self, title: str, question: str, initial: str = "") -> str | None:
        """Return the line that was typed, or ``None`` when the person thought better of it."""

    def choose(self, title: str, question: str, choices: Sequence[str]) -> int | None:
        """Return the index of the choice taken, or ``None``."""

    def inform(self, title: str, sentence: str) -> None:
        """Say something that must be read before going on."""

    def choose_files(self, title: str, endings: Sequence[str]) -> tuple[Path, ...]:
        """Return existing files whose names have one of ``endings`` (``.jpg``); none if not."""
