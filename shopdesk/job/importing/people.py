"""Who is there already: finds the owner that a row of a list most likely means."""

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass, field

from shopdesk.job.customers import CustomerEntry
from shopdesk.job.phones import is_same_phone, split_label
from shopdesk.records.fetch import answers
from shopdesk.text import digits, fold, letters_and_digits

_TAIL = 7
"""So many last digits name one phone, as in ``phones.is_same_phone``."""
_READ_OWNERS = "SELECT id, name, folded_name, email, address FROM customer ORDER BY id"
_READ_PHONES = "SELECT customer_id, digits FROM phone ORDER BY customer_id, position"


@dataclass(slots=True)
class Person:
    """Someone in the records (``key`` is their id) or in the list (below zero, by row)."""

    key: int
    name: str
    folded: str
    email: str
    address: str
    phones: list[str] = field(default_factory=list)
    ref: str = ""
    """Their number in the list that brought them."""

    @property
    def has_contact(self) -> bool:
        """Whether anything but the name is known of them."""
        return bool(self.phones or self.email or self.address)


@dataclass(frozen=True, slots=True)
class Found:
    """Whom a row means, by what, and whether that is sure enough to add to them."""

    person: Person
    why: str
    sure: bool


@dataclass(slots=True)
class People:
    """All owners, to be found by phone, e-mail and name; those of the list are added to them."""

    by_key: dict[int, Person] = field(default_factory=dict)
    _by_phone: dict[str, list[Person]] = field(default_factory=lambda: defaultdict(list))
    _by_email: dict[str, list[Person]] = field(default_factory=lambda: defaultdict(list))
    _by_name: dict[str, list[Person]] = field(default_factory=lambda: defaultdict(list))

    def add(self, person: Person) -> Person:
        """Make someone known."""
        self.by_key[person.key] = person
        self._by_name[_name_key(person.folded)].append(person)
        if person.email:
            self._by_email[person.email].append(person)
        for number in person.phones:
            self._by_phone[number[-_TAIL:]].append(person)
        return person

    def add_phones(self, person: Person, numbers: Iterable[str]) -> None:
        """Make more phones of someone known."""
        for number in numbers:
            if not any(is_same_phone(number, other) for other in person.phones):
                person.phones.append(number)
                self._by_phone[number[-_TAIL:]].append(person)

    def find(self, who: Person) -> Found | None:
        """Return whom ``who`` most likely is, or nobody."""
        same_name = self._by_name.get(_name_key(who.folded), [])
        for person in same_name:
            why = _shared(who, person)
            if why:
                return Found(person, f"same name and {why}", sure=True)
        if same_name and not who.has_contact:
            sure = len(same_name) == 1
            return Found(same_name[0], "same name, and nothing else is said", sure)
        for person in (*self._with_phone(who), *self._by_email.get(who.email, ())):
            return Found(person, f"same {_shared(who, person)}, other name", sure=False)
        if same_name:
            return Found(same_name[0], "same name, other phone and address", sure=False)
        return None

    def _with_phone(self, who: Person) -> list[Person]:
        return [
            person
            for number in who.phones
            for person in self._by_phone.get(number[-_TAIL:], ())
            if any(is_same_phone(number, other) for other in person.phones)
        ]


def known_people() -> People:
    """Return all owners of the records, inside a transaction."""
    people = People()
    phones: defaultdict[int, list[str]] = defaultdict(list)
    for owner_id, number in answers(_READ_PHONES):
        phones[owner_id].append(number)
    for owner_id, name, folded, email, address in answers(_READ_OWNERS):
        person = Person(owner_id, name, folded, email.casefold(), letters_and_digits(address))
        person.phones = phones.get(owner_id, [])
        people.add(person)
    return people


def as_person(key: int, entry: CustomerEntry, ref: str = "") -> Person:
    """Return someone as a list says who they are; the entry is one that was read without fault."""
    numbers = [digits(split_label(phone, "phones")[1]) for phone in entry.phones]
    name = " ".join(entry.name.split())
    email, address = entry.email.strip().casefold(), letters_and_digits(entry.address)
    return Person(key, name, fold(name), email, address, numbers, ref)


def _shared(one: Person, other: Person) -> str:
    for number in one.phones:
        if any(is_same_phone(number, known) for known in other.phones):
            return f"phone {number}"
    if one.email and one.email == other.email:
        return f"e-mail {one.email}"
    return "address" if one.address and one.address == other.address else ""


def _name_key(folded: str) -> str:
    """Return what the ways to write a name have in common: ``Quill, Mara`` is ``Mara Quill``."""
    return " ".join(sorted(folded.replace(",", " ").replace(".", " ").split()))
