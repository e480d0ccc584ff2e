"""Finds parts while their number, name or a supplier's number is being typed."""

from peewee import Expression

from shopdesk.job.parts.lists import part_rows
from shopdesk.job.parts.views import PartRow
from shopdesk.job.shift import Shift, load_shop
from shopdesk.job.typed import words_looked_for
from shopdesk.records.tables import Offer, Part
from shopdesk.text import fold, letters_and_digits


def find_parts(
    shift: Shift, words: str, *, most: int = 200, inactive: bool = False
) -> tuple[PartRow, ...]:
    """Return parts of which number, name or a supplier's number holds the words, however typed.

    A part of just that number comes first, then those whose number begins so. No words: the first
    parts by number.
    """
    wanted = words_looked_for(words)
    whole = letters_and_digits(wanted)
    with shift.records.reading():
        query = Part.select().limit(most)
        if not inactive:
            query = query.where(Part.active)
        if wanted:
            query = query.where(_matches(wanted, whole))
        if whole:
            first = ((Part.folded_number == whole).desc(), _begins(whole).desc())
            query = query.order_by(*first, Part.folded_name, Part.id)
        else:
            query = query.order_by(Part.folded_number, Part.id)
        return part_rows(query, load_shop())


def _begins(whole: str) -> Expression:
    return Part.folded_number.startswith(whole)


def _matches(wanted: str, whole: str) -> Expression:
    words = fold(wanted).split() or [wanted]
    condition = _word(words[0])
    for word in words[1:]:
        condition &= _word(word)
    return condition | _numbered(whole) if whole else condition


def _word(word: str) -> Expression:
    plain = letters_and_digits(word)
    named = Part.folded_name.contains(word)
    return named | _numbered(plain) if plain else named


def _numbered(plain: str) -> Expression:
    offered = Offer.select(Offer.part).where(Offer.folded_number.contains(plain))
    return Part.folded_number.contains(plain) | Part.id.in_(offered)
