"""Gives the tests a world of their own: home folder, language, time zone and screen."""

import os
import shutil
import sys
import tempfile
import time
from pathlib import Path

import pytest

from tests import system_needs
from tests.virtual_display import DisplayError, VirtualDisplay

_HOME = pytest.StashKey[Path]()
_DISPLAY = pytest.StashKey[VirtualDisplay]()


def pytest_configure(config: pytest.Config) -> None:
    """Set the environment before any of the program is imported."""
    home = Path(tempfile.mkdtemp(prefix="shopdesk-tests-"))
    config.stash[_HOME] = home
    for name in [name for name in os.environ if name.startswith(("XDG_", "LC_", "SHOPDESK_"))]:
        del os.environ[name]
    os.environ |= {
        "HOME": str(home),
        "LANG": "C.UTF-8",
        "TZ": "UTC",
        "SHOPDESK_DATA": str(home / "shopdesk"),
        "TTKBOOTSTRAP_STRICT": "1",
    }
    if sys.platform != "win32":
        time.tzset()


def pytest_sessionstart(session: pytest.Session) -> None:
    """Open the tests' own screen, or stop with what is missing for it.

    Where the tests are shared out over several processes, each of them has a screen, and the one
    that shares them out has none.
    """
    if getattr(session.config.option, "numprocesses", None):
        return
    complaint = system_needs.complaint(system_needs.missing())
    if complaint:
        pytest.exit(complaint, returncode=2)
    if system_needs.own_screen():
        try:
            display = VirtualDisplay()
        except DisplayError as error:
            pytest.exit(f"no screen for the tests: {error}", returncode=2)
        session.config.stash[_DISPLAY] = display
        os.environ["DISPLAY"] = display.name


def pytest_unconfigure(config: pytest.Config) -> None:
    """Take down what was set up."""
    if _DISPLAY in config.stash:
        config.stash[_DISPLAY].close()
    shutil.rmtree(config.stash[_HOME], ignore_errors=True)
