"""Lets only one start at a time set the environment up."""

import contextlib
import os
import sys
from collections.abc import Iterator
from pathlib import Path


@contextlib.contextmanager
def only_one(file: Path) -> Iterator[None]:
    """Hold ``file`` locked; wait, saying so on standard error, while somebody else holds it.

    The lock is passed on to programs that are started meanwhile with ``close_fds=False``: should
    this one be killed, the lock lasts until they have ended too. Raises OSError.
    """
    with file.open("a+", encoding="utf-8") as handle:
        descriptor = handle.fileno()
        os.set_inheritable(descriptor, True)
        if not _locked(descriptor, wait=False):
            print("Waiting for another start to finish setting up shopdesk …", file=sys.stderr)
            while not _locked(descriptor, wait=True):
                pass
        yield


if sys.platform == "win32":
    import msvcrt

    def _locked(descriptor: int, *, wait: bool) -> bool:
        os.lseek(descriptor, 0, os.SEEK_SET)
        try:
            msvcrt.locking(descriptor, msvcrt.LK_LOCK if wait else msvcrt.LK_NBLCK, 1)
        except OSError:  # LK_LOCK gives up after ten tries, a second apart
            return False
        return True

else:
    import fcntl

    def _locked(descriptor: int, *, wait: bool) -> bool:
        try:
            fcntl.flock(descriptor, fcntl.LOCK_EX | (0 if wait else fcntl.LOCK_NB))
        except BlockingIOError:
            return False
        return True
