"""The journal: every change with who, when, before and after; and no lost update."""

import json
from datetime import datetime

import pytest

from shopdesk.errors import JobError, StaleError
from shopdesk.records import journal
from shopdesk.records.store import Records
from shopdesk.records.tables import Customer, JournalEntry
from tests.records.replay import kept_rows, replayed_rows


def added(now: datetime) -> Customer:
    customer = Customer(name="Mara Quill", folded_name="mara quill", created_at=now)
    journal.add(customer, who="Sam", at=now)
    return customer


def add_and_fail(records: Records, now: datetime) -> None:
    with records.writing():
        added(now)
        raise JobError("never mind")


def last() -> JournalEntry:
    entry: JournalEntry = JournalEntry.select().order_by(JournalEntry.id.desc()).get()
    return entry


def test_a_new_row_is_noted_whole(records: Records, now: datetime) -> None:
    with records.writing():
        customer = added(now)
        entry = last()
    assert (entry.action, entry.table, entry.row_id) == ("added", "customer", customer.id)
    assert (entry.who, entry.at, entry.before) == ("Sam", now, "{}")
    assert json.loads(entry.after)["name"] == "Mara Quill"
    assert json.loads(entry.after)["may_remind"] is True


def test_a_change_is_noted_before_and_after(records: Records, now: datetime) -> None:
    with records.writing():
        customer = added(now)
        customer.name = "Mara Vale"
        assert journal.save(customer, who="Kit", at=now, why="married")
        entry = last()
    assert (entry.action, entry.who, entry.why) == ("changed", "Kit", "married")
    assert json.loads(entry.before) == {"name": "Mara Quill"}
    assert json.loads(entry.after) == {"name": "Mara Vale"}
    assert customer.version == 2


def test_no_change_is_not_noted(records: Records, now: datetime) -> None:
    with records.writing():
        customer = added(now)
        assert not journal.save(customer, who="Kit", at=now)
        assert JournalEntry.select().count() == 1
    assert customer.version == 1


def test_a_removed_row_is_kept_in_the_journal(records: Records, now: datetime) -> None:
    with records.writing():
        customer = added(now)
        journal.remove(customer, who="Kit", at=now, why="typed twice")
        entry = last()
        assert Customer.select().count() == 0
    assert (entry.action, entry.after, entry.why) == ("removed", "{}", "typed twice")
    assert json.loads(entry.before)["name"] == "Mara Quill"


def test_a_change_over_a_newer_one_is_refused(records: Records, now: datetime) -> None:
    with records.writing():
        mine = added(now)
        yours = Customer.get_by_id(mine.id)
        yours.notes = "dog"
        journal.save(yours, who="Kit", at=now)
    mine.notes = "cat"
    with pytest.raises(StaleError, match="open it again and repeat your change"), records.writing():
        journal.save(mine, who="Sam", at=now)
    with records.reading():
        assert Customer.get().notes == "dog"


def test_a_change_of_a_row_that_is_gone_is_refused(records: Records, now: datetime) -> None:
    with records.writing():
        mine = added(now)
        journal.remove(Customer.get_by_id(mine.id), who="Kit", at=now)
    with pytest.raises(StaleError), records.writing():
        journal.save(mine, who="Sam", at=now)


def test_row_and_note_are_written_together_or_not_at_all(records: Records, now: datetime) -> None:
    with pytest.raises(JobError, match="never mind"):
        add_and_fail(records, now)
    with records.reading():
        assert Customer.select().count() == JournalEntry.select().count() == 0


def test_the_journal_tells_how_the_rows_came_to_be(records: Records, now: datetime) -> None:
    with records.writing():
        first, second = added(now), added(now)
        first.notes = "dog"
        journal.save(first, who="Sam", at=now)
        journal.remove(second, who="Sam", at=now)
    assert replayed_rows(records) == kept_rows(records)
