"""Whether two names, or two addresses, as typed at a counter may well be the same."""

import re

from shopdesk.records.near_words import FEWEST_LETTERS, one_letter_off
from shopdesk.text import digits, fold

_FEWEST_NAMES = 2
_POSTCODE = re.compile(
    r"\b(\d{4,6})(?:-\d{4})?\b"
    r"|\b([a-z]{1,2}\d[a-z\d]? ?\d[a-z]{2}|[a-z]\d[a-z] ?\d[a-z]\d)\b"
)
"""A ZIP or postcode of four to six digits, a British one, a Canadian one; in folded text."""
_BEGINNING = re.compile(r"[a-z]{3,5}", re.I)


class Name:
    """A person's name, to be held against many others."""

    def __init__(self, name: str) -> None:
        self.words = name_words(name)
        self._near = {
            word: frozenset(one_letter_off(word)) if len(word) >= FEWEST_LETTERS else frozenset()
            for word in self.words
        }

    def is_like(self, other: str) -> bool:
        """Whether each word of the shorter name has its like in the other, in whatever order.

        Capitals and accents count for nothing, one slip in a longer word is forgiven, and an
        initial stands for a name.
        """
        left = name_words(other)
        if not left or not self.words:
            return False
        found = 0
        for word in sorted(self.words, key=len, reverse=True):
            like = next((one for one in left if self._word_like(word, one)), None)
            if like is not None:
                left.remove(like)
                found += 1
        fewest = min(len(self.words), len(name_words(other)))
        return found >= min(fewest, _FEWEST_NAMES) and found >= fewest - 1

    def _word_like(self, word: str, other: str) -> bool:
        if word == other or other in self._near[word]:
            return True
        short = min(word, other, key=len)
        return len(short) == 1 and word[0] == other[0]


def name_words(name: str) -> list[str]:
    """Return the words of a name, folded, without marks."""
    return re.findall(r"[^\W_]+", fold(name))


def postcodes(address: str) -> frozenset[str]:
    """Return what may be the ZIP or postcode: below the first line, or at the end of the only one.

    The number of a house stands on the first line.
    """
    lines = fold(address).splitlines()
    below = "\n".join(lines[1:]) if len(lines) > 1 else (lines or [""])[0]
    found = [one or two for one, two in _POSTCODE.findall(below)]
    return frozenset(one.replace(" ", "") for one in (found if len(lines) > 1 else found[-1:]))


def is_same_street(one: str, other: str) -> bool:
    """Whether two addresses begin with the same house and, but for a slip, the same street."""
    mine, theirs = (_first_line(address) for address in (one, other))
    if not mine or not theirs or digits(mine) != digits(theirs):
        return False
    street, their_street = _street(mine), _street(theirs)
    return bool(street) and (street == their_street or street in one_letter_off(their_street))


def street_begins(address: str) -> str:
    """Return the plain letters that the street's chief word begins with; empty for too few."""
    lines = address.splitlines()
    word = _street(lines[0].split(",")[0]) if lines else ""
    begins = _BEGINNING.match(word)
    return begins[0] if begins else ""


def _first_line(address: str) -> str:
    lines = fold(address).splitlines()
    return lines[0].split(",")[0] if lines else ""


def _street(line: str) -> str:
    return max(re.findall(r"[^\W\d_]+", line), key=len, default="")
