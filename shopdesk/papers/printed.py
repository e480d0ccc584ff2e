"""A paper that is drawn, and how it comes safely into a folder."""

from dataclasses import dataclass
from pathlib import Path

from shopdesk.files import safe_name, write_whole


@dataclass(frozen=True, slots=True)
class Printed:
    """A drawn paper."""

    pdf: bytes
    pages: int
    missing: tuple[str, ...]
    """Characters that no face of ours has; each stands on the paper as its code."""


def save_paper(folder: Path, name: str, printed: Printed) -> Path:
    """Write `printed` into `folder` as ``name.pdf`` and return its path.

    The file appears whole or not at all, and takes the place of one of the same name. Whatever a
    file name can't hold is left out of `name`.

    Raises:
        OSError: the folder can't be made or written.
    """
    return write_whole(folder / f"{safe_name(name.removesuffix('.pdf'))}.pdf", printed.pdf)
