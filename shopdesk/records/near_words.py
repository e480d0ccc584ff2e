"""What a mistyped word may have been meant to be: one letter missed, added, wrong or swapped."""

from collections.abc import Iterator
from string import ascii_lowercase

from shopdesk.text import fold

FEWEST_LETTERS = 4
"""A shorter word is taken as it stands: one letter changed makes it any other."""
MOST_LETTERS = 24
_BLOCK = 128


def one_letter_off(word: str) -> set[str]:
    """Return every spelling that is one slip of the fingers away from a folded ``word``."""
    return {*_missing(word), *_swapped(word), *_replaced(word), *_added(word)} - {word}


def _missing(word: str) -> Iterator[str]:
    for place in range(len(word)):
        yield word[:place] + word[place + 1 :]


def _swapped(word: str) -> Iterator[str]:
    for place in range(len(word) - 1):
        yield word[:place] + word[place + 1] + word[place] + word[place + 2 :]


def _replaced(word: str) -> Iterator[str]:
    for place in range(len(word)):
        for letter in _alphabet(word):
            yield word[:place] + letter + word[place + 1 :]


def _added(word: str) -> Iterator[str]:
    for place in range(len(word) + 1):
        for letter in _alphabet(word):
            yield word[:place] + letter + word[place:]


def _alphabet(word: str) -> str:
    """Return the letters of the script that the word is written in."""
    if word.isascii():
        return ascii_lowercase
    start = ord(max(word)) // _BLOCK * _BLOCK
    letters = map(chr, range(start, start + _BLOCK))
    return "".join(letter for letter in letters if letter.isalpha() and fold(letter) == letter)
