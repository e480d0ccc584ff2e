"""A shop of any size, put in behind the journal's back: it is reading that is measured on it."""

import sqlite3
from collections.abc import Iterable, Iterator
from datetime import datetime
from random import Random
from typing import Any

from shopdesk.job.shift import Shift
from shopdesk.records import search
from shopdesk.records.tables import Customer, Ownership, Phone, Row, Ticket, Unit
from shopdesk.text import digits, fold, letters_and_digits

FIRST = ("Mara", "Ansel", "Łukasz", "Zoë", "Bertil", "Ida", "Jonas", "Petra", "Ruth", "Wanda")
BEGIN = ("Quill", "Bright", "Thorn", "Alder", "Stone", "Hazel", "Mill", "Orchard", "Fern", "Marsh")
END = ("water", "field", "son", "wick", "ley", "worth", "ham", "by", "ford", "stead", "well", "man")
MAKES = ("Tarnbeck", "Osmarrow", "Velstrand", "Quarrow", "Hallowmere")
KINDS = ("string trimmer", "chain saw", "push mower", "blower", "tiller", "pressure washer")
SAID = (
    *("won't start", "dies when squeezed", "hard to pull", "leaks fuel", "smokes", "loses power"),
    *("hot", "at idle", "surges", "rattles", "after storage", "no spark", "chain loose", "bar dry"),
    *("blade bent", "starter rope broken", "runs rough", "under load", "primer bulb cracked"),
    *("smell of petrol", "vibrates", "stops after ten minutes", "since spring", "twice a week"),
)
OPEN = 120
_START, _END = datetime(2011, 3, 1, 9), datetime(2031, 4, 1, 9)
_Values = dict[str, Any]


class BigShop:
    """So many customers, with five machines to four of them and five tickets to two."""

    def __init__(self, customers: int) -> None:
        self.customers = customers
        self.units, self.tickets = customers * 5 // 4, customers * 5 // 2
        self._random = Random(6)

    def fill(self, shift: Shift) -> None:
        """Put everything into the records, and make the find index."""
        with shift.records.writing():
            for table, rows in (
                (Customer, self._owners()),
                (Phone, self._phones()),
                (Unit, self._machines()),
                (Ownership, self._owned()),
                (Ticket, self._visits()),
            ):
                _put(shift, table, rows)
        with shift.records.writing():
            search.prepare(anew=True)

    def _owners(self) -> Iterator[_Values]:
        pick = self._random.choice
        for place in range(self.customers):
            name = f"{pick(FIRST)} {pick(BEGIN)}{pick(END)}"
            at = _moment(place / self.customers)
            yield {"name": name, "folded_name": fold(name), "created_at": at}

    def _phones(self) -> Iterator[_Values]:
        for owner in range(1, self.customers + 1):
            number = f"({self._random.randint(201, 989)}) 555-{self._random.randint(0, 9999):04d}"
            yield {"customer_id": owner, "number": number, "digits": digits(number)}

    def _machines(self) -> Iterator[_Values]:
        pick, number = self._random.choice, self._random.randint
        for place in range(self.units):
            model, serial = f"{pick('TOVQH')}{pick('BSLW')}-{number(20, 79)}", f"{place:06d}"
            serial = f"{model[:2]}{number(10, 39)}-{serial}"
            yield {
                "kind": pick(KINDS),
                "engine": "two-stroke",
                "make": pick(MAKES),
                "model": model,
                "serial": serial,
                "folded_serial": letters_and_digits(serial),
                "created_at": _moment(place / self.units),
            }

    def _owned(self) -> Iterator[_Values]:
        for unit in range(1, self.units + 1):
            yield {"unit_id": unit, "customer_id": self._owner(unit), "since": "2011-03-01"}

    def _visits(self) -> Iterator[_Values]:
        for place in range(self.tickets):
            unit = self._random.randint(1, self.units)
            is_open = place >= self.tickets - OPEN
            at = _moment(place / self.tickets)
            yield {
                "number": 1001 + place,
                "unit_id": unit,
                "customer_id": self._owner(unit),
                "stage": "Diagnosis" if is_open else "Closed",
                "complaint": ", ".join(self._random.sample(SAID, 3)),
                "taken_in_at": at,
                "closed_at": None if is_open else at,
            }

    def _owner(self, unit: int) -> int:
        return (unit - 1) % self.customers + 1


def _moment(share: float) -> str:
    return (_START + (_END - _START) * share).isoformat(" ", "seconds")


def _put(shift: Shift, table: type[Row], rows: Iterable[_Values]) -> None:
    made = table()
    usual = {
        field.column_name: field.db_value(made.__data__.get(field.name))
        for field in table._meta.sorted_fields
        if field.name != "id"
    }
    columns, marks = ", ".join(f'"{name}"' for name in usual), ", ".join("?" * len(usual))
    cursor: sqlite3.Cursor = shift.records.engine.cursor()
    cursor.executemany(
        f'INSERT INTO "{table._meta.table_name}" ({columns}) VALUES ({marks})',
        (tuple({**usual, **row}.values()) for row in rows),
    )
