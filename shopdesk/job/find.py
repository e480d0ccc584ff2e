"""The find box: a phone's last digits, a name, a serial, a tag number, or a word of a complaint."""

import re
from collections.abc import Iterator
from itertools import islice

from peewee import ColumnBase, Expression, fn

from shopdesk.job.opened import tag_of
from shopdesk.job.phones import same_phone
from shopdesk.job.shift import Shift
from shopdesk.job.stages import Stage
from shopdesk.job.typed import words_looked_for
from shopdesk.job.views import Hit, machine_title
from shopdesk.records.tables import Customer, Ownership, Phone, Ticket, Unit
from shopdesk.text import digits, fold

_TAG = re.compile(r"t?\s*(\d{1,9})", re.I)


def find_anything(shift: Shift, words: str, most: int = 20) -> tuple[Hit, ...]:
    """Return at most ``most`` hits, each kind newest first.

    A ticket of that number comes first, then owners, machines, and complaints.
    """
    wanted = words_looked_for(words)
    if not wanted:
        return ()
    with shift.records.reading():
        return tuple(islice(_hits(wanted, most), most))


def _hits(wanted: str, most: int) -> Iterator[Hit]:
    tag = _TAG.fullmatch(wanted)
    number = int(tag[1]) if tag else 0
    yield from map(_ticket_hit, Ticket.select().where(Ticket.number == number))
    seen: set[int] = set()
    for customer in _customers(wanted, most):
        if customer.id not in seen:
            seen.add(customer.id)
            yield _customer_hit(customer)
    yield from map(_unit_hit, _units(wanted, most))
    yield from (_ticket_hit(one) for one in _tickets(wanted, most) if one.number != number)


def _customers(wanted: str, most: int) -> Iterator[Customer]:
    number = digits(wanted)
    if len(number) >= 3 and len(number) * 2 >= len(wanted):
        ends_so = Phone.digits.endswith(number) | same_phone(number)
        by_phone = Customer.select().join(Phone).where(ends_so)
        yield from by_phone.order_by(Customer.id.desc()).limit(most)
    by_name = Customer.select().where(_all_words(Customer.folded_name, wanted))
    yield from by_name.order_by(Customer.id.desc()).limit(most)


def _units(wanted: str, most: int) -> Iterator[Unit]:
    serial = "".join(char for char in fold(wanted) if char.isalnum())
    by_name = _all_words(
        fn.fold(Unit.make.concat(" ").concat(Unit.model).concat(" ").concat(Unit.kind)), wanted
    )
    matches = by_name if len(serial) < 3 else by_name | Unit.folded_serial.contains(serial)
    yield from Unit.select().where(matches).order_by(Unit.id.desc()).limit(most)


def _tickets(wanted: str, most: int) -> Iterator[Ticket]:
    matches = Ticket.select().where(_all_words(fn.fold(Ticket.complaint), wanted))
    yield from matches.order_by((Ticket.stage == Stage.CLOSED), Ticket.number.desc()).limit(most)


def _all_words(column: ColumnBase, wanted: str) -> Expression:
    """Match rows whose folded column holds each of the words."""
    first, *rest = fold(wanted).split() or [wanted]
    condition = column.contains(first)
    for word in rest:
        condition &= column.contains(word)
    return condition


def _ticket_hit(ticket: Ticket) -> Hit:
    unit = ticket.unit
    title = f"{tag_of(ticket.number)}  {ticket.customer.name}"
    machine = machine_title(unit.kind, unit.make, unit.model)
    return Hit(title, f"{machine} · {ticket.stage} · {ticket.complaint[:60]}", ticket_id=ticket.id)


def _customer_hit(customer: Customer) -> Hit:
    phone = Phone.select().where(Phone.customer == customer.id).order_by(Phone.position).first()
    units = (
        Ownership.select()
        .where((Ownership.customer == customer.id) & Ownership.until.is_null())
        .count()
    )
    machines = "1 machine" if units == 1 else f"{units} machines"
    return Hit(
        customer.name,
        " · ".join(filter(None, (phone and phone.number, machines))),
        customer_id=customer.id,
    )


def _unit_hit(unit: Unit) -> Hit:
    owner = Ownership.get((Ownership.unit == unit.id) & Ownership.until.is_null()).customer
    serial = f"serial {unit.serial}" if unit.serial else ""
    detail = " · ".join(filter(None, (owner.name, serial)))
    return Hit(machine_title(unit.kind, unit.make, unit.model), detail, unit_id=unit.id)
