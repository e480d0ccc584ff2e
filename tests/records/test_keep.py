"""Rows written by fixed statements: every column, and no other row."""

from datetime import datetime

from shopdesk.records.fetch import row_of
from shopdesk.records.keep import insert, update
from shopdesk.records.store import Records
from shopdesk.records.tables import Customer, JournalEntry


def customer(name: str, now: datetime) -> Customer:
    return Customer(name=name, folded_name=name.casefold(), created_at=now, may_remind=False)


def test_a_row_written_is_read_back_whole(records: Records, now: datetime) -> None:
    with records.writing():
        first, second = customer("Mara Quill", now), customer("Ødegård", now)
        insert(first)
        insert(second)
        assert (first.id, second.id) == (1, 2)
        second.notes = "dog"
        update(second)
    with records.reading():
        for row in (first, second):
            stored = row_of(Customer, row.id)
            assert stored is not None
            assert stored.__data__ == row.__data__
        assert Customer.get_by_id(2).created_at == now


def test_what_hangs_on_nothing_is_kept_as_nothing(records: Records, now: datetime) -> None:
    entry = JournalEntry(
        at=now, who="Sam", action="added", table="phone", row_id=7, before="{}", after="{}"
    )
    with records.writing():
        insert(entry)
        stored = JournalEntry.get_by_id(entry.id)
    assert (stored.ticket_id, stored.why, stored.at) == (None, "", now)
