"""A screen of the tests' own, with a window manager, that ends with whoever asked for it.

Run as a program it starts the screen, prints its name (such as ``:7``) once windows can be opened
on it, and takes it down when its standard input is closed. Whoever holds the other end may be
stopped in any way at all (Ctrl-C, kill): the pipe closes, and no screen is left behind.
"""

import contextlib
import os
import subprocess
import sys
import tempfile
import time
import tkinter
from collections.abc import Iterator
from pathlib import Path

from tests.system_needs import window_manager

SCREEN = ["-screen", "0", "1920x1200x24", "-dpi", "96", "-nolisten", "tcp"]
PATIENCE = 30


class DisplayError(Exception):
    """The screen could not be started; the message holds what it printed."""


class VirtualDisplay:
    """A virtual screen, named ``name``, that lasts until ``close`` or until this process ends."""

    def __init__(self) -> None:
        said = tempfile.TemporaryFile("w+", encoding="utf-8")  # noqa: SIM115
        self._keeper = subprocess.Popen(
            [sys.executable, "-m", "tests.virtual_display"],
            cwd=Path(__file__).parent.parent,
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=said,
            encoding="utf-8",
            start_new_session=True,
        )
        assert self._keeper.stdout
        self.name = self._keeper.stdout.readline().strip()
        if not self.name:
            self.close()
            said.seek(0)
            raise DisplayError(said.read().strip())

    def close(self) -> None:
        """Take the screen down."""
        self._keeper.communicate()


def _keep() -> None:
    """Run a screen until standard input is closed."""
    with _screen() as name:
        os.environ["DISPLAY"] = name
        with _managed():
            print(name, flush=True)
            sys.stdin.read()


@contextlib.contextmanager
def _screen() -> Iterator[str]:
    reader, writer = os.pipe()
    command = ["Xvfb", "-displayfd", str(writer), *SCREEN]
    with _ended_after(command, pass_fds=(writer,)):
        os.close(writer)
        with os.fdopen(reader) as numbers:
            number = numbers.readline().strip()
        if not number:
            raise DisplayError("Xvfb did not start")
        yield f":{number}"


@contextlib.contextmanager
def _managed() -> Iterator[None]:
    """Run a window manager; go on once it has taken charge of a window."""
    root = tkinter.Tk()
    root.update()
    unmanaged = root.wm_frame()
    with _ended_after(window_manager()) as manager:
        deadline = time.monotonic() + PATIENCE
        while root.wm_frame() == unmanaged:
            with contextlib.suppress(subprocess.TimeoutExpired):
                manager.wait(timeout=0.01)
            if manager.poll() is not None or time.monotonic() > deadline:
                raise DisplayError(f"the window manager {window_manager()[0]} did not start")
            root.update()
        root.destroy()
        yield


@contextlib.contextmanager
def _ended_after(
    command: list[str], pass_fds: tuple[int, ...] = ()
) -> Iterator[subprocess.Popen[bytes]]:
    with subprocess.Popen(command, stdout=subprocess.DEVNULL, pass_fds=pass_fds) as process:
        try:
            yield process
        finally:
            process.terminate()


if __name__ == "__main__":
    _keep()
