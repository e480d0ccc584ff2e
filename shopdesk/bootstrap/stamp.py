"""Keeps what a .venv was made from, and decides by that whether it will do."""

import enum
import json
import os
from pathlib import Path
from typing import NamedTuple

STAMP = "shopdesk-setup.json"


class Action(enum.Enum):
    """What has to be done before the program can run."""

    RUN = "nothing"
    INSTALL = "put the packages into the .venv that is there"
    REBUILD = "make the .venv anew"


class Wish(NamedTuple):
    """What the program that is to be run needs of the .venv."""

    project: str
    """The project's folder."""
    version: str
    """The Python that was asked to run it, such as "3.11"."""
    requirements: str
    """A digest of pyproject.toml."""
    extra: str
    """The optional dependencies it needs, or nothing."""


class Stamp(NamedTuple):
    """What a .venv was made from and what it holds, as noted inside it."""

    project: str
    """The project's folder: a .venv can't be moved or copied along with it."""
    version: str
    requirements: str
    extras: list[str]
    interpreters: list[list[str | int]]
    """Path, time of change (ns) and size of each file that its Python is started from."""
    finished: bool
    """False while packages are being put in, and ever after if that was cut short."""

    def unchanged(self) -> bool:
        """Tell whether the files that its Python is started from are the very same still."""
        return all(fingerprint(str(path)) == [path, *rest] for path, *rest in self.interpreters)


def plan(stamp: Stamp | None, wish: Wish, *, works: bool) -> Action:
    """Decide what to do about the .venv that ``stamp`` describes.

    ``works`` tells whether its Python starts, and is of the wished version. A .venv without a
    stamp was made by somebody else: if it works it is used, not thrown away.
    """
    if not works:
        return Action.REBUILD
    if stamp is None:
        return Action.INSTALL
    here = (stamp.project, stamp.version) == (wish.project, wish.version)
    if not (here and stamp.finished):
        return Action.REBUILD
    has_extra = not wish.extra or wish.extra in stamp.extras
    return Action.RUN if has_extra and stamp.requirements == wish.requirements else Action.INSTALL


def fingerprint(path: str) -> list[str | int]:
    """Return path, time of change (ns) and size of a file; zeros when it is gone."""
    try:
        state = os.stat(path)  # noqa: PTH116
    except OSError:
        return [path, 0, 0]
    return [path, state.st_mtime_ns, state.st_size]


def read_stamp(venv: Path) -> Stamp | None:
    """Return what is noted in ``venv``; None when nothing (that can be read) is."""
    try:
        return Stamp(**json.loads((venv / STAMP).read_text(encoding="utf-8")))
    except (FileNotFoundError, NotADirectoryError, ValueError, TypeError):
        return None


def write_stamp(venv: Path, stamp: Stamp | None) -> None:
    """Note ``stamp`` in ``venv`` in one go, or take away what is noted there (None)."""
    if stamp is None:
        (venv / STAMP).unlink(missing_ok=True)
        return
    draft = venv / (STAMP + ".new")
    draft.write_text(json.dumps(stamp._asdict(), indent=1), encoding="utf-8")
    draft.replace(venv / STAMP)
