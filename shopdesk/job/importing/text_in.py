"""Reads a file that came from elsewhere as text: not too long, its letters as they were meant.

What begins with a byte order mark is as the mark says; else UTF-8 if it is that throughout, UTF-16
where every other byte is nothing, and Windows-1252 where nothing else is left: that is a guess, and
it is said.
"""

from dataclasses import dataclass
from pathlib import Path

from shopdesk.errors import JobError

MOST_BYTES = 10_000_000
_MARKS = (
    (b"\xef\xbb\xbf", "utf-8", "UTF-8"),
    (b"\xff\xfe", "utf-16-le", "UTF-16"),
    (b"\xfe\xff", "utf-16-be", "UTF-16"),
)
_NO_TEXT = (
    (b"PK\x03\x04", "is a spreadsheet or a zip"),
    (b"\xd0\xcf\x11\xe0", "is a spreadsheet or a document of an office program"),
    (b"%PDF", "is a PDF"),
    (b"SQLite format 3\0", "is a database"),
)
_SAMPLE = 4000
_MANY = 0.3
"""So large a share of one half of the bytes is nothing in UTF-16, in any script with spaces."""


@dataclass(frozen=True, slots=True)
class ReadText:
    """The text of a file, what its letters were read as, and whether that is a guess."""

    text: str
    encoding: str
    guessed: bool = False


def read_text(file: Path) -> ReadText:
    """Return a file's text. Raises ``JobError``: not there, too long, no text."""
    try:
        with file.open("rb") as opened:
            content = opened.read(MOST_BYTES + 1)
    except OSError as error:
        raise JobError(
            f"{file} can't be read ({error.strerror}): name a file that is there."
        ) from error
    if len(content) > MOST_BYTES:
        raise JobError(
            f"{file.name} is over {MOST_BYTES // 1_000_000} MB: split it, and bring it in by parts."
        )
    return decoded(content, file.name)


def decoded(content: bytes, name: str) -> ReadText:
    """Return the text of a file's bytes; ``name`` begins the sentence of the ``JobError``."""
    for beginning, is_what in _NO_TEXT:
        if content.startswith(beginning):
            raise JobError(f"{name} {is_what}, no text: save the list as CSV there first.")
    text = _marked(content, name) or _unmarked(content, name)
    if "\0" in text.text:
        raise JobError(f"{name} is no text, it holds NUL bytes: save the list as CSV first.")
    return text


def _marked(content: bytes, name: str) -> ReadText | None:
    for mark, codec, called in _MARKS:
        if content.startswith(mark):
            try:
                return ReadText(content[len(mark) :].decode(codec), called)
            except UnicodeDecodeError as error:
                raise _damaged(name, called, error) from error
    return None


def _unmarked(content: bytes, name: str) -> ReadText:
    codec = _as_utf_16(content)
    if codec:
        try:
            return ReadText(content.decode(codec), "UTF-16", guessed=True)
        except UnicodeDecodeError as error:
            raise _damaged(name, "UTF-16", error) from error
    try:
        return ReadText(content.decode("utf-8"), "UTF-8")
    except UnicodeDecodeError:
        pass
    try:
        return ReadText(content.decode("cp1252"), "Windows-1252", guessed=True)
    except UnicodeDecodeError as error:
        raise _damaged(name, "Windows-1252", error) from error


def _as_utf_16(content: bytes) -> str:
    """Return the codec where one half of the bytes is so often nothing that it must be UTF-16."""
    sample = content[:_SAMPLE]
    if len(content) % 2 or len(sample) < 2:
        return ""
    even, odd = sample[::2].count(0), sample[1::2].count(0)
    enough = _MANY * len(sample) / 2
    if odd >= enough > even:
        return "utf-16-le"
    return "utf-16-be" if even >= enough > odd else ""


def _damaged(name: str, called: str, error: UnicodeDecodeError) -> JobError:
    return JobError(
        f"{name} is neither UTF-8 nor {called} (byte {error.start + 1:,} is neither): "
        "save it as “CSV UTF-8” first."
        if called != "UTF-8"
        else f"{name} says that it is UTF-8, and byte {error.start + 1:,} is not: save it anew."
    )
