"""What each owner, machine and ticket is found by, read from its rows."""

from collections.abc import Collection, Iterable, Iterator
from itertools import chain
from typing import Any, NamedTuple

from shopdesk.records.fetch import answers
from shopdesk.records.search_words import kind_word, words_of, words_of_name, words_of_number
from shopdesk.records.tables import Customer, Ownership, Phone, Row, Ticket, Unit, database
from shopdesk.text import letters_and_digits

CUSTOMER, UNIT, TICKET = "customer", "unit", "ticket"
PORTION = 500
"""So many things are read at a time."""


class Thing(NamedTuple):
    """An owner, a machine or a ticket, by the id of its row."""

    kind: str
    id: int


class Document(NamedTuple):
    """What a thing is found by; ``is_open`` says that it is a ticket not closed yet."""

    is_open: bool
    words: str


_PHONES = "(SELECT group_concat(digits, ' ') FROM phone WHERE customer_id = c.id)"
_CUSTOMERS = f"SELECT c.id, c.name, c.email, {_PHONES} FROM customer c WHERE c.id IN (~)"
_UNITS = """
    SELECT u.id, u.kind, u.make, u.model, u.serial, c.name
    FROM unit u
    LEFT JOIN ownership o ON o.unit_id = u.id AND o.until IS NULL
    LEFT JOIN customer c ON c.id = o.customer_id
    WHERE u.id IN (~)"""
_TICKETS = """
    SELECT id, closed_at IS NULL, number, complaint_kind, complaint FROM ticket WHERE id IN (~)"""
_BESIDE_OPEN = f"""
    SELECT t.id, c.name, {_PHONES}, u.kind, u.make, u.model, u.serial
    FROM ticket t JOIN customer c ON c.id = t.customer_id JOIN unit u ON u.id = t.unit_id
    WHERE t.closed_at IS NULL AND t.id IN (~)"""
_WITH_CUSTOMERS = """
    SELECT 'unit', unit_id FROM ownership WHERE until IS NULL AND customer_id IN (~)
    UNION SELECT 'ticket', id FROM ticket WHERE closed_at IS NULL AND customer_id IN (~)"""
_WITH_UNITS = "SELECT 'ticket', id FROM ticket WHERE closed_at IS NULL AND unit_id IN (~)"
_BY_LAST_SEEN = """
    SELECT 'unit', u.id, 0 AS rank,
        max(u.created_at, coalesce(
            (SELECT max(taken_in_at) FROM ticket WHERE unit_id = u.id), '')) AS seen
    FROM unit u
    UNION ALL SELECT 'ticket', id, 1, coalesce(closed_at, taken_in_at) FROM ticket
    UNION ALL SELECT 'customer', c.id, 2,
        max(c.created_at, coalesce(
            (SELECT max(taken_in_at) FROM ticket WHERE customer_id = c.id), ''))
    FROM customer c
    ORDER BY seen, rank, 2"""


def things_of(row: Row) -> tuple[Thing, ...]:
    """Return whose words may differ once this row does."""
    match row:
        case Customer() | Unit() | Ticket():
            return (Thing(row._meta.table_name, row.id),)
        case Phone():
            return (Thing(CUSTOMER, row.customer_id),)
        case Ownership():
            return (Thing(UNIT, row.unit_id),)
    return ()


def things_seen_with(row: Row) -> tuple[Thing, ...]:
    """Return what is seen again when this row is new: a ticket's owner and machine, a new owner."""
    match row:
        case Ticket():
            return (Thing(CUSTOMER, row.customer_id), Thing(UNIT, row.unit_id))
        case Ownership():
            return (Thing(CUSTOMER, row.customer_id),)
    return ()


def with_all_that_name(things: Collection[Thing]) -> list[Thing]:
    """Return the things, and what is found by their words too, an owner after their machines.

    A machine is found by its owner's name, an open ticket by its owner and its machine.
    """
    owners = [thing.id for thing in things if thing.kind == CUSTOMER]
    named = {Thing(*row) for row in _portions(_WITH_CUSTOMERS, owners)}
    units = [thing.id for thing in things if thing.kind == UNIT]
    beside = {Thing(*row) for row in _portions(_WITH_UNITS, units)}
    return sorted({*things, *named, *beside}, key=_place)


def _place(thing: Thing) -> tuple[int, int]:
    return (UNIT, TICKET, CUSTOMER).index(thing.kind), thing.id


def documents(things: Iterable[Thing]) -> dict[Thing, Document]:
    """Return what each of the things is found by; those that are no more are left out."""
    ids: dict[str, list[int]] = {CUSTOMER: [], UNIT: [], TICKET: []}
    for kind, about in things:
        ids[kind].append(about)
    return {
        Thing(kind, about): Document(is_open, _together(kind, words))
        for kind, found in (
            (CUSTOMER, _customers(ids[CUSTOMER])),
            (UNIT, _units(ids[UNIT])),
            (TICKET, _tickets(ids[TICKET])),
        )
        for about, is_open, words in found
    }


def by_last_seen() -> Iterator[list[Thing]]:
    """Yield all things in portions, those seen last at the end."""
    rows = database.execute_sql(_BY_LAST_SEEN)
    while portion := rows.fetchmany(PORTION):
        yield [Thing(kind, about) for kind, about, *_ in portion]


def how_many() -> int:
    """Return how many things there are."""
    tables = ("customer", "unit", "ticket")
    return sum(int(answers(f'SELECT count(*) FROM "{table}"')[0][0]) for table in tables)


_Found = Iterator[tuple[int, bool, Iterator[str]]]


def _customers(ids: list[int]) -> _Found:
    for about, name, email, phones in _portions(_CUSTOMERS, ids):
        yield about, False, chain(words_of_name(name), _words_of_customer(email, phones))


def _units(ids: list[int]) -> _Found:
    for about, kind, make, model, serial, owner in _portions(_UNITS, ids):
        yield about, False, _words_of_unit(f"{kind} {make} {model} {owner or ''}", model, serial)


def _tickets(ids: list[int]) -> _Found:
    beside = {row[0]: row[1:] for row in _portions(_BESIDE_OPEN, ids)}
    for about, is_open, number, kind, complaint in _portions(_TICKETS, ids):
        own = words_of(f"{number} T{number} {kind} {complaint}")
        yield about, bool(is_open), chain(own, _words_beside(*beside[about]) if is_open else ())


def _words_beside(
    owner: str, phones: str, kind: str, make: str, model: str, serial: str
) -> Iterator[str]:
    yield from _words_of_customer(owner, phones)
    yield from _words_of_unit(f"{kind} {make} {model}", model, serial)


def _words_of_customer(named: str, phones: str | None) -> Iterator[str]:
    yield from words_of(named)
    for number in (phones or "").split():
        yield from words_of_number(number)


def _words_of_unit(named: str, model: str, serial: str) -> Iterator[str]:
    yield from words_of(f"{named} {serial}")
    yield letters_and_digits(model)
    yield from words_of_number(serial)


def _together(kind: str, words: Iterable[str]) -> str:
    return " ".join(dict.fromkeys(filter(None, (kind_word(kind), *words))))


def _portions(query: str, ids: list[int]) -> Iterator[tuple[Any, ...]]:
    for start in range(0, len(ids), PORTION):
        portion = ids[start : start + PORTION]
        marks = query.replace("~", ", ".join("?" * len(portion)))
        yield from answers(marks, *portion * query.count("~"))
