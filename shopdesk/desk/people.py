"""Finding the right owner or machine among those that are known, or writing down a new one."""

from collections.abc import Callable, Sequence
from typing import TypeVar

from shopdesk.desk.front import Front
from shopdesk.desk.suggest import Offer
from shopdesk.errors import JobError
from shopdesk.job.customers import CustomerEntry, add_customer, get_customer, suggest_owners
from shopdesk.job.find import find_machines
from shopdesk.job.shift import Shift
from shopdesk.job.units import ENGINES, KINDS, UnitEntry, add_unit, units_of
from shopdesk.job.views import CustomerView, UnitView

Made = TypeVar("Made")
_FEWEST_LETTERS, _FEWEST_SIGNS = 2, 4


def known_owners(shift: Shift, words: str) -> Sequence[Offer[int]]:
    """Return the owners that a few letters of a name or digits of a phone may mean."""
    if len(words.strip()) < _FEWEST_LETTERS:
        return ()
    return [Offer(_person_words(owner), owner.id) for owner in suggest_owners(shift, words)]


def known_machines(shift: Shift, serial: str) -> Sequence[Offer[int]]:
    """Return the machines whose serial number begins or ends with what is typed."""
    if len(serial.strip()) < _FEWEST_SIGNS:
        return ()
    return [
        Offer(f"{hit.title}   –   {hit.detail}", hit.unit_id)
        for hit in find_machines(shift, serial)
        if hit.unit_id is not None
    ]


def machine_words(unit: UnitView) -> str:
    """Return a machine as one of several to choose from."""
    return f"{unit.title}, serial {unit.serial}" if unit.serial else unit.title


def ask_owner(front: Front, title: str, question: str) -> CustomerView | None:
    """Ask which owner is meant: a known one, a new one of that name, or nobody after all."""
    words = front.dialogs.ask_text(title, f"{question} Type a name or a phone's last digits.")
    if not words or not words.strip():
        return None
    found = known_owners(front.shift, words)
    choices = [*(offer.words for offer in found), f"A new owner: {words.strip()}"]
    place = front.dialogs.choose(title, "Who is it?", choices)
    if place is None:
        return None
    if place < len(found):
        return get_customer(front.shift, found[place].thing)
    return _tried(front, lambda: add_customer(front.shift, CustomerEntry(name=words)))


def ask_machine(front: Front, title: str, owner: CustomerView, but: int) -> UnitView | None:
    """Ask which of an owner's other machines is meant, or what kind of machine a new one is."""
    units = [unit for unit in units_of(front.shift, owner.id) if unit.id != but]
    named = [machine_words(unit) for unit in units]
    place = front.dialogs.choose(
        title, f"Which machine of {owner.name} is it?", [*named, "A machine not written down yet"]
    )
    if place is None:
        return None
    if place < len(units):
        return units[place]
    kind = front.dialogs.choose(title, "What kind of machine is it?", KINDS)
    engine = None if kind is None else front.dialogs.choose(title, "What drives it?", ENGINES)
    if kind is None or engine is None:
        return None
    entry = UnitEntry(kind=KINDS[kind], engine=ENGINES[engine])
    return _tried(front, lambda: add_unit(front.shift, owner.id, entry))


def _tried(front: Front, job: Callable[[], Made]) -> Made | None:
    try:
        return job()
    except JobError as error:
        front.notices.trouble(error.sentence)
        return None


def _person_words(owner: CustomerView) -> str:
    phones = ", ".join(phone.number for phone in owner.phones[:2])
    street = owner.address.splitlines()[0] if owner.address else ""
    return "   –   ".join(filter(None, (owner.name, phones, street)))
