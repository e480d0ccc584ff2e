"""What the system lacks is named with the command that brings it."""

import sys
from pathlib import Path

import pytest

from shopdesk.bootstrap.system import (
    TKINTER,
    VENV,
    Need,
    command_for,
    linux_family,
    missing_for_window,
)
from tests import system_needs
from tests.system_needs import WINDOW_MANAGER, XVFB


@pytest.mark.parametrize(
    ("identity", "like", "family"),
    [
        ("debian", "", "debian"),
        ("ubuntu", "debian", "debian"),
        ("some-desktop", "ubuntu debian", "debian"),
        ("fedora", "", "fedora"),
        ("some-server", "rhel centos fedora", "fedora"),
        ("something-else", "", "other"),
    ],
)
def test_linux_families(identity: str, like: str, family: str) -> None:
    assert linux_family(identity, like) == family


@pytest.mark.parametrize(
    ("system", "root", "command"),
    [
        ("debian", False, "sudo apt install python3-venv python3-tk"),
        ("debian", True, "apt install python3-venv python3-tk"),
        ("fedora", False, "sudo dnf install python3-libs python3-tkinter"),
        ("macos", False, "brew install python python-tk@{}.{}".format(*sys.version_info)),
        ("windows", False, "winget install --exact --id Python.Python.3.13"),
    ],
)
def test_commands(system: str, root: bool, command: str) -> None:
    assert command_for([VENV, TKINTER], system, root=root) == command


def test_an_unknown_system_gets_words_to_look_for() -> None:
    assert "python3-tk" in command_for([TKINTER], "other", root=True)


def test_a_window_needs_a_display() -> None:
    assert missing_for_window({"DISPLAY": ":1"}) == ""
    if sys.platform == "linux":
        assert missing_for_window({}) == "There is no display here: DISPLAY is not set."


def test_a_window_needs_tkinter(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "tkinter", None)
    assert missing_for_window({"DISPLAY": ":1"}).startswith("This Python has no tkinter: install")
    assert system_needs.missing() == [TKINTER]


@pytest.mark.parametrize(
    ("there", "lacks"),
    [
        ([], [XVFB, WINDOW_MANAGER]),
        (["Xvfb"], [WINDOW_MANAGER]),
        (["openbox"], [XVFB]),
        (["Xvfb", "evilwm"], []),
    ],
)
def test_the_tests_need_a_screen_and_a_window_manager(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, there: list[str], lacks: list[Need]
) -> None:
    for name in there:
        (tmp_path / name).touch(0o755)
    monkeypatch.setenv("PATH", str(tmp_path))
    assert system_needs.missing() == lacks
    sentence = system_needs.complaint(lacks)
    assert all(need.name in sentence for need in lacks)
    assert bool(sentence) == bool(lacks)
