"""Files as text: each way to write letters, and what is refused with a sentence."""

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopdesk.errors import JobError
from shopdesk.job.importing.text_in import MOST_BYTES, decoded, read_text

WORDS = "Name;Town\r\nŁukasz Brightwater;Fernhollow\r\n"
WESTERN = "Name;Town\r\nJosé Müller;Fernhollow – north\r\n"


@pytest.mark.parametrize(
    ("codec", "mark", "called", "guessed"),
    [
        ("utf-8", b"", "UTF-8", False),
        ("utf-8", b"\xef\xbb\xbf", "UTF-8", False),
        ("utf-16-le", b"\xff\xfe", "UTF-16", False),
        ("utf-16-be", b"\xfe\xff", "UTF-16", False),
        ("utf-16-le", b"", "UTF-16", True),
        ("utf-16-be", b"", "UTF-16", True),
    ],
)
def test_unicode_in_each_form(codec: str, mark: bytes, called: str, guessed: bool) -> None:
    read = decoded(mark + WORDS.encode(codec), "list.csv")
    assert (read.text, read.encoding, read.guessed) == (WORDS, called, guessed)


def test_windows_1252_is_a_guess() -> None:
    read = decoded(WESTERN.encode("cp1252"), "list.csv")
    assert (read.text, read.encoding, read.guessed) == (WESTERN, "Windows-1252", True)


@pytest.mark.parametrize(
    ("content", "sentence"),
    [
        (b"PK\x03\x04rest", "is a spreadsheet or a zip, no text"),
        (b"\xd0\xcf\x11\xe0rest", "is a spreadsheet or a document of an office program"),
        (b"%PDF-1.7", "is a PDF"),
        (b"Name\n\0\0\0Mara\n", "holds NUL bytes"),
        (b"\xef\xbb\xbfName\xff", "says that it is UTF-8"),
        (b"\xff\xfeN\0\0\xdc", "neither UTF-8 nor UTF-16"),
        (b"Name\x81\x8d", "neither UTF-8 nor Windows-1252"),
    ],
)
def test_what_is_no_text_is_refused(content: bytes, sentence: str) -> None:
    with pytest.raises(JobError) as error:
        decoded(content, "list.csv")
    assert error.value.sentence.startswith("list.csv ")
    assert sentence in error.value.sentence


def test_too_long_or_not_there(tmp_path: Path) -> None:
    long = tmp_path / "long.csv"
    long.write_bytes(b"a" * (MOST_BYTES + 1))
    with pytest.raises(JobError, match=r"long\.csv is over 10 MB: split it"):
        read_text(long)
    with pytest.raises(JobError, match="name a file that is there"):
        read_text(tmp_path / "none.csv")


@given(st.binary(max_size=400))
def test_any_bytes_are_text_or_refused(content: bytes) -> None:
    try:
        read = decoded(content, "list.csv")
    except JobError:
        return
    assert "\0" not in read.text
