"""Finds owners, machines and tickets by their words: open tickets first, then those seen last.

The job asks here and nowhere else; how the index is kept is the engine's business. The index
follows from the rows: ``prepare`` makes it where it is missing, ``keep_in_step`` follows each
change inside its transaction, and ``differences`` proves it.
"""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, field
from itertools import combinations

from shopdesk.records import search_fts5 as index
from shopdesk.records.found_by import (
    Document,
    Thing,
    by_last_seen,
    documents,
    how_many,
    things_of,
    things_seen_with,
    with_all_that_name,
)
from shopdesk.records.near_words import FEWEST_LETTERS, MOST_LETTERS, one_letter_off
from shopdesk.records.search_words import FEWEST_LAST_SIGNS, Asked, Term, named, of_letters, only
from shopdesk.records.tables import Row
from shopdesk.text import counted

LAYOUT = 1
"""Grows when things are found by other words than before: the index is then made anew."""
_MOST_NEAR = 40
_MOST_GROUPS = 5
_MOST_NAMED = 5


@dataclass(slots=True)
class Touched:
    """Things whose words may differ now; true for those that are shown sooner from now on."""

    things: dict[Thing, bool] = field(default_factory=dict)

    def changed(self, *rows: Row) -> None:
        """Note whose words may differ once these rows do."""
        for row in rows:
            for thing in things_of(row):
                self.things.setdefault(thing, False)

    def added(self, row: Row) -> None:
        """Note a new row, and what is seen again with it."""
        self.changed(row)
        self.things.update(dict.fromkeys(things_seen_with(row), True))


def prepare(*, anew: bool = False, progress: Callable[[int, int], None] | None = None) -> None:
    """Make the index if there is none of this layout, or ``anew``; inside a transaction.

    ``progress`` is told how many things of how many are in.
    """
    if not anew and index.layout() == LAYOUT:
        return
    index.make(LAYOUT)
    words: set[str] = set()
    done, whole = 0, how_many()
    for portion in by_last_seen():
        now = documents(portion)
        index.put_many(((thing, now[thing]) for thing in portion), words)
        done += len(portion)
        if progress:
            progress(done, whole)
    index.put_words(words)
    index.tidy()


def keep_in_step(touched: Touched) -> None:
    """Bring the index to what the rows of these things say now; inside their transaction."""
    if not touched.things:
        return
    things = with_all_that_name(touched.things)
    now = documents(things)
    for thing in things:
        _replace(thing, now.get(thing), seen=touched.things.get(thing, False))


def forget_what_was_taken_out() -> None:
    """Let no word stay in the index that nothing is found by any more."""
    index.tidy()


def found(asked: Asked, most: int) -> list[Thing]:
    """Return at most ``most`` things that have what is asked for, inside a transaction.

    Open tickets come first, then owners of just that name, then what was seen last.
    """
    if not asked:
        return []
    newest = index.newest(asked, most)
    before = [thing for thing, is_open in newest if is_open]
    by_name = named(asked) if len(before) < most else ()
    owners_named = [thing for thing, _ in index.newest(by_name, _MOST_NAMED)] if by_name else []
    return list(dict.fromkeys((*before, *owners_named, *(thing for thing, _ in newest))))[:most]


def of_kind(kind: str, asked: Asked, most: int) -> list[Thing]:
    """Return at most ``most`` things of one kind that have what is asked for, seen last first."""
    return [thing for thing, _ in index.newest(only(kind, asked), most)] if asked else []


def newest_past(asked: Asked, most: int) -> list[Thing]:
    """Return closed tickets that have some of it themselves, the rest by their machine or owner.

    Looks through the newest ``MOST_MACHINES`` machines that have their share of it.
    """
    if not 2 <= len(asked) <= _MOST_GROUPS:
        return []
    past: dict[Thing, None] = {}
    for count in range(1, len(asked)):
        for own in combinations(asked, count):
            rest = tuple(group for group in asked if group not in own)
            if rest and len(past) < most:
                past.update(dict.fromkeys(index.newest_past(rest, own, most)))
    return list(past)[:most]


def spelt_otherwise(asked: Asked) -> Asked:
    """Return what may have been meant where nothing is found, or nothing.

    In place of a word that nothing begins with, or of any where all do, stand those that occur and
    are one slip of the fingers away, or hold what was typed.
    """
    spelt = [group for group in asked if _is_spelt(group[0].word)]
    unknown = [group for group in spelt if not index.words_beginning([group[0].word], 1)]
    near = tuple(
        (*group, *_near(group)) if group in (unknown or spelt) else group for group in asked
    )
    return near if near != asked else ()


def differences() -> Iterator[str]:
    """Say where the index is not as the rows say, inside a transaction."""
    if index.layout() != LAYOUT:
        yield "there is no find index of this version"
        return
    wrong = sum(_wrong(portion) for portion in by_last_seen())
    more = index.how_many_kept() - how_many()
    if wrong:
        yield f"{counted(wrong, 'thing')} can’t be found by the right words"
    if more > 0:
        yield f"{counted(more, 'thing')} would be found that can’t be there"
    if not index.is_whole():
        yield "the find index is damaged"


def _wrong(portion: list[Thing]) -> int:
    """Return how many of the things the index does not have as they are."""
    now = documents(portion)
    kept = {thing: index.kept(thing) for thing in portion}
    return sum(found is None or found[1] != now[thing] for thing, found in kept.items())


def _replace(thing: Thing, now: Document | None, *, seen: bool) -> None:
    kept = index.kept(thing)
    place, old = kept or (0, Document(False, ""))
    if now == old and not seen:
        return
    if now and kept and now.is_open == old.is_open and not seen:
        index.put_again(place, now, old)
    else:
        if kept:
            index.take_out(place, old)
        if now:
            index.put(thing, now)
    had, has = _spelt(old), _spelt(now)
    index.put_words(has - had)
    index.forget_words(had - has)


def _spelt(document: Document | None) -> set[str]:
    return of_letters(document.words.split()) if document else set()


def _is_spelt(word: str) -> bool:
    return word.isalpha() and FEWEST_LAST_SIGNS <= len(word) <= MOST_LETTERS


def _near(group: tuple[Term, ...]) -> Iterable[Term]:
    word = group[0].word
    slips = one_letter_off(word) if len(word) >= FEWEST_LETTERS else ()
    near = index.words_beginning(slips, _MOST_NEAR) or index.words_holding(word, _MOST_NEAR)
    return (Term(one, begins=False) for one in near)
