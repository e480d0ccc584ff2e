"""What a database complains of, as a sentence that says what to do."""

import errno
import os
import sqlite3
from pathlib import Path

import pytest

from shopdesk.records.troubles import trouble

FILE = Path("/shop/shop.db")


@pytest.mark.parametrize(
    ("complaint", "words"),
    [
        ("database is locked", "close it there, then try again"),
        ("database table is locked: ticket", "close it there"),
        ("attempt to write a readonly database", "make the file and its folder writable"),
        ("database or disk is full", "Free some space, then try again"),
        ("file is not a database", "choose another file, or restore a backup of it"),
        ("database disk image is malformed", "restore the newest backup"),
        ("unable to open database file", "see that the folder is there"),
        (
            "Could not decode to UTF-8 column 'content' with text 'x\ufffd\x00\ufffd'",
            "hold text that can't be read any more: leave the file as it is",
        ),
        ("disk I/O error", "see that the folder is there"),
        ("something never seen", "could not be used (something never seen): nothing was changed"),
    ],
)
def test_each_complaint_has_its_sentence(complaint: str, words: str) -> None:
    error = trouble(sqlite3.OperationalError(complaint), FILE)
    assert words in error.sentence
    assert str(FILE) in error.sentence
    assert error.sentence.isprintable()
    assert "\ufffd" not in error.sentence
    assert error.sentence.endswith(".")


@pytest.mark.parametrize(
    ("number", "words"),
    [
        (errno.ENOSPC, "Free some space"),
        (errno.EACCES, "make the file and its folder writable"),
        (errno.EROFS, "make the file and its folder writable"),
        (errno.ENOENT, "see that the folder is there"),
        (errno.EPERM, "see that the folder is there"),
        (errno.EISDIR, "see that the folder is there"),
        (errno.ENAMETOOLONG, "choose a shorter, plainer one"),
        (errno.EMFILE, "could not be used (Too many open files): nothing was changed"),
    ],
)
def test_what_the_system_complains_of_is_said_without_its_number(number: int, words: str) -> None:
    error = trouble(OSError(number, os.strerror(number), "/disk full/no space left/x"), FILE)
    assert words in error.sentence
    assert "Errno" not in error.sentence
    assert "/x" not in error.sentence


def test_a_file_name_with_braces_is_a_name() -> None:
    assert "{0}.db" in trouble(sqlite3.Error("database is locked"), Path("{0}.db")).sentence
