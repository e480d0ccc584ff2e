"""Starts shopdesk from a bare Python: has .venv made ready, then runs the command inside it."""

import os
import sys

# Whatever Python the person has reads this file: it must parse on old ones, to say so.

OLDEST = (3, 11)


def start(project: str, program: str, arguments: "list[str]", extra: str = "") -> int:
    """Run ``program`` of ``project``'s .venv, which is made or mended first when needed.

    ``extra`` names the optional dependencies (in pyproject.toml) that the program needs. On POSIX
    this does not return once the program runs; elsewhere it returns the program's exit code.
    Returns 2, with one sentence on standard error, when the environment can't be had.
    """
    complaint = too_old(sys.version_info[:3])
    if complaint:
        return _give_up(complaint)

    from pathlib import Path

    from shopdesk.bootstrap.environment import ready_python
    from shopdesk.bootstrap.troubles import SetupError

    try:
        python = ready_python(Path(project), extra)
    except SetupError as error:
        return _give_up(str(error))
    except KeyboardInterrupt:
        sys.stderr.write("Setting up shopdesk was stopped; run it again to finish.\n")
        return 130
    return _become(str(python), program, arguments)


def too_old(version: "tuple[int, ...]") -> str:
    """Return what to do when ``version`` is too old for shopdesk; nothing when it will do."""
    if version[:2] >= OLDEST:
        return ""
    return (
        "shopdesk needs Python {}.{} or newer, and this is {} ({}). Get a newer one"
        " (https://www.python.org/downloads/) and start it with that."
    ).format(OLDEST[0], OLDEST[1], ".".join(map(str, version)), sys.executable)


def _give_up(complaint: str) -> int:
    sys.stderr.write(complaint + "\n")
    return 2


def _become(python: str, program: str, arguments: "list[str]") -> int:
    """Run with the same folder and standard streams; ``-P`` keeps that folder's files out."""
    script = os.path.join(os.path.dirname(python), program)  # noqa: PTH118, PTH120
    sys.stderr.flush()
    if os.name != "nt":
        os.execv(python, [python, "-P", script, *arguments])
    import subprocess

    with subprocess.Popen([script + ".exe", *arguments]) as process:
        while True:
            try:
                return process.wait()
            except KeyboardInterrupt:  # the program gets Ctrl-C too, and decides when to end
                continue
