"""Turns what the database complains of into a sentence that says what to do."""

from pathlib import Path

from shopdesk.errors import RecordsError
from shopdesk.records.never_changed import REFUSAL

_SENTENCES = (
    (
        (REFUSAL,),
        "An issued invoice, and what was printed of it, never changes: "
        "put it right with a credit note.",
    ),
    (
        ("database is locked", "database table is locked"),
        "The records {file} are in use by another program, which has kept them locked: "
        "close it there, then try again.",
    ),
    (
        ("readonly database", "read-only", "permission denied"),
        "{what} {file} may not be written: make the file and its folder writable, "
        "or choose another place.",
    ),
    (
        ("database or disk is full", "no space left"),
        "The disk that holds {file} is full: nothing was changed. Free some space, then try again.",
    ),
    (
        ("not a database",),
        "{file} is no shopdesk records file: choose another file, or restore a backup of it.",
    ),
    (
        ("could not decode",),
        "The records {file} hold text that can't be read any more: "
        "leave the file as it is and restore the newest backup.",
    ),
    (
        ("malformed", "disk image"),
        "The records {file} are damaged: leave the file as it is and restore the newest backup.",
    ),
    (
        (
            "unable to open database file",
            "disk i/o error",
            "file exists",
            "not a directory",
            "is a directory",
            "no such file",
            "not permitted",
            "input/output error",
        ),
        "{what} {file} can't be opened: see that the folder is there and that you may write in it.",
    ),
    (
        ("name too long", "invalid argument"),
        "{file} is no name that a file can have here: choose a shorter, plainer one.",
    ),
)


def trouble(error: Exception, file: Path, what: str = "The records") -> RecordsError:
    """Return the ``RecordsError`` that says what ``error`` means for ``file``, and ``what`` it is.

    Bytes of the records are never part of it.
    """
    complaint = _said(error).lower()
    for signs, sentence in _SENTENCES:
        if any(sign in complaint for sign in signs):
            return RecordsError(sentence.format(file=file, what=what))
    said = _own_words(error)
    return RecordsError(f"{what} {file} could not be used ({said}): nothing was changed.")


def _said(error: BaseException | None) -> str:
    """Return what ``error`` says, and what it came of: a failed rollback hides the full disk."""
    words = []
    while error is not None:
        words.append(_own_words(error))
        error = error.__cause__ or error.__context__
    return "; ".join(words)


def _own_words(error: BaseException) -> str:
    """Return the message without the system's number and the file's name."""
    strerror = error.strerror if isinstance(error, OSError) else None
    return strerror or str(error)
