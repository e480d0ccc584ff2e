"""What goes wrong while setting up is told in one sentence that says what to do."""

import errno
import os

import pytest

from shopdesk.bootstrap.troubles import from_installer, from_os_error


@pytest.mark.parametrize(
    ("number", "words"),
    [
        (errno.ENOSPC, ["The disk is full", "make room"]),
        (errno.EDQUOT, ["The disk is full"]),
        (errno.EACCES, ["may not write /srv/desk/.venv.lock", "copy the folder /srv/desk to"]),
        (errno.EROFS, ["may not write /srv/desk/.venv.lock"]),
        (errno.EIO, ["could not set itself up in /srv/desk", "Input/output error"]),
    ],
)
def test_files_that_will_not_be_written(number: int, words: list[str]) -> None:
    error = OSError(number, os.strerror(number), "/srv/desk/.venv.lock")
    sentence = str(from_os_error(error, "/srv/desk"))
    assert all(part in sentence for part in words)
    assert "\n" not in sentence


# What pip 23.2 printed in each case.
NO_CONNECTION = """\
WARNING: Retrying (Retry(total=4, connect=None, read=None, redirect=None, status=None)) after \
connection broken by 'NewConnectionError('<pip._vendor.urllib3.connection.HTTPSConnection object \
at 0x7f156d910310>: Failed to establish a new connection: [Errno -3] Temporary failure in name \
resolution')': /simple/hatchling/
ERROR: Could not find a version that satisfies the requirement hatchling>=1.27 (from versions: none)
ERROR: No matching distribution found for hatchling>=1.27
"""
NO_SUCH_VERSION = """\
ERROR: Could not find a version that satisfies the requirement peewee>=99 (from versions: 1.0, 4.5)
ERROR: No matching distribution found for peewee>=99
"""
FULL = "ERROR: Could not install packages due to an OSError: [Errno 28] No space left on device"
LOCKED = "ERROR: Could not install packages due to an OSError: [Errno 13] Permission denied: 'x'"


@pytest.mark.parametrize(
    ("output", "start"),
    [
        (NO_CONNECTION, "shopdesk could not reach the package index"),
        (NO_SUCH_VERSION, "The package peewee>=99 can't be had"),
        (FULL, "The disk is full"),
        (LOCKED, "shopdesk may not write /srv/desk/.venv"),
        ("error: metadata-generation-failed", "The packages could not be installed: see what"),
    ],
)
def test_what_the_installer_prints_is_understood(output: str, start: str) -> None:
    sentence = str(from_installer(output, "/srv/desk"))
    assert sentence.startswith(start)
    assert sentence.endswith(".")
