"""Finding the right owner or machine among those that are known, or writing down a new one."""

from collections.abc import Callable, Sequence
from typing import TypeVar

from shopdesk.bench.machines import Kind
from shopdesk.desk.front import Front
from shopdesk.desk.suggest import Offer
from shopdesk.errors import JobError
from shopdesk.job.customers import CustomerEntry, add_customer, get_customer
from shopdesk.job.find import find_anything
from shopdesk.job.shift import Shift
from shopdesk.job.units import ENGINES, UnitEntry, add_unit, units_of
from shopdesk.job.views import CustomerView, UnitView

Made = TypeVar("Made")
_MOST = 8
_FEWEST_LETTERS = 2


def known_owners(shift: Shift, words: str) -> Sequence[Offer[int]]:
    """Return the owners that a few letters of a name or digits of a phone may mean."""
    if len(words.strip()) < _FEWEST_LETTERS:
        return ()
    hits = find_anything(shift, words, 3 * _MOST)
    owners = [hit for hit in hits if hit.customer_id is not None][:_MOST]
    return [Offer(f"{hit.title}   –   {hit.detail}", hit.customer_id or 0) for hit in owners]


def ask_owner(front: Front, title: str, question: str) -> CustomerView | None:
    """Ask which owner is meant: a known one, or a new one of that name. ``None``: nobody after all."""
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
    """Ask which of an owner's machines is meant (all but one), or what kind of machine a new one is."""
    units = [unit for unit in units_of(front.shift, owner.id) if unit.id != but]
    named = [f"{unit.title}{f', serial {unit.serial}' if unit.serial else ''}" for unit in units]
    place = front.dialogs.choose(title, f"Which machine of {owner.name} is it?", [*named, "A machine not written down yet"])
    if place is None:
        return None
    if place < len(units):
        return units[place]
    kind = front.dialogs.choose(title, "What kind of machine is it?", list(Kind))
    engine = None if kind is None else front.dialogs.choose(title, "What drives it?", ENGINES)
    if kind is None or engine is None:
        return None
    entry = UnitEntry(kind=list(Kind)[kind], engine=ENGINES[engine])
    return _tried(front, lambda: add_unit(front.shift, owner.id, entry))


def _tried(front: Front, job: Callable[[], Made]) -> Made | None:
    try:
        return job()
    except JobError as error:
        front.notices.trouble(error.sentence)
        return None
