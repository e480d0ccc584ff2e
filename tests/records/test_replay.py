"""The journal replayed: every row as its changes tell, and what differs."""

from datetime import date, datetime, timedelta

import pytest

from shopdesk.records import journal
from shopdesk.records.replay import JOURNALLED, Difference, differences, missing_entries
from shopdesk.records.store import Records
from shopdesk.records.tables import Customer, JournalEntry, Ownership, Row, Unit


@pytest.fixture
def told(records: Records, now: datetime) -> Records:
    """Records with two owners added, one changed and one taken out, and a machine."""
    later = now + timedelta(seconds=90)
    with records.writing():
        first, second = (
            Customer(name=name, folded_name=name.lower(), created_at=now)
            for name in ("Mara", "Łukasz")
        )
        unit = Unit(kind="tiller", engine="four-stroke", severe_use=True, created_at=later)
        for row in (first, second, unit):
            journal.add(row, who="Sam", at=now)
        journal.add(Ownership(unit=unit, customer=first, since=date(2031, 4, 7)), who="Sam", at=now)
        first.may_remind = False
        journal.save(first, who="Sam", at=later)
        journal.remove(second, who="Sam", at=later)
    return records


def found(records: Records, *tables: type[Row]) -> list[Difference]:
    with records.reading():
        return [each for table in tables or JOURNALLED for each in differences(table)]


def test_what_was_only_changed_through_the_journal_is_as_it_tells(told: Records) -> None:
    assert found(told) == []
    with told.reading():
        assert missing_entries() == 0


def test_a_row_changed_aside_is_found_with_its_columns(told: Records) -> None:
    with told.writing():
        Customer.update(name="Maria", may_remind=True).execute()
    (one,) = found(told, Customer)
    assert one.columns == ("name", "may_remind")
    assert one.kept is not None
    assert one.told is not None
    assert (one.kept["name"], one.told["name"]) == ("Maria", "Mara")
    assert (one.kept["may_remind"], one.told["may_remind"]) == (1, 0)


def test_a_moment_changed_aside_is_found(told: Records, now: datetime) -> None:
    with told.writing():
        Unit.update(created_at=now).execute()
    assert [one.columns for one in found(told, Unit)] == [("created_at",)]


def test_a_row_that_only_one_side_knows_is_found(told: Records, now: datetime) -> None:
    with told.writing():
        told.engine.execute_sql("DELETE FROM ownership")
        told.engine.execute_sql("DELETE FROM unit")
        Customer.create(name="Nobody", folded_name="nobody", created_at=now)
    (gone,) = found(told, Unit)
    assert gone.kept is None
    assert gone.told is not None
    assert gone.told["kind"] == "tiller"
    (new,) = found(told, Customer)
    assert new.told is None
    assert new.columns == ()


def test_a_column_that_came_later_is_not_told_and_passed_over(told: Records) -> None:
    with told.writing():
        entry = JournalEntry.get(JournalEntry.table == "unit")
        entry.after = entry.after.replace('"model_key":"",', "")
        entry.save()
    assert found(told, Unit) == []


@pytest.mark.parametrize("after", ["", "[", "[1]", "null"])
def test_an_entry_that_is_harmed_tells_nothing(told: Records, after: str) -> None:
    with told.writing():
        JournalEntry.update(after=after).where(JournalEntry.table == "unit").execute()
    (one,) = found(told, Unit)
    assert one.told is None


def test_entries_taken_out_are_counted(told: Records) -> None:
    with told.writing():
        told.engine.execute_sql("DELETE FROM journal_entry WHERE id IN (1, 3)")
    with told.reading():
        assert missing_entries() == 2
