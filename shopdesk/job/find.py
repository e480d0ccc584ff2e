"""The find box: a phone's last digits, a name, a serial, a tag number, or a word of a complaint."""

import re
from collections.abc import Callable

from shopdesk.job.opened import MOST_NUMBER, tag_of
from shopdesk.job.shift import Shift
from shopdesk.job.typed import words_looked_for
from shopdesk.job.views import Hit, machine_title
from shopdesk.records import search
from shopdesk.records.fetch import answers
from shopdesk.records.found_by import CUSTOMER, TICKET, UNIT, Thing
from shopdesk.records.search_words import asked_for

_TAG = re.compile(r"t?\s*(\d{1,9})", re.I)
_NUMBERED = "SELECT id FROM ticket WHERE number = ?"
_TICKETS = """
    SELECT t.id, t.number, t.stage, substr(t.complaint, 1, 60), c.name, u.kind, u.make, u.model
    FROM ticket t JOIN customer c ON c.id = t.customer_id JOIN unit u ON u.id = t.unit_id
    WHERE t.id IN (~)"""
_CUSTOMERS = """
    SELECT c.id, c.name,
        (SELECT number FROM phone WHERE customer_id = c.id ORDER BY position LIMIT 1),
        (SELECT count(*) FROM ownership WHERE customer_id = c.id AND until IS NULL)
    FROM customer c WHERE c.id IN (~)"""
_UNITS = """
    SELECT u.id, u.kind, u.make, u.model, u.serial, c.name
    FROM unit u
    LEFT JOIN ownership o ON o.unit_id = u.id AND o.until IS NULL
    LEFT JOIN customer c ON c.id = o.customer_id
    WHERE u.id IN (~)"""


def find_anything(shift: Shift, words: str, most: int = 20) -> tuple[Hit, ...]:
    """Return at most ``most`` hits: the ticket of that number, open tickets, then what is recent.

    Every word has to begin one of a thing's words: of an open ticket the complaint, tag, owner and
    machine; of a machine its own and its owner's name. Where nothing is found, closed tickets are
    looked for by all of these too, and then a slip in a word is forgiven.
    """
    wanted = words_looked_for(words)
    with shift.records.reading():
        things = dict.fromkeys((*_numbered(wanted), *_found(wanted, most)))
        return _hits(list(things)[:most])


def find_machines(shift: Shift, serial: str, most: int = 8) -> tuple[Hit, ...]:
    """Return at most ``most`` machines of which the serial begins or ends with what is typed.

    One that has it among its other words is offered too.
    """
    with shift.records.reading():
        return _hits(search.of_kind(UNIT, asked_for(words_looked_for(serial)), most))


def index_faults(shift: Shift) -> tuple[str, ...]:
    """Say where the find index is not as the rows say; nothing when it is."""
    with shift.records.writing():
        return tuple(search.differences())


def make_index_anew(shift: Shift, progress: Callable[[int, int], None] | None = None) -> None:
    """Make the find index anew from the rows; ``progress`` is told how many of how many are in."""
    with shift.records.writing():
        search.prepare(anew=True, progress=progress)


def _numbered(wanted: str) -> list[Thing]:
    tag = _TAG.fullmatch(wanted)
    number = int(tag[1]) if tag else 0
    rows = answers(_NUMBERED, number) if 0 < number <= MOST_NUMBER else ()
    return [Thing(TICKET, ticket_id) for (ticket_id,) in rows]


def _found(wanted: str, most: int) -> list[Thing]:
    asked = asked_for(wanted)
    return (
        search.found(asked, most)
        or search.newest_past(asked, most)
        or search.found(search.spelt_otherwise(asked), most)
    )


def _hits(things: list[Thing]) -> tuple[Hit, ...]:
    """Return the things in words, in their order."""
    hits: dict[Thing, Hit] = {}
    for kind, query, in_words in _KINDS:
        ids = [thing.id for thing in things if thing.kind == kind]
        for row in answers(query.replace("~", ",".join("?" * len(ids))), *ids) if ids else ():
            hits[Thing(kind, row[0])] = in_words(*row)
    return tuple(hits[thing] for thing in things if thing in hits)


def _ticket_hit(
    ticket_id: int,
    number: int,
    stage: str,
    complaint: str,
    owner: str,
    kind: str,
    make: str,
    model: str,
) -> Hit:
    machine = machine_title(kind, make, model)
    title = f"{tag_of(number)}  {owner}"
    return Hit(title, f"{machine} · {stage} · {complaint}", ticket_id=ticket_id)


def _customer_hit(customer_id: int, name: str, phone: str | None, units: int) -> Hit:
    machines = "1 machine" if units == 1 else f"{units} machines"
    return Hit(name, " · ".join(filter(None, (phone, machines))), customer_id=customer_id)


def _unit_hit(
    unit_id: int, kind: str, make: str, model: str, serial: str, owner: str | None
) -> Hit:
    detail = " · ".join(filter(None, (owner, serial and f"serial {serial}")))
    return Hit(machine_title(kind, make, model), detail, unit_id=unit_id)


_KINDS: tuple[tuple[str, str, Callable[..., Hit]], ...] = (
    (TICKET, _TICKETS, _ticket_hit),
    (CUSTOMER, _CUSTOMERS, _customer_hit),
    (UNIT, _UNITS, _unit_hit),
)
