"""Whether somebody, or a machine, is written down already: shown before it is done a second time.

Nothing here refuses anything: what is found is shown beside what is typed.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from shopdesk.job.alike import Name, is_same_street, postcodes, street_begins
from shopdesk.job.customers import CustomerEntry, customer_view, find_customer, get_customer
from shopdesk.job.phones import same_phone
from shopdesk.job.shift import Shift
from shopdesk.job.units import UnitEntry, get_unit, model_key, unit_view
from shopdesk.job.views import CustomerView, UnitView
from shopdesk.records.fetch import answers, row_of
from shopdesk.records.near_words import one_letter_off
from shopdesk.records.tables import Phone, Unit
from shopdesk.text import digits, letters_and_digits

FEWEST_DIGITS = 5
"""Fewer last digits are no phone yet."""
FEWEST_SIGNS = 4
"""A shorter serial number says nothing."""
MOST_LOOKED_AT = 5000
_BY_NAME = "SELECT id, name, address FROM customer WHERE folded_name IN (?, ?, ?)"
_BY_ADDRESS = (
    "SELECT id, name, address FROM customer WHERE address LIKE ? ESCAPE '\\' "
    f"ORDER BY id DESC LIMIT {MOST_LOOKED_AT}"
)
_BY_MAIL = "SELECT id FROM customer WHERE email <> '' AND lower(email) = ?"
_THEIRS = """
SELECT unit.id FROM unit JOIN ownership ON ownership.unit_id = unit.id
 WHERE ownership.customer_id = ? AND ownership.until IS NULL AND unit.model_key = ?
