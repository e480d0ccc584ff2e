"""Which column goes where: guessed from the headings and from what stands below them."""

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from shopdesk.errors import JobError
from shopdesk.job.importing.fields import BY_KEY, MACHINE_PLACES, phone_label, place_of
from shopdesk.job.importing.listing import Listing
from shopdesk.job.importing.machine_words import engine_said, kind_said
from shopdesk.text import digits

_SAMPLE = 200
_ENOUGH = 0.7
_EMAIL = re.compile(r"[^@\s]+@[^@\s]+\.[^@\s]+")
_PHONE = re.compile(r"[A-Za-z ]{0,12}[+(]?[\d\s().+/-]{6,24}(?:x\d+)?")


@dataclass(frozen=True, slots=True)
class Matched:
    """Where one column goes: the key of a ``Place``, or empty for nowhere.

    ``label`` goes before each of its phones: ``work``.
    """

    place: str = ""
    label: str = ""

    @property
    def words(self) -> str:
        """Where it goes, for people."""
        if not self.place:
            return "left out"
        words = BY_KEY[self.place].words
        return f"{words} ({self.label})" if self.label else words


def guess(listing: Listing) -> tuple[Listing, tuple[Matched, ...]]:
    """Return the list, with or without its first row as headings, and where its columns go."""
    by_heads = [place_of(head) for head in listing.heads]
    if listing.has_heads and not any(by_heads) and _like_a_row(listing.heads):
        listing = listing.with_heads(False)
        by_heads = [""] * len(listing.heads)
    places: list[str] = []
    for column, place in enumerate(by_heads):
        place = place or _by_contents(listing, column)
        taken = place in places and not BY_KEY[place].many if place else False
        places.append("" if taken else place)
    _settle_owner_number(listing, places)
    return listing, tuple(map(_matched, places, listing.heads))


def matched_by_hand(
    listing: Listing, matches: Sequence[Matched], said: Iterable[str]
) -> tuple[Matched, ...]:
    """Return the match, changed by words such as ``Handy=phones`` or ``Colour=``.

    Raises ``JobError`` for a heading or a place that there is not.
    """
    places = list(matches)
    for one in said:
        heading, equals, key = one.partition("=")
        column = next(
            (at for at, head in enumerate(listing.heads) if head.casefold() == heading.casefold()),
            None,
        )
        if column is None or not equals:
            raise JobError(
                f"“{one}” names no column of {listing.name}: "
                f"write HEADING=PLACE, with one of {', '.join(listing.heads)}."
            )
        places[column] = match_for(key.strip(), listing.heads[column])
    return tuple(places)


def match_for(key: str, heading: str) -> Matched:
    """Return the match of a column to a place. Raises ``JobError`` for a place there is not."""
    if key and key not in BY_KEY:
        raise JobError(f"There is no place “{key[:40]}”: it is one of {', '.join(BY_KEY)}.")
    return _matched(key, heading)


def changed(matches: Sequence[Matched], column: int, match: Matched) -> tuple[Matched, ...]:
    """Return the match with one column going elsewhere; who held that place gives it up."""
    places = list(matches)
    if match.place and not BY_KEY[match.place].many:
        places = [replace(one, place="") if one.place == match.place else one for one in places]
    places[column] = match
    return tuple(places)


def _matched(place: str, heading: str) -> Matched:
    return Matched(place, phone_label(heading) if place == "phones" else "")


def _settle_owner_number(listing: Listing, places: list[str]) -> None:
    """Take a bare ``id`` for the owner's number only where the list is of owners.

    In a list of machines with an ``owner id`` it is the machine's own.
    """
    heads = [head.casefold() for head in listing.heads]
    is_of_machines = any(place in MACHINE_PLACES for place in places)
    for column, place in enumerate(places):
        if place == "ref" and heads[column] == "id" and is_of_machines:
            places[column] = ""
            for other, head in enumerate(heads):
                if other != column and not places[other] and place_of(head) == "ref":
                    places[other] = "ref"
                    break


def _like_a_row(cells: Sequence[str]) -> bool:
    """Whether what stands for headings is data: an e-mail address or a phone."""
    return any(_EMAIL.fullmatch(cell.strip()) or _is_phone(cell) for cell in cells)


def _by_contents(listing: Listing, column: int) -> str:
    cells = [row.cells[column].strip() for row in listing.rows[:_SAMPLE]]
    cells = [cell for cell in cells if cell]
    tests = (
        ("email", lambda cell: bool(_EMAIL.fullmatch(cell))),
        ("engine", lambda cell: bool(engine_said(cell))),
        ("kind", lambda cell: bool(kind_said(cell))),
        ("phones", _is_phone),
    )
    for place, test in tests:
        if cells and sum(map(test, cells)) >= _ENOUGH * len(cells):
            return place
    return ""


def _is_phone(cell: str) -> bool:
    return bool(_PHONE.fullmatch(cell)) and 7 <= len(digits(cell)) <= 15
