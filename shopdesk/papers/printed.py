"""A paper that is drawn, and how it comes safely into a folder."""

import os
import re
import tempfile
import unicodedata
from dataclasses import dataclass
from pathlib import Path

_UNSAFE = re.compile(r"[^\w\- ]+")
_LONGEST_NAME = 100


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
    folder.mkdir(parents=True, exist_ok=True)
    target = folder / f"{_safe(name)}.pdf"
    handle, beginning = tempfile.mkstemp(prefix=".printing-", suffix=".pdf", dir=folder)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(printed.pdf)
            file.flush()
            os.fsync(file.fileno())
        Path(beginning).replace(target)
    except BaseException:
        Path(beginning).unlink(missing_ok=True)
        raise
    return target


def _safe(name: str) -> str:
    plain = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode()
    kept = " ".join(_UNSAFE.sub(" ", plain.removesuffix(".pdf")).split())
    return kept[:_LONGEST_NAME].strip() or "paper"
