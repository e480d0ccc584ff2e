"""What the tests need from the system, and how it gets there."""

import importlib.util
import os
import shutil
import subprocess
import sys

from shopdesk.bootstrap.system import (
    TKINTER,
    VENV,
    Need,
    has_tkinter,
    how_to_get,
    is_root,
    this_system,
)

XVFB = Need("Xvfb", {"debian": "xvfb", "fedora": "xorg-x11-server-Xvfb"})
WINDOW_MANAGER = Need(
    "a window manager (openbox or evilwm)", {"debian": "openbox", "fedora": "openbox"}
)


def own_screen() -> bool:
    """Tell whether windows are tested on a virtual screen; elsewhere on the real one."""
    return sys.platform not in ("win32", "darwin")


def window_manager() -> list[str]:
    """Return the command of the small window manager that is here, or nothing."""
    if shutil.which("openbox"):
        return ["openbox", "--sm-disable"]
    return ["evilwm"] if shutil.which("evilwm") else []


def missing() -> list[Need]:
    """Return what this computer lacks for the tests, some of which set up or open windows."""
    lacks = [] if importlib.util.find_spec("ensurepip") else [VENV]
    lacks += [] if has_tkinter() else [TKINTER]
    if own_screen():
        lacks += [] if shutil.which("Xvfb") else [XVFB]
        lacks += [] if window_manager() else [WINDOW_MANAGER]
    return lacks


def complaint(lacks: list[Need]) -> str:
    """Return in a sentence what is missing and how to get it; nothing when nothing is."""
    names = ", ".join(need.name for need in lacks)
    return f"The tests need {names}: {how_to_get(lacks)}" if lacks else ""


def bring() -> str:
    """Install what is missing where that is ours to do; return what to do about the rest."""
    lacks = missing()
    if lacks and this_system() == "debian" and is_root():
        names = ", ".join(need.name for need in lacks)
        print(f"Installing {names} …", file=sys.stderr, flush=True)
        if not _apt_get("update") or not _apt_get(
            "install", *(n.packages["debian"] for n in lacks)
        ):
            return f"apt-get could not install what the tests need (see above): {how_to_get(lacks)}"
        importlib.invalidate_caches()
        lacks = missing()
    return complaint(lacks)


def _apt_get(command: str, *packages: str) -> bool:
    options = ["-qq", "--yes"] + (["--no-install-recommends"] if packages else [])
    outcome = subprocess.run(
        ["apt-get", command, *options, *packages],
        env={**os.environ, "DEBIAN_FRONTEND": "noninteractive"},
        stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        encoding="utf-8",
        errors="replace",
        check=False,
    )
    if outcome.returncode != 0:
        sys.stderr.write(outcome.stdout)
    return outcome.returncode == 0
