"""Which machines are there already: of an owner, and which serial number is whose."""

from collections import defaultdict
from dataclasses import dataclass, field

from shopdesk.job.importing.people import Person
from shopdesk.job.units import UnitEntry, model_key
from shopdesk.records.fetch import answers
from shopdesk.text import fold, letters_and_digits

_READ = """SELECT o.customer_id, u.kind, u.make, u.model, u.model_key, u.folded_serial
    FROM unit u JOIN ownership o ON o.unit_id = u.id AND o.until IS NULL ORDER BY u.id"""


@dataclass(frozen=True, slots=True)
class _Machine:
    serial: str
    model: tuple[str, str, str]


@dataclass(slots=True)
class Machines:
    """The machines by the key of their owner, as in ``Person``."""

    of_owner: dict[int, list[_Machine]] = field(default_factory=lambda: defaultdict(list))
    owner_of: dict[str, int] = field(default_factory=dict)
    """By folded serial number, whose it is."""

    def there(self, owner: Person, entry: UnitEntry) -> str:
        """Return by what a machine of this owner is there already, or empty."""
        machine = _as_machine(entry)
        for known in self.of_owner.get(owner.key, ()):
            if machine.serial and known.serial == machine.serial:
                return "same serial number"
            if not machine.serial and known.model == machine.model:
                return "same kind, make and model"
        return ""

    def elsewhere(self, owner: Person, entry: UnitEntry) -> int | None:
        """Return the key of another owner whose machine has that serial number."""
        serial = letters_and_digits(entry.serial)
        other = self.owner_of.get(serial) if serial else None
        return None if other == owner.key else other

    def add(self, owner_key: int, entry: UnitEntry) -> None:
        """Make a machine known."""
        self._keep(owner_key, _as_machine(entry))

    def _keep(self, owner_key: int, machine: _Machine) -> None:
        self.of_owner[owner_key].append(machine)
        if machine.serial:
            self.owner_of.setdefault(machine.serial, owner_key)


def known_machines() -> Machines:
    """Return the machines of the records with their owners of today, inside a transaction."""
    machines = Machines()
    for owner_id, kind, make, model, key, serial in answers(_READ):
        model_words = key or fold(model)
        machines._keep(
            owner_id, _Machine(serial, (fold(kind), letters_and_digits(make), model_words))
        )
    return machines


def _as_machine(entry: UnitEntry) -> _Machine:
    key = model_key(entry.make, entry.model) or fold(entry.model)
    model = (fold(" ".join(entry.kind.split())), letters_and_digits(entry.make), key)
    return _Machine(letters_and_digits(entry.serial), model)
