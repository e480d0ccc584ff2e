"""Whose machines need upkeep by a day, one entry for each owner, and what they heard of already.

A machine's upkeep comes in rounds: a task that was done begins a new one. Of one round of a task an
owner is told once, whatever list it was found on, unless the message was dropped or came back.
"""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date

import msgspec

from shopdesk.job.customers import find_customer
from shopdesk.job.due_content import UpkeepMessage
from shopdesk.job.messages import EMAIL, LETTER, PHONE, WAYS, About, State
from shopdesk.job.paper_content import UpkeepRow
from shopdesk.job.paperwork import addressee, machine
from shopdesk.job.shift import Shift, load_shop
from shopdesk.job.shop import Shop
from shopdesk.job.units import find_unit
from shopdesk.job.upkeep_done import LastDone, last_done
from shopdesk.job.upkeep_plan import dues_of, upkeep_row
from shopdesk.records.fetch import answers, rows_by
from shopdesk.records.tables import Customer, Message, Reminder, Unit
from shopdesk.upkeep.due import Due

AHEAD_DAYS = 30
"""The list looks so far ahead unless another day is asked for."""
_UNHEARD = (State.DROPPED, State.CAME_BACK)
"""Of such a message an owner did not hear."""

_OWNED = """
SELECT unit.id, ownership.customer_id
  FROM unit JOIN ownership ON ownership.unit_id = unit.id AND ownership.until IS NULL
            JOIN customer ON customer.id = ownership.customer_id
 WHERE unit.gone_on IS NULL AND NOT customer.moved_away
   AND EXISTS (SELECT 1 FROM ticket WHERE ticket.unit_id = unit.id)
   AND NOT EXISTS (SELECT 1 FROM ticket WHERE ticket.unit_id = unit.id AND ticket.stage <> 'Closed')
 ORDER BY ownership.customer_id, unit.id
"""


@dataclass(frozen=True, slots=True)
class DueMachine:
    """A machine whose upkeep falls due: what, and the reminder that was made at pickup, if one."""

    unit_id: int
    title: str
    due_on: date
    rows: tuple[UpkeepRow, ...]
    rounds: tuple[str, ...]
    """One for each row: what makes it the same thing as said before."""
    reminder_id: int | None


@dataclass(frozen=True, slots=True)
class DueOwner:
    """An owner with all their machines that fall due, and how they are to be reached."""

    customer_id: int
    owner: str
    phones: tuple[str, ...]
    email: str
    address: tuple[str, ...]
    way: str
    """One of ``WAYS``; empty where they can't be reached or want nothing."""
    why_not: str
    """Why nothing goes to them, in words, or empty."""
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
        owners = (_owner(key, units, shop, today, by) for key, units in by_owner.items())
        found = [one for one in owners if one is not None]
    return tuple(sorted(found, key=lambda one: (one.due_on, one.owner)))


def owner_due(customer_id: int, shop: Shop, today: date, by: date) -> DueOwner | None:
    """Return one owner's entry of the list, inside a transaction; ``None`` where nothing is due."""
    units = [unit_id for unit_id, owner in answers(_OWNED) if owner == customer_id]
    return _owner(customer_id, units, shop, today, by)


def heard_rounds(customer_id: int) -> frozenset[str]:
    """Return the rounds that an owner heard of, inside a transaction."""
    rows = rows_by(Message, "customer_id", customer_id)
    return frozenset(
        one
        for row in rows
        if row.about == About.UPKEEP and row.state not in _UNHEARD
        for one in content_of(row).rounds
    )


def content_of(row: Message) -> UpkeepMessage:
    """Return what a message about upkeep said."""
    return msgspec.json.decode(row.content, type=UpkeepMessage)


def way_to(customer: Customer, phones: Sequence[str]) -> tuple[str, str]:
    """Return how an owner is reached, and why they are not where they are not.

    As they wish, else by e-mail, letter or phone, the first that there is.
    """
    if not customer.may_remind:
        return "", "wants no reminders"
    if customer.moved_away:
        return "", "moved away"
    there = {
        "letter": bool(customer.address),
        "postcard": bool(customer.address),
        "e-mail": bool(customer.email),
        "phone": bool(phones),
        "text": bool(phones),
    }
    wished = customer.preferred_way
    if wished in WAYS and there[wished]:
        return wished, ""
    way = next((way for way in (EMAIL, LETTER, PHONE) if there[way]), "")
    return way, "" if way else "no address, e-mail or phone is written down"


def _owner(
    customer_id: int, unit_ids: Sequence[int], shop: Shop, today: date, by: date
) -> DueOwner | None:
    heard = heard_rounds(customer_id)
    found = (_machine(find_unit(unit_id), heard, shop, today, by) for unit_id in unit_ids)
    machines = tuple(one for one in found if one is not None)
    if not machines:
        return None
    customer = find_customer(customer_id)
    named = addressee(customer)
    way, why_not = way_to(customer, named.phones)
    return DueOwner(
        customer_id=customer_id,
        owner=customer.name,
        phones=named.phones,
        email=named.email,
        address=named.address,
        way=way,
        why_not=why_not,
        machines=tuple(sorted(machines, key=lambda one: one.due_on)),
    )


def _machine(
    unit: Unit, heard: frozenset[str], shop: Shop, today: date, by: date
) -> DueMachine | None:
    done = last_done(unit, shop.zone)
    dues = dues_of(unit, shop, today, done)
    rounds = {due.task.key: _round(unit, due, done) for due in dues}
    unheard = [due for due in dues if due.on <= by and rounds[due.task.key] not in heard]
    if not unheard:
        return None
    reminders = rows_by(Reminder, "unit_id", unit.id)
    open_ones = [row.id for row in reminders if row.state == "open"]
    return DueMachine(
        unit_id=unit.id,
        title=machine(unit).title,
        due_on=max(min(due.on for due in unheard), today),
        rows=tuple(upkeep_row(due, today) for due in unheard),
        rounds=tuple(rounds[due.task.key] for due in unheard),
        reminder_id=open_ones[-1] if open_ones else None,
    )


def _round(unit: Unit, due: Due, done: Mapping[str, LastDone]) -> str:
    """Return what names this round of a task: the machine, the task, and what it counts from.

    A task that comes with the season has one round a year.
    """
    last = done.get(due.task.key)
    since = last.on.isoformat() if last else "never"
    season = f" {due.on.year}" if due.task.season else ""
    return f"{unit.id} {due.task.key} {since}{season}"
