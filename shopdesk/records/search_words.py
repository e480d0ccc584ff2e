"""The words that things are found by, and what is asked for when a person types some of them."""

import re
from collections.abc import Iterable, Iterator
from typing import NamedTuple

from shopdesk.text import digits, fold, letters_and_digits

FEWEST_LAST_SIGNS = 3
"""So many last signs of a phone or a serial find it."""
_LONGEST = 40
_FEWEST_OF_A_SUBSCRIBER = 7
"""So many last digits name one phone, whatever codes are dialled before them."""
_BACKWARDS = "_"
"""Begins a number kept backwards, so that its last signs are a beginning. Nobody can type it."""
_NAME = "__"
"""Begins a word of an owner's name, kept once more so that owners of that name are found alone."""
_FEWEST_OF_A_NAME = 2
_PIECE = re.compile(r"[^\W_]+")


class Term(NamedTuple):
    """One word that is looked for: as it stands, or as the beginning of a word."""

    word: str
    begins: bool = True


Asked = tuple[tuple[Term, ...], ...]
"""What is looked for: of each group at least one term."""


def words_of(text: str) -> Iterator[str]:
    """Yield the words of a text: "O'Brien, TB-26" gives o, brien, obrien, tb, 26, tb26."""
    for written in fold(text).split():
        pieces = _PIECE.findall(written)
        yield from (piece[:_LONGEST] for piece in pieces)
        if len(pieces) > 1:
            yield "".join(pieces)[:_LONGEST]


def words_of_number(number: str) -> Iterator[str]:
    """Yield what a phone or a serial is found by: from its first sign on, and by its last signs."""
    whole = letters_and_digits(number)
    if whole:
        yield whole[:_LONGEST]
        yield _backwards(whole)


def kind_word(kind: str) -> str:
    """Return the word that all things of one kind are found by."""
    return _BACKWARDS + kind


def asked_for(typed: str) -> Asked:
    """Return what ``typed`` asks for; nothing where it holds neither letter nor digit.

    Every word has to be found as a word's beginning. One that holds a digit may be the last signs
    of a phone or a serial as well, and so may all of them together.
    """
    written = typed.split()
    whole = tuple(_whole_number(typed)) if len(written) > 1 else tuple(_phone(typed))
    groups = [group for word in written for group in _groups(word)]
    return tuple(tuple(dict.fromkeys((*group, *whole))) for group in groups)


def words_of_name(name: str) -> Iterator[str]:
    """Yield the words of a name, each once more as a name."""
    for word in words_of(name):
        yield word
        yield _NAME + word


def named(asked: Asked) -> Asked:
    """Return the same looked for as an owner's name, nothing where it can't be one."""
    if any(len(group) > 1 or len(group[0].word) < _FEWEST_OF_A_NAME for group in asked):
        return ()
    return tuple((Term(_NAME + group[0].word, begins=False),) for group in asked)


def only(kind: str, asked: Asked) -> Asked:
    """Return the same looked for among things of one kind."""
    return ((Term(kind_word(kind), begins=False),), *asked)


def of_letters(words: Iterable[str]) -> set[str]:
    """Return those of the words that are spelt, and so may be spelt wrong."""
    return {word for word in words if word.isalpha()}


def _groups(word: str) -> Iterator[tuple[Term, ...]]:
    """Yield what one word asks for: its pieces, or it as one, or its signs as the last ones."""
    pieces = _PIECE.findall(fold(word))
    joined = "".join(pieces)
    instead = [Term(joined[:_LONGEST]), *_last_signs(joined)]
    for piece in pieces:
        yield (Term(piece[:_LONGEST]), *instead)


def _whole_number(typed: str) -> Iterator[Term]:
    whole = letters_and_digits(typed)
    if len(whole) >= FEWEST_LAST_SIGNS and any(map(str.isdecimal, whole)):
        yield Term(whole[:_LONGEST])
        yield from _last_signs(whole)
    yield from _phone(typed)


def _phone(typed: str) -> Iterator[Term]:
    """Yield the phone that is mostly digits, with or without the codes dialled before it."""
    number = digits(typed)
    if len(number) >= FEWEST_LAST_SIGNS and len(number) * 2 >= len(typed):
        yield Term(_backwards(number))
        for length in range(_FEWEST_OF_A_SUBSCRIBER, len(number)):
            yield Term(_backwards(number[-length:]), begins=False)


def _last_signs(whole: str) -> Iterator[Term]:
    if len(whole) >= FEWEST_LAST_SIGNS and any(map(str.isdecimal, whole)):
        yield Term(_backwards(whole))


def _backwards(whole: str) -> str:
    return _BACKWARDS + whole[: -_LONGEST - 1 : -1]