"""
_BY_SERIAL = "SELECT id FROM unit WHERE folded_serial = ?"


@dataclass(frozen=True, slots=True)
class LikeOwner:
    """A known owner who may be the one that is being written down, and why."""

    owner: CustomerView
    why: tuple[str, ...]

    @property
    def called(self) -> str:
        """Who it is: ``Mara Quill, 555-0142, 7 Orchard Row``."""
        street = self.owner.address.splitlines()[:1]
        phones = [phone.number for phone in self.owner.phones[:1]]
        return ", ".join((self.owner.name, *phones, *street))

    @property
    def words(self) -> str:
        """Who it is, and why it may be the same: ``Mara Quill, 555-0142 (same phone)``."""
        return f"{self.called} ({', '.join(self.why)})"


@dataclass(frozen=True, slots=True)
class LikeMachine:
    """A known machine that may be the one that is being written down, and why."""

    unit: UnitView
    why: tuple[str, ...]

    @property
    def called(self) -> str:
        """Which it is, and whose."""
        serial = f"serial {self.unit.serial}" if self.unit.serial else ""
        return ", ".join(filter(None, (self.unit.title, serial, self.unit.owner_name)))

    @property
    def words(self) -> str:
        """Which it is, whose, and why it may be the same."""
        return f"{self.called} ({', '.join(self.why)})"


def like_owners(
    shift: Shift, entry: CustomerEntry, *, but: int = 0, most: int = 3
) -> tuple[LikeOwner, ...]:
    """Return who may be the owner that is typed, the likeliest first; ``but`` is left out.

    The same phone in any form; the same e-mail; a name alike, swapped or mistyped, with the same
    street or ZIP; the same name where one of the two has no address. Never raises for what is half
    typed.
    """
    with shift.records.reading():
        found: dict[int, list[str]] = {}
        for customer_id, why in _reasons(entry):
            if customer_id != but and why not in found.setdefault(customer_id, []):
                found[customer_id].append(why)
        found.pop(but, None)
        best = sorted(found, key=lambda one: (-len(found[one]), -one))[:most]
        return tuple(
            LikeOwner(customer_view(find_customer(one)), tuple(found[one])) for one in best
        )


def owners_like(shift: Shift, customer_id: int, most: int = 6) -> tuple[LikeOwner, ...]:
    """Return who may be the same as an owner that is written down."""
    known = get_customer(shift, customer_id)
    phones = tuple(phone.number for phone in known.phones)
    entry = CustomerEntry(known.name, phones, known.email, known.address)
    return like_owners(shift, entry, but=customer_id, most=most)


def like_machines(
    shift: Shift, entry: UnitEntry, owner_id: int | None, *, but: int = 0, most: int = 3
) -> tuple[LikeMachine, ...]:
    """Return what may be the machine that is typed, the likeliest first; ``but`` is left out.

    The same serial number, whatever its dashes; the same make and model at the same owner, unless
    two serial numbers tell them apart.
    """
    with shift.records.reading():
        found: dict[int, list[str]] = {}
        serial = letters_and_digits(entry.serial)
        if len(serial) >= FEWEST_SIGNS:
            for (unit_id,) in answers(_BY_SERIAL, serial):
                found.setdefault(unit_id, []).append("same serial number")
        key = model_key(entry.make, entry.model)
        for (unit_id,) in answers(_THEIRS, owner_id, key) if owner_id and key else ():
            if _may_be_one(serial, row_of(Unit, unit_id)):
                found.setdefault(unit_id, []).append("same make and model, same owner")
        found.pop(but, None)
        best = sorted(found, key=lambda one: (-len(found[one]), -one))[:most]
        rows = ((row_of(Unit, one), found[one]) for one in best)
        return tuple(LikeMachine(unit_view(row), tuple(why)) for row, why in rows if row)


def machines_like(shift: Shift, unit_id: int, most: int = 6) -> tuple[LikeMachine, ...]:
    """Return what may be the same as a machine that is written down."""
    known = get_unit(shift, unit_id)
    entry = UnitEntry(known.kind, known.engine, known.make, known.model, known.serial)
    return like_machines(shift, entry, known.owner_id, but=unit_id, most=most)


def _may_be_one(serial: str, unit: Unit | None) -> bool:
    """Whether two serial numbers leave it open, one being missing or mistyped by one sign."""
    if unit is None or not serial or not unit.folded_serial:
        return unit is not None
    return serial == unit.folded_serial or _is_one_sign_off(serial, unit.folded_serial)


def _is_one_sign_off(one: str, other: str) -> bool:
    if other in one_letter_off(one):
        return True
    differing = [pair for pair in zip(one, other, strict=False) if pair[0] != pair[1]]
    return len(one) == len(other) and len(differing) == 1


def _reasons(entry: CustomerEntry) -> Iterator[tuple[int, str]]:
    for phone in entry.phones:
        number = digits(phone)
        if len(number) >= FEWEST_DIGITS:
            for row in Phone.select(Phone.customer).where(same_phone(number)):
                yield row.customer_id, "same phone"
    mail = entry.email.strip().lower()
    for (customer_id,) in answers(_BY_MAIL, mail) if "@" in mail else ():
        yield customer_id, "same e-mail"
    name = Name(entry.name)
    if len(name.words) > 1:
        yield from _by_name(entry, name)


def _by_name(entry: CustomerEntry, name: Name) -> Iterator[tuple[int, str]]:
    here = postcodes(entry.address)
    for customer_id, theirs, address in answers(_BY_NAME, *_spelt(name.words)):
        if name.is_like(theirs) and not (address and entry.address):
            yield customer_id, "same name"
    street = street_begins(entry.address)
    for part in filter(None, (street, *here)):
        for customer_id, theirs, address in answers(_BY_ADDRESS, f"%{_plain(part)}%"):
            if not name.is_like(theirs):
                continue
            if is_same_street(entry.address, address):
                yield customer_id, "name alike, same street"
            elif here & postcodes(address):
                yield customer_id, "name alike, same ZIP"


def _spelt(words: list[str]) -> tuple[str, str, str]:
    """Return a name as it may be kept: first name first, or last name first."""
    *first, last = words
    front = " ".join(first)
    return f"{front} {last}", f"{last} {front}", f"{last}, {front}"


def _plain(part: str) -> str:
    """Return words for LIKE, its signs meaning themselves."""
    return part.replace("\\", "\\\\").replace("%", "\\%").replace("_", "\\_")
