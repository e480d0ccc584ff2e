"""One row of a list as the entries of an owner's and a machine's card, and what is wrong in it."""

import re
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from enum import StrEnum
from itertools import groupby
from operator import itemgetter
from typing import Any, TypeVar

from shopdesk.errors import JobError
from shopdesk.job.customers import MOST_PHONES, CustomerEntry, fill_customer, typed_phones
from shopdesk.job.importing.fields import MACHINE_PLACES
from shopdesk.job.importing.machine_words import engine_said, kind_said, usual_engine
from shopdesk.job.importing.matching import Matched
from shopdesk.job.phones import FEWEST_DIGITS, is_same_phone
from shopdesk.job.shift import Change
from shopdesk.job.units import UnitEntry, fill_unit
from shopdesk.records.tables import Customer, Unit
from shopdesk.text import digits, letters_and_digits

AnyEntry = TypeVar("AnyEntry", CustomerEntry, UnitEntry)
_NEEDED = frozenset({"name", "kind", "engine"})
_YES = frozenset({"yes", "y", "true", "1", "x", "on"})
_NO = frozenset({"no", "n", "false", "0", "off", ""})
_BETWEEN_PHONES = re.compile(r"([;|,]|\s/\s|\sor\s)")
NOTHING = frozenset({"", "-", "--", "n/a", "na", "none", "null", "nil", "unknown", "?"})
"""What lists write for nothing."""
_AS_IT_STANDS = frozenset(
    {"ref", "name", "first_name", "last_name", "company", "street", "notes", "unit_notes"}
)
_FED_BY = {
    "name": ("name", "first_name", "last_name", "company"),
    "address": ("street", "city", "region", "postcode", "country"),
}


class Wrong(StrEnum):
    """What becomes of a row in which something can't be read."""

    STOP = "mend it first"
    LEAVE_OUT = "leave the row out"
    NOTE = "keep it in the note"


@dataclass(frozen=True, slots=True)
class Problem:
    """What is wrong in a row: at which heading, what stood there, and the sentence."""

    heading: str
    value: str
    sentence: str
    needed: bool = False
    """Without it there is no card: it can't go into the note."""


@dataclass(frozen=True, slots=True)
class ReadRow:
    """What a row says: an owner (by entry, or by ``ref`` alone), a machine, or both."""

    ref: str
    owner: CustomerEntry | None
    unit: UnitEntry | None
    problems: tuple[Problem, ...] = ()
    remarks: tuple[str, ...] = ()
    """What was guessed."""


@dataclass(slots=True)
class _Reading:
    """The cells of a row by place, and what was found wrong so far."""

    cells: dict[str, list[tuple[str, str, str]]]
    """By place: heading, label and text of each cell that is not empty."""
    problems: list[Problem] = field(default_factory=list)
    remarks: list[str] = field(default_factory=list)

    def text(self, place: str) -> str:
        """Return what stands at a place; a line for each column."""
        return "\n".join(text for _, _, text in self.cells.get(place, ()))

    def heading(self, name: str) -> str:
        """Return the heading of the column that a field of an entry comes from."""
        for place in _FED_BY.get(name, (name,)):
            for heading, _, _ in self.cells.get(place, ()):
                return heading
        return name.replace("_", " ")

    def has(self, places: frozenset[str]) -> bool:
        """Whether any cell of these places holds something."""
        return not places.isdisjoint(self.cells)


def read_row(
    change: Change,
    heads: Sequence[str],
    cells: Sequence[str],
    matches: Sequence[Matched],
    wrong: Wrong,
) -> ReadRow:
    """Return what a row says, by the rules that hold for what is typed at the counter."""
    reading = _Reading(_by_place(heads, cells, matches))
    owner, unit = _owner(reading), _unit(reading)
    if owner is not None:
        owner = _checked(owner, lambda entry: fill_customer(Customer(), entry), reading, wrong)
        owner = _with_phones(owner, reading, wrong)
    if unit is not None:
        unit = _checked(unit, lambda entry: fill_unit(change, Unit(), entry), reading, wrong)
    ref = " ".join(reading.text("ref").split())
    return ReadRow(ref, owner, unit, tuple(reading.problems), tuple(reading.remarks))


def _by_place(
    heads: Sequence[str], cells: Sequence[str], matches: Sequence[Matched]
) -> dict[str, list[tuple[str, str, str]]]:
    """Return the cells that hold something by the place they go to."""
    found = sorted(
        (
            (match.place, (head, match.label, cell.strip()))
            for head, cell, match in zip(heads, cells, matches, strict=True)
            if match.place and not _is_nothing(match.place, cell.strip())
        ),
        key=itemgetter(0),
    )
    return {
        place: [cell for _, cell in group] for place, group in groupby(found, key=itemgetter(0))
    }


def _is_nothing(place: str, cell: str) -> bool:
    return not cell or (place not in _AS_IT_STANDS and cell.casefold() in NOTHING)


_SAYS_WHO = frozenset(
    {"name", "first_name", "last_name", "company", "phones", "email", "street", "notes"}
)


def _owner(reading: _Reading) -> CustomerEntry | None:
    if not reading.has(_SAYS_WHO):
        return None
    mails = [text for _, _, text in reading.cells.get("email", ())]
    notes = [reading.text("notes"), *(f"Other e-mail: {mail}" for mail in mails[1:])]
    return CustomerEntry(
        name=_name(reading),
        email=mails[0] if mails else "",
        address=_address(reading),
        notes="\n".join(filter(None, notes)),
        tax_exempt_number=reading.text("tax_exempt_number"),
        may_remind=_yes(reading, "may_remind", default=True),
        shared_phone=True,
        preferred_way=reading.text("preferred_way"),
        moved_away=_yes(reading, "moved_away"),
    )


