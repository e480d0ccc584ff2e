"""The tests have a screen of their own, with a window manager, that leaves nothing behind."""

import os
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.setup.trial_project import ROOT
from tests.system_needs import own_screen
from tests.virtual_display import VirtualDisplay

pytestmark = pytest.mark.skipif(not own_screen(), reason="windows are tested on the real screen")

HOLDER = """
from tests.virtual_display import VirtualDisplay
display = VirtualDisplay()
print(display.name, flush=True)
input()
"""

# In a process of its own: Tk's connection outlives its windows, and dies with the screen.
NEW_WINDOW = """
import sys, time, tkinter
root = tkinter.Tk(screenName=sys.argv[1])
print(root.winfo_screenwidth(), root.winfo_screenheight())
entry = tkinter.Entry(root)
entry.pack()
entry.focus_force()
deadline = time.monotonic() + 20
while entry.focus_get() is not entry and time.monotonic() < deadline:
    root.update()
print("focused" if entry.focus_get() is entry else "not focused")
"""


def _until(holds: Callable[[], bool]) -> None:
    deadline = time.monotonic() + 20
    while not holds():
        assert time.monotonic() < deadline


def _opens(display: str) -> bool:
    code = f"import tkinter; tkinter.Tk(screenName={display!r})"
    return subprocess.run([sys.executable, "-c", code], capture_output=True).returncode == 0


def test_a_new_window_gets_the_keyboard() -> None:
    display = VirtualDisplay()
    try:
        said = subprocess.run(
            [sys.executable, "-c", NEW_WINDOW, display.name], capture_output=True, text=True
        )
    finally:
        display.close()
    assert said.stdout.split() == ["1920", "1200", "focused"], said.stderr
    assert not _opens(display.name)


def test_it_ends_with_whoever_is_killed() -> None:
    holder = subprocess.Popen(
        [sys.executable, "-c", HOLDER],
        cwd=ROOT,
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
    )
    assert holder.stdout
    display = holder.stdout.readline().strip()
    assert _opens(display)
    holder.kill()
    holder.communicate()
    _until(lambda: not _opens(display))


def test_without_what_it_needs_the_tests_stop(tmp_path: Path) -> None:
    ended = subprocess.run(
        [sys.executable, "-m", "pytest", "-p", "no:cacheprovider", "tests/setup/test_places.py"],
        cwd=ROOT,
        env={**os.environ, "PATH": str(tmp_path)},
        capture_output=True,
        text=True,
        check=False,
    )
    assert ended.returncode == 2
    assert (
        "The tests need Xvfb, a window manager (openbox or evilwm)" in ended.stdout + ended.stderr
    )


def test_the_tests_touch_nothing_of_the_user_s() -> None:
    assert Path.home().name.startswith("shopdesk-tests-")
    assert os.environ["SHOPDESK_DATA"].startswith(str(Path.home()))
    assert time.tzname == ("UTC", "UTC")
    assert os.environ["TTKBOOTSTRAP_STRICT"] == "1"
