"""Whose machines need upkeep by a day, one entry for each owner, and how each is to be reached.

What a reminder from pickup names for a day that has come is on the list as well as what the plan of
a machine says. Nobody is on it for what they were told already.
"""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from shopdesk.job.customers import find_customer
from shopdesk.job.due_told import (
    Told,
    messages_by_owner,
    messages_to,
    round_of,
    told_by_reminder,
    told_in,
)
from shopdesk.job.messages import EMAIL, LETTER, PHONE, POSTCARD, TEXT, WAYS
from shopdesk.job.paper_content import Addressee, UpkeepRow
from shopdesk.job.paperwork import addressee
from shopdesk.job.shift import Shift, load_shop
from shopdesk.job.shop import Shop
from shopdesk.job.units import find_unit
from shopdesk.job.upkeep_done import LastDone, last_done
from shopdesk.job.upkeep_plan import dues_of, upkeep_row
from shopdesk.job.views import machine_title
from shopdesk.records.fetch import answers, rows_by
from shopdesk.records.tables import Customer, Message, Reminder, Unit
from shopdesk.upkeep.due import Due

AHEAD_DAYS = 30
"""The list looks so far ahead unless another day is asked for."""

_OWNED = """
SELECT unit.id, ownership.customer_id
  FROM unit JOIN ownership ON ownership.unit_id = unit.id AND ownership.until IS NULL
            JOIN customer ON customer.id = ownership.customer_id
 WHERE unit.gone_on IS NULL AND NOT customer.moved_away
   AND EXISTS (SELECT 1 FROM ticket WHERE ticket.unit_id = unit.id)
   AND NOT EXISTS (SELECT 1 FROM ticket WHERE ticket.unit_id = unit.id AND ticket.stage <> 'Closed')
 ORDER BY ownership.customer_id, unit.id
"""
_THEIRS = _OWNED.replace(" ORDER BY", "   AND ownership.customer_id = ?\n ORDER BY")


@dataclass(frozen=True, slots=True)
class DueMachine:
    """A machine whose upkeep falls due: what, and the reminders from pickup that go with it."""

    unit_id: int
    title: str
    due_on: date
    rows: tuple[UpkeepRow, ...]
    rounds: tuple[str, ...]
    """One for each row: what makes it the same thing as said before."""
    reminder_ids: tuple[int, ...]

    @property
    def tasks(self) -> str:
        """What is due, in a line."""
        return "; ".join(row.title for row in self.rows)

    @property
    def in_short(self) -> str:
        """What is due, in few words."""
        return "; ".join(row.in_short for row in self.rows)


@dataclass(frozen=True, slots=True)
class DueOwner:
    """An owner with all their machines that fall due, and how they are to be reached."""

    customer_id: int
    owner: str
    phones: tuple[str, ...]
    email: str
    address: tuple[str, ...]
    way: str
    """One of ``WAYS``; empty where nothing may or can go to them."""
    ways: tuple[str, ...]
    """All ways by which they can be reached."""
    why_not: str
    """Why nothing goes to them, as it follows on their name, or empty."""
    machines: tuple[DueMachine, ...]

    @property
    def due_on(self) -> date:
        """The day of the first task."""
        return min(one.due_on for one in self.machines)


def due_list(shift: Shift, by: date) -> tuple[DueOwner, ...]:
    """Return the owners with upkeep that falls due up to and on ``by``, the earliest first.

    Machines that stand in the shop now, are gone, or whose owner moved away are left out, and so
    is what the owner heard of already.
    """
    with shift.records.reading():
        shop = load_shop()
        today = shift.today_in(shop)
        by_owner: defaultdict[int, list[int]] = defaultdict(list)
        for unit_id, customer_id in answers(_OWNED):
            by_owner[customer_id].append(unit_id)
        messages = messages_by_owner()
        owners = (
            _owner(key, units, messages.get(key, ()), shop, today, by)
            for key, units in by_owner.items()
        )
        found = [one for one in owners if one is not None]
    return tuple(sorted(found, key=lambda one: (one.due_on, one.owner, one.customer_id)))


def owner_due(customer_id: int, shop: Shop, today: date, by: date) -> DueOwner | None:
    """Return one owner's entry of the list, inside a transaction; ``None`` where nothing is due."""
    units = [unit_id for unit_id, _ in answers(_THEIRS, customer_id)]
    return _owner(customer_id, units, messages_to(customer_id), shop, today, by)


