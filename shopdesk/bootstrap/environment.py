"""Has the project's .venv ready: as it is if it will do, else made or mended."""

import hashlib
import os
import sys
from pathlib import Path

from shopdesk.bootstrap.lock import only_one
from shopdesk.bootstrap.stamp import (
    STAMP,
    Action,
    Stamp,
    Wish,
    fingerprint,
    plan,
    read_stamp,
    write_stamp,
)
from shopdesk.bootstrap.troubles import SetupError, from_os_error

_ANNOUNCED = {
    Action.INSTALL: "Bringing the packages of shopdesk up to date …",
    Action.REBUILD: "Setting up shopdesk (once) …",
}


def ready_python(project: Path, extra: str = "") -> Path:
    """Return the Python of ``project``'s .venv, with its packages and those of ``extra``.

    Raises SetupError. When there is nothing to do, this only reads two small files.
    """
    try:
        wish = _wish(project, extra)
        if _next_action(wish) is not Action.RUN:
            with only_one(project / ".venv.lock"):
                action = _next_action(wish)  # another start may have done it meanwhile
                if action is not Action.RUN:
                    _carry_out(action, wish)
    except OSError as error:
        raise from_os_error(error, str(project)) from error
    return _python_of(project / ".venv")


def _wish(project: Path, extra: str) -> Wish:
    digest = hashlib.sha256((project / "pyproject.toml").read_bytes()).hexdigest()
    return Wish(str(project), "{}.{}".format(*sys.version_info), digest, extra)


def _python_of(venv: Path) -> Path:
    return venv / ("Scripts/python.exe" if os.name == "nt" else "bin/python")


def _next_action(wish: Wish) -> Action:
    venv = Path(wish.project, ".venv")
    stamp = read_stamp(venv)
    works = stamp is not None and stamp.unchanged()
    if not works:
        from shopdesk.bootstrap import install

        answer = install.probe(_python_of(venv))
        works = answer is not None and answer.version == wish.version
    return plan(stamp, wish, works=works)


def _carry_out(action: Action, wish: Wish) -> None:
    from shopdesk.bootstrap import install

    venv = Path(wish.project, ".venv")
    python = _python_of(venv)
    install.check_tools(python)
    install.check_folder(venv, STAMP)
    print(_ANNOUNCED[action], file=sys.stderr, flush=True)
    venv.mkdir(exist_ok=True)
    before = read_stamp(venv)
    extras = sorted({*(before.extras if before else []), wish.extra} - {""})
    stamp = Stamp(wish.project, wish.version, wish.requirements, extras, [], finished=False)
    write_stamp(venv, stamp)
    try:
        if action is Action.REBUILD:
            install.make_anew(venv, keep=STAMP)
        install.put_packages(wish.project, python, extras)
    except SetupError:
        if action is Action.INSTALL:
            write_stamp(venv, before)
        raise
    write_stamp(venv, stamp._replace(interpreters=_interpreters(python), finished=True))


def _interpreters(python: Path) -> list[list[str | int]]:
    from shopdesk.bootstrap import install

    answer = install.probe(python)
    if answer is None:
        raise SetupError(f"{python} does not start: remove the folder .venv, then run it again.")
    return [fingerprint(str(python)), fingerprint(answer.base)]