def _name(reading: _Reading) -> str:
    parts = (reading.text("first_name"), reading.text("last_name"))
    person = reading.text("name") or " ".join(filter(None, parts))
    company = reading.text("company")
    if letters_and_digits(company) in ("", letters_and_digits(person)):
        return person
    return ", ".join(filter(None, (person, company)))


def _address(reading: _Reading) -> str:
    city, region, code = (reading.text(place) for place in ("city", "region", "postcode"))
    place = f"{city}, {region} {code}" if region else f"{code} {city}"
    lines = (reading.text("street"), " ".join(place.split()).strip(" ,"), reading.text("country"))
    return "\n".join(line for line in lines if line)


def _unit(reading: _Reading) -> UnitEntry | None:
    if not reading.has(MACHINE_PLACES):
        return None
    kind = reading.text("kind")
    kind = kind_said(kind) or kind
    return UnitEntry(
        kind=kind,
        engine=_engine(reading, kind),
        make=reading.text("make"),
        model=reading.text("model"),
        serial=reading.text("serial"),
        notes=reading.text("unit_notes"),
        bought_on=reading.text("bought_on"),
        hours_per_week=reading.text("hours_per_week"),
        first_month=reading.text("first_month"),
        last_month=reading.text("last_month"),
        severe_use=_yes(reading, "severe_use"),
        meter_hours=reading.text("meter_hours"),
    )


def _engine(reading: _Reading, kind: str) -> str:
    said = reading.text("engine")
    if said:
        return engine_said(said) or said
    usual = usual_engine(kind)
    if usual:
        reading.remarks.append(f"engine taken to be {usual}, as is usual for a {kind}")
    return usual


def _yes(reading: _Reading, place: str, *, default: bool = False) -> bool:
    said = reading.text(place).casefold()
    if not said:
        return default
    if said in _YES or said in _NO:
        return said in _YES
    sentence = f"“{said[:40]}” is neither yes nor no: write one of them, or leave it empty."
    reading.problems.append(Problem(reading.heading(place), said, sentence))
    return default


def _checked(
    entry: AnyEntry, check: Callable[[AnyEntry], object], reading: _Reading, wrong: Wrong
) -> AnyEntry:
    """Return the entry without what is wrong in it, which is noted; all of it, not the first."""
    tried: set[str] = set()
    while True:
        try:
            check(entry)
        except JobError as error:
            if error.field in tried or not hasattr(entry, error.field):
                return entry
            tried.add(error.field)
            entry = _without(entry, error, reading, wrong)
            if error.field in _NEEDED:
                return entry
            continue
        return entry


def _without(entry: AnyEntry, error: JobError, reading: _Reading, wrong: Wrong) -> AnyEntry:
    place = "unit_notes" if isinstance(entry, UnitEntry) and error.field == "notes" else error.field
    value = str(getattr(entry, error.field))
    heading, needed = reading.heading(place), error.field in _NEEDED
    reading.problems.append(Problem(heading, value, error.sentence, needed))
    if needed:
        return entry
    notes = f"{heading}: {value}" if wrong is Wrong.NOTE and error.field != "notes" else ""
    emptied: dict[str, Any] = {error.field: ""}
    entry = replace(entry, **emptied)
    return replace(entry, notes=_joined(entry.notes, notes))


def _with_phones(entry: CustomerEntry, reading: _Reading, wrong: Wrong) -> CustomerEntry:
    """Return the entry with the phones of all its columns, each once; what is none is noted."""
    good: list[str] = []
    known: list[str] = []
    over: list[str] = []
    for heading, said in _said_phones(reading):
        try:
            read = typed_phones(replace(entry, phones=(said,)))
        except JobError as error:
            reading.problems.append(Problem(heading, said, error.sentence))
            over += [f"{heading}: {said}"] if wrong is Wrong.NOTE else []
            continue
        number = "".join(digits(one) for _, one in read)
        if not number or any(is_same_phone(number, other) for other in known):
            continue
        known.append(number)
        (good if len(good) < MOST_PHONES else over).append(said)
    return replace(entry, phones=tuple(good), notes=_joined(entry.notes, "\n".join(over)))


def _said_phones(reading: _Reading) -> Iterator[tuple[str, str]]:
    """Yield the heading and words of each phone, its column's label before it if it has none."""
    for heading, label, text in reading.cells.get("phones", ()):
        for line in text.splitlines():
            for said in _parted(line):
                begins_with_number = said[0].isdigit() or said[0] in "+("
                yield heading, f"{label} {said}" if label and begins_with_number else said


def _parted(line: str) -> Iterator[str]:
    """Yield the phones of a line; what parts them does so only after a whole number."""
    begun = ""
    for piece in _BETWEEN_PHONES.split(line):
        if len(digits(begun)) >= FEWEST_DIGITS and _BETWEEN_PHONES.fullmatch(piece):
            yield " ".join(begun.split())
            begun = ""
        else:
            begun += piece
    if begun.strip(" ;|,/"):
        yield " ".join(begun.split())


def _joined(*texts: str) -> str:
    return "\n".join(filter(None, texts))
