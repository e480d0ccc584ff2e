"""What a database complains of, as a sentence that says what to do."""

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
        ("[Errno 28] No space left on device", "Free some space"),
        ("[Errno 13] Permission denied: 'x'", "make the file and its folder writable"),
        ("[Errno 30] Read-only file system: 'x'", "make the file and its folder writable"),
        ("file is not a database", "choose another file, or restore a backup of it"),
        ("database disk image is malformed", "restore the newest backup"),
        ("unable to open database file", "see that the folder is there"),
        ("disk I/O error", "see that the folder is there"),
        ("something never seen", "could not be used (something never seen): nothing was changed"),
    ],
)
def test_each_complaint_has_its_sentence(complaint: str, words: str) -> None:
    error = trouble(sqlite3.OperationalError(complaint), FILE)
    assert words in error.sentence
    assert str(FILE) in error.sentence
    assert error.sentence.endswith(".")


def test_a_file_name_with_braces_is_a_name() -> None:
    assert "{0}.db" in trouble(sqlite3.Error("database is locked"), Path("{0}.db")).sentence
