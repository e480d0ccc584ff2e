"""What people type, made safe to keep, print and search, without changing what it says."""

import re
import unicodedata

_BIDI_AND_INVISIBLE = frozenset("\u200b\u2060\ufeff\u00ad\u061c\u200e\u200f") | frozenset(
    chr(code) for code in (*range(0x202A, 0x202F), *range(0x2066, 0x2070))
)
_APOSTROPHES = "\u2018\u2019\u201b\u02bc\u2032\u00b4\u0060"
_DASHES = "\u2010\u2011\u2012\u2013\u2014\u2212"
_PLAIN_LETTERS = str.maketrans(
    {
        "ł": "l",
        "ø": "o",
        "đ": "d",
        "ð": "d",
        "æ": "ae",
        "œ": "oe",
        "þ": "th",
        "ħ": "h",
        "ŧ": "t",
        "ŋ": "n",
        "\N{LATIN SMALL LETTER DOTLESS I}": "i",
        **dict.fromkeys(_APOSTROPHES, "'"),
        **dict.fromkeys(_DASHES, "-"),
    }
)
_LINE_ENDS = re.compile(r"\r\n|[\n\r\v\f\x85\u2028\u2029]")
_BLANK_LINES = re.compile(r"\n{3,}")


class TextError(ValueError):
    """What was typed is too long to keep; ``str(error)`` is a sentence that says what to do."""


def clean_line(typed: str, limit: int, what: str = "This text") -> str:
    """Return `typed` as one line: composed (NFC), unprintables dropped, whitespace folded.

    `limit` is the most characters kept; `what` begins the sentence of the error.

    Raises:
        TextError: the cleaned line is longer than `limit`.
    """
    return _within(_one_line(_printable(typed)), limit, what)


def clean_text(typed: str, limit: int, what: str = "This text") -> str:
    """Return `typed` with its line breaks kept, each line cleaned as `clean_line` does.

    Line ends of every system become a newline, two or more blank lines become one, and blank
    lines at either end are dropped.

    Raises:
        TextError: the cleaned text is longer than `limit`.
    """
    lines = _LINE_ENDS.split(_printable(typed))
    text = "\n".join(_one_line(line) for line in lines).strip("\n")
    return _within(_BLANK_LINES.sub("\n\n", text), limit, what)


def fold(text: str) -> str:
    """Return `text` as it is searched: no capitals, no accents, plain apostrophes and dashes.

    Folding twice changes nothing, so stored text and the words looked for can both be folded.
    """
    if text.isascii():
        return text.lower().replace("`", "'")
    plain = _stripped(text.translate(_PLAIN_LETTERS)).casefold().translate(_PLAIN_LETTERS)
    return unicodedata.normalize("NFC", _stripped(plain))


def letters_and_digits(text: str) -> str:
    """Return `text` folded, its spaces and marks dropped: "TB-26" and "tb 26" become one."""
    return "".join(char for char in fold(text) if char.isalnum())


def digits(phone: str) -> str:
    """Return only the digits of `phone`, those of any script turned to 0-9."""
    return "".join(str(int(char)) for char in phone if char.isdecimal())


def _printable(typed: str) -> str:
    """Join surrogate pairs; drop lone surrogates, control characters and invisible marks."""
    whole = typed.encode("utf-16-le", "surrogatepass").decode("utf-16-le", "ignore")
    return "".join(char for char in whole if char.isspace() or _is_kept(char))


def _is_kept(char: str) -> bool:
    nonchar = ord(char) & 0xFFFE == 0xFFFE or 0xFDD0 <= ord(char) <= 0xFDEF
    return unicodedata.category(char) != "Cc" and char not in _BIDI_AND_INVISIBLE and not nonchar


def _one_line(text: str) -> str:
    return unicodedata.normalize("NFC", " ".join(text.split()))


def _within(text: str, limit: int, what: str) -> str:
    if len(text) > limit:
        raise TextError(
            f"{what} is {len(text):,} characters long; keep it to {limit:,} at most: "
            "put the rest in a note."
        )
    return text


def _stripped(text: str) -> str:
    apart = unicodedata.normalize("NFKD", text)
    return "".join(char for char in apart if not unicodedata.combining(char))


def counted(number: int, thing: str) -> str:
    """Return how many of a thing: ``1 letter``, ``3 letters``."""
    return f"{number} {thing}" if number == 1 else f"{number:,} {thing}s"
