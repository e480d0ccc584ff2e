"""Who is at the desk, with which records and by what clock: each function of the job takes one."""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from datetime import UTC, date, datetime

import msgspec

from shopdesk.dates import local_day
from shopdesk.errors import JobError
from shopdesk.job.shop import Shop
from shopdesk.records import journal, search
from shopdesk.records.fetch import row_of, rows_by
from shopdesk.records.store import Records
from shopdesk.records.tables import Counter, Ownership, Phone, Row, Setting

FIRST_NUMBERS = {"ticket": 1001, "invoice": 5001, "credit note": 1, "order": 1}
"""Where each series of numbers begins."""


def clock() -> datetime:
    """Return this moment, aware, in UTC."""
    return datetime.now(UTC)


@dataclass(frozen=True, slots=True)
class Shift:
    """One person's turn at the desk. ``now`` gives aware UTC moments."""

    records: Records
    who: str = ""
    now: Callable[[], datetime] = clock

    @property
    def shop(self) -> Shop:
        """The shop's particulars; raises ``JobError`` before the first run has asked for them."""
        with self.records.reading():
            return load_shop()

    @property
    def today(self) -> date:
        """Today in the shop's zone."""
        return self.today_in(self.shop)

    def today_in(self, shop: Shop) -> date:
        """Today in the zone of ``shop``, when it was read already."""
        return local_day(self.now(), shop.zone)

    @contextmanager
    def changing(self) -> Iterator["Change"]:
        """Open one transaction, all or nothing, in which rows are changed and journalled."""
        with self.records.writing():
            change = Change(self.who, self.now(), load_shop())
            yield change
            search.keep_in_step(change.touched)


@dataclass(frozen=True, slots=True)
class Change:
    """One thing that a person does, inside its transaction."""

    who: str
    at: datetime
    shop: Shop
    touched: search.Touched = field(default_factory=search.Touched)
    """What is to be found by other words from now on."""

    @property
    def today(self) -> date:
        """The day of the change in the shop's zone."""
        return local_day(self.at, self.shop.zone)

    def add(self, row: Row) -> None:
        """Insert a row."""
        journal.add(row, who=self.who, at=self.at)
        self.touched.added(row)

    def save(self, row: Row, why: str = "") -> bool:
        """Write a changed row; returns whether anything differed."""
        was = row_of(type(row), row.id) if isinstance(row, Phone | Ownership) else None
        self.touched.changed(row, *filter(None, (was,)))
        return journal.save(row, who=self.who, at=self.at, why=why)

    def remove(self, row: Row, why: str = "") -> None:
        """Delete a row; the journal keeps what it held."""
        journal.remove(row, who=self.who, at=self.at, why=why)
        self.touched.changed(row)

    def next_number(self, series: str) -> int:
        """Give out the next number of one of ``FIRST_NUMBERS``, without gap or double.

        It stands or falls with the transaction.
        """
        counter = Counter.get_or_none(Counter.name == series)
        counter = counter or Counter(name=series, last=FIRST_NUMBERS[series] - 1)
        counter.last += 1
        counter.save()
        return counter.last


def has_shop(shift: Shift) -> bool:
    """Return whether the shop's particulars were ever asked for."""
    with shift.records.reading():
        return Setting.get_or_none(Setting.name == "shop") is not None


def load_shop() -> Shop:
    """Read the shop's particulars, inside a transaction; ``JobError`` when there are none yet."""
    row = next(iter(rows_by(Setting, "name", "shop")), None)
    if row is None:
        raise JobError("These records have no shop yet: fill in the shop's name and rates first.")
    return msgspec.json.decode(row.content, type=Shop)


def save_shop(shift: Shift, shop: Shop) -> Shop:
    """Keep the shop's particulars, new or changed."""
    content = msgspec.json.encode(shop, order="deterministic").decode()
    with shift.records.writing():
        row = Setting.get_or_none(Setting.name == "shop")
        if row is None:
            journal.add(Setting(name="shop", content=content), who=shift.who, at=shift.now())
        else:
            row.content = content
            journal.save(row, who=shift.who, at=shift.now())
    return shop
