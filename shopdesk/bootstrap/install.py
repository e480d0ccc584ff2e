"""Makes a .venv and puts the project's packages into it, with uv or else with pip."""

import importlib.util
import json
import os
import shutil
import subprocess
import sys
import venv
from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import NamedTuple

from shopdesk.bootstrap.system import VENV, how_to_get
from shopdesk.bootstrap.troubles import SetupError, from_installer

_PROBE = (
    "import json, os, sys; print(json.dumps(['{}.{}'.format(*sys.version_info),"
    " os.path.realpath(getattr(sys, '_base_executable', sys.executable))]))"
)


class Probe(NamedTuple):
    """What a .venv's Python says of itself when started."""

    version: str
    base: str
    """The Python that it was made from."""


def probe(python: Path) -> Probe | None:
    """Start ``python`` and ask it; None when it doesn't start."""
    try:
        answer = _quietly([str(python), "-I", "-c", _PROBE])
    except OSError:
        return None
    return Probe(*json.loads(answer.stdout)) if answer.returncode == 0 else None


def check_tools(python: Path) -> None:
    """Raise SetupError when what makes a .venv and fills it is missing from the system."""
    makes = importlib.util.find_spec("venv") is not None
    fills = shutil.which("uv") or importlib.util.find_spec("ensurepip") or _has_pip(python)
    if not (makes and fills):
        raise SetupError(f"This Python has no {VENV.name}: {how_to_get([VENV])}")


def check_folder(folder: Path, stamp: str) -> None:
    """Raise SetupError when ``folder`` is no .venv but something of the person's own."""
    inside = {path.name for path in folder.iterdir()} if folder.is_dir() else set()
    empty = not inside and (folder.is_dir() or not folder.exists())
    if not (empty or inside & {stamp, "pyvenv.cfg"}):
        raise SetupError(
            f"{folder} is not an environment that shopdesk can use: move it away, for that is"
            " where shopdesk puts its packages."
        )


def make_anew(folder: Path, keep: str) -> None:
    """Make an environment without any package in ``folder``; of what it held, ``keep`` stays."""
    for path in folder.iterdir():
        if path.is_dir() and not path.is_symlink():
            shutil.rmtree(path)
        elif path.name != keep:
            path.unlink()
    venv.EnvBuilder(symlinks=os.name != "nt", with_pip=False).create(folder)


def put_packages(project: str, python: Path, extras: Iterable[str]) -> None:
    """Install ``project`` (so that edits show at once) with ``extras``. Raises SetupError."""
    named = ",".join(extras)
    editable = ["--editable", f"{project}[{named}]" if named else project]
    uv = shutil.which("uv")
    if uv and _works([uv, "pip", "install", "--python", str(python), *editable], project):
        return
    pip = [str(python), "-P", "-m", "pip", "--disable-pip-version-check", "--no-input", "install"]
    for command in [*_ways_to_pip(python), [*pip, *editable]]:
        outcome = _quietly(command, project)
        if outcome.returncode != 0:
            sys.stderr.write(outcome.stdout)
            raise from_installer(outcome.stdout, project)


def _has_pip(python: Path) -> bool:
    try:
        return _works([str(python), "-I", "-c", "import pip"])
    except OSError:
        return False


def _ways_to_pip(python: Path) -> list[list[str]]:
    return [] if _has_pip(python) else [[str(python), "-I", "-m", "ensurepip", "--default-pip"]]


def _works(command: Sequence[str], folder: str | None = None) -> bool:
    return _quietly(command, folder).returncode == 0


def _quietly(command: Sequence[str], folder: str | None = None) -> subprocess.CompletedProcess[str]:
    """Run, keeping what is printed; ``close_fds`` lets the lock last as long as the command."""
    return subprocess.run(
        command,
        cwd=folder,
        stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        encoding="utf-8",
        errors="replace",
        close_fds=False,
        check=False,
    )
