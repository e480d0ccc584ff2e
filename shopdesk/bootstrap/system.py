"""Names what this computer lacks for shopdesk, and the command that brings it."""

import os
import platform
import sys
from collections.abc import Iterable, Mapping
from typing import NamedTuple


class Need(NamedTuple):
    """Something that comes with the system, not from the package index."""

    name: str
    packages: Mapping[str, str]
    """What it is called by each system's installer; a system that always has it is left out."""


VENV = Need(
    "venv (with ensurepip)",
    {
        "debian": "python3-venv",
        "fedora": "python3-libs",
        "macos": "python",
        "windows": "Python.Python.3.13",
    },
)
TKINTER = Need(
    "tkinter",
    {
        "debian": "python3-tk",
        "fedora": "python3-tkinter",
        "macos": "python-tk@{}.{}".format(*sys.version_info),
        "windows": "Python.Python.3.13",
    },
)

_INSTALLERS = {
    "debian": "apt install",
    "fedora": "dnf install",
    "macos": "brew install",
    "windows": "winget install --exact --id",
}


def this_system() -> str:
    """Return "debian" or "fedora" (or what is made from them), "macos", "windows" or "other"."""
    named = {"darwin": "macos", "win32": "windows"}.get(sys.platform)
    if named:
        return named
    try:
        release = platform.freedesktop_os_release()
    except OSError:
        return "other"
    return linux_family(release["ID"], release.get("ID_LIKE", ""))


def linux_family(identity: str, like: str) -> str:
    """Return the family of a Linux from the ID and ID_LIKE of its os-release file."""
    names = {identity, *like.split()}
    if names & {"debian", "ubuntu"}:
        return "debian"
    return "fedora" if names & {"fedora", "rhel", "centos"} else "other"


def is_root() -> bool:
    """Tell whether we may install packages without asking."""
    return hasattr(os, "geteuid") and os.geteuid() == 0


def command_for(needs: Iterable[Need], system: str, *, root: bool) -> str:
    """Return the command that brings ``needs`` on ``system``, or in words what to look for."""
    needs = list(needs)
    if system == "other":
        names = ", ".join(need.packages["debian"] for need in needs)
        return f"your system's package installer (Debian calls the packages {names})"
    packages = dict.fromkeys(need.packages[system] for need in needs if system in need.packages)
    sudo = "sudo " if system in ("debian", "fedora") and not root else ""
    return f"{sudo}{_INSTALLERS[system]} {' '.join(packages)}"


def how_to_get(needs: Iterable[Need]) -> str:
    """Return "install it with: …" for ``needs`` on the computer that this runs on."""
    system = this_system()
    advice = f"install it with: {command_for(needs, system, root=is_root())}"
    if system in ("debian", "fedora") and sys.base_prefix != "/usr":
        advice += (
            f" (that is for the system's own Python: start shopdesk with /usr/bin/python3, for"
            f" {sys.base_prefix} was built without it)"
        )
    return advice


def has_tkinter() -> bool:
    """Tell whether this Python can draw windows."""
    try:
        import tkinter  # noqa: F401
    except ImportError:
        return False
    return True


def missing_for_window(environment: Mapping[str, str] = os.environ) -> str:
    """Return in one sentence why no window can be opened here; nothing when one can, it seems."""
    if not has_tkinter():
        return f"This Python has no tkinter: {how_to_get([TKINTER])}"
    if sys.platform not in ("win32", "darwin") and not environment.get("DISPLAY"):
        return "There is no display here: DISPLAY is not set."
    return ""