def may_hear_of(unit_id: int, customer_id: int) -> bool:
    """Whether a machine is this owner's and out of the shop, inside a transaction."""
    return (unit_id, customer_id) in answers(_THEIRS, customer_id)


def way_to(
    customer: Customer, named: Addressee, dead: frozenset[str] = frozenset()
) -> tuple[str, tuple[str, ...], str]:
    """Return how an owner is reached, all ways that are open, and why none is.

    As they wish, else by e-mail, letter or phone, the first that there is. ``dead`` are the ways
    by which a message came back.
    """
    if not customer.may_remind:
        return "", (), "wants no reminders"
    if customer.moved_away:
        return "", (), "moved away"
    there = {
        LETTER: bool(named.address),
        POSTCARD: bool(named.address),
        EMAIL: bool(named.email),
        PHONE: bool(named.phones),
        TEXT: bool(named.phones),
    }
    ways = tuple(way for way in WAYS if there[way] and way not in dead)
    wished = customer.preferred_way
    if wished in ways:
        return wished, ways, ""
    way = next((way for way in (EMAIL, LETTER, PHONE) if way in ways), "")
    if way:
        return way, ways, ""
    if dead:
        return "", (), "can't be reached: what was sent came back; put it right on their card"
    return "", (), "can't be reached: no address, e-mail or phone is written down"


def _owner(
    customer_id: int,
    unit_ids: Sequence[int],
    messages: Iterable[Message],
    shop: Shop,
    today: date,
    by: date,
) -> DueOwner | None:
    customer = find_customer(customer_id)
    named = addressee(customer)
    told = told_in(messages, named)
    found = (_machine(find_unit(one), customer_id, told, shop, today, by) for one in unit_ids)
    machines = tuple(one for one in found if one is not None)
    if not machines:
        return None
    way, ways, why_not = way_to(customer, named, told.dead_ways)
    return DueOwner(
        customer_id=customer_id,
        owner=customer.name,
        phones=named.phones,
        email=named.email,
        address=named.address,
        way=way,
        ways=ways,
        why_not=why_not,
        machines=tuple(sorted(machines, key=lambda one: (one.due_on, one.title, one.unit_id))),
    )


def _machine(
    unit: Unit, customer_id: int, told: Told, shop: Shop, today: date, by: date
) -> DueMachine | None:
    done = last_done(unit, shop.zone)
    dues = dues_of(unit, shop, today, done)
    rounds = {due.task.key: round_of(unit.id, due, done) for due in dues}
    asked = _asked(unit.id, customer_id, dues, done, shop.zone)
    heard = {key for key, one in rounds.items() if one in told.rounds} | asked.heard
    day_has_come = [one for one in asked.open if one[0].due_on <= by and one[1] - heard]
    wanted = {key for _, keys in day_has_come for key in keys}
    unheard = [
        due
        for due in dues
        if due.task.key not in heard and (due.on <= by or due.task.key in wanted)
    ]
    if not unheard:
        return None
    said = heard | {due.task.key for due in unheard}
    days = [due.on for due in unheard] + [one.due_on for one, _ in day_has_come]
    return DueMachine(
        unit_id=unit.id,
        title=machine_title(unit.kind, unit.make, unit.model),
        due_on=max(min(days), today),
        rows=tuple(upkeep_row(due, today) for due in unheard),
        rounds=tuple(rounds[due.task.key] for due in unheard),
        reminder_ids=tuple(one.id for one, keys in asked.open if keys and keys <= said),
    )


@dataclass(frozen=True, slots=True)
class _Asked:
    """The reminders from pickup: what those told of that went out, and the open ones."""

    heard: frozenset[str]
    open: tuple[tuple[Reminder, frozenset[str]], ...]


def _asked(
    unit_id: int,
    customer_id: int,
    dues: Sequence[Due],
    done: Mapping[str, LastDone],
    zone: str,
) -> _Asked:
    """Return what was asked for at pickup by the machine's owner of today."""
    rows = [row for row in rows_by(Reminder, "unit_id", unit_id) if row.customer_id == customer_id]
    keyed = [(row, told_by_reminder(row, dues, done, zone)) for row in rows]
    went_out = (
        keys
        for row, keys in keyed
        if row.state == "done" or (row.state == "sent" and row.message_id is None)
    )
    return _Asked(
        frozenset(key for keys in went_out for key in keys),
        tuple((row, keys) for row, keys in keyed if row.state == "open"),
    )
