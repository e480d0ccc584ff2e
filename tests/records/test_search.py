"""The find index follows from the rows: made at opening, kept in step, and proved."""

import sqlite3
from contextlib import closing
from datetime import datetime
from pathlib import Path

import pytest

from shopdesk.errors import RecordsError
from shopdesk.records import search
from shopdesk.records.found_by import CUSTOMER, UNIT, Thing
from shopdesk.records.redaction import leaving_no_trace
from shopdesk.records.search_words import asked_for
from shopdesk.records.store import Records, open_records
from shopdesk.records.tables import Customer, Ownership, Phone, Row, Unit

MARA, TRIMMER = Thing(CUSTOMER, 1), Thing(UNIT, 1)


@pytest.fixture
def mara(records: Records, now: datetime) -> Customer:
    """Mara Quill with a phone and a machine, in step."""
    with records.writing():
        customer = Customer.create(name="Mara Quill", folded_name="mara quill", created_at=now)
        phone = Phone.create(customer=customer, number="555-0142", digits="5550142")
        unit = Unit.create(kind="trimmer", engine="two-stroke", serial="T-4417", created_at=now)
        owned = Ownership.create(unit=unit, customer=customer, since=now.date())
        in_step(customer, phone, unit, owned)
    return customer


def in_step(*rows: Row) -> None:
    touched = search.Touched()
    touched.changed(*rows)
    search.keep_in_step(touched)


def found(records: Records, words: str) -> list[Thing]:
    with records.reading():
        return search.found(asked_for(words), 20)


def differences(records: Records) -> list[str]:
    with records.writing():
        return list(search.differences())


def test_an_owner_and_their_machine_are_found(records: Records, mara: Customer) -> None:
    assert found(records, "quill") == [MARA, TRIMMER]
    assert found(records, "0142") == [MARA]
    assert found(records, "4417") == found(records, "t4417") == [TRIMMER]
    assert differences(records) == []


def test_a_new_name_is_a_new_word_of_the_machine_too(records: Records, mara: Customer) -> None:
    with records.writing():
        mara.name = "Mara Thorn"
        mara.save()
        in_step(mara)
    assert found(records, "quill") == []
    assert found(records, "thorn") == [MARA, TRIMMER]
    with records.reading():
        assert search.spelt_otherwise(asked_for("qiull")) == ()
    assert differences(records) == []


def test_what_is_taken_out_is_found_no_more(records: Records, mara: Customer) -> None:
    with records.writing():
        Ownership.get_by_id(1).delete_instance()
        unit = Unit.get_by_id(TRIMMER.id)
        unit.delete_instance()
        in_step(unit)
    assert found(records, "4417") == []
    assert differences(records) == []


def test_a_word_taken_out_leaves_no_trace(
    file: Path, records: Records, mara: Customer, now: datetime
) -> None:
    def everything() -> bytes:
        records.engine.execute_sql("PRAGMA wal_checkpoint(TRUNCATE)")
        return file.read_bytes()

    assert b"quill" in everything()
    with leaving_no_trace(records), records.writing():
        mara.name, mara.folded_name = "erased", "erased"
        mara.save()
        in_step(mara)
    assert b"quill" not in everything()
    assert b"Quill" not in everything()
    assert differences(records) == []


def test_an_opening_makes_the_index_of_an_older_file(
    file: Path, records: Records, mara: Customer, now: datetime
) -> None:
    records.close()
    with closing(sqlite3.connect(file)) as raw, raw:
        for table in ("search_index", "search_document", "search_word"):
            raw.execute(f"DROP TABLE {table}")
        raw.execute("PRAGMA user_version = 0")
    opened = open_records(file, now)
    assert found(opened, "quill") == [MARA, TRIMMER]
    assert differences(opened) == []
    opened.close()


def test_an_opening_that_fails_leaves_the_records_that_were_open(
    file: Path, records: Records, mara: Customer, tmp_path: Path, now: datetime
) -> None:
    (tmp_path / "torn.db").write_text("not a database at all" * 100)
    with pytest.raises(RecordsError):
        open_records(tmp_path / "torn.db", now)
    assert found(records, "quill") == [MARA, TRIMMER]


DAMAGES = {
    "DELETE FROM search_document WHERE kind = 'unit'": [
        "1 thing can’t be found by the right words",
        "the find index is damaged",
    ],
    "INSERT INTO search_document (kind, about, words) VALUES ('customer', 99, 'ghost')": [
        "1 thing would be found that can’t be there",
        "the find index is damaged",
    ],
    "UPDATE search_document SET words = 'else' WHERE kind = 'unit'": [
        "1 thing can’t be found by the right words",
        "the find index is damaged",
    ],
    "DELETE FROM search_index_data WHERE id > 10": ["the find index is damaged"],
    "PRAGMA user_version = 0": ["there is no find index of this version"],
}


@pytest.mark.parametrize(("damage", "told"), DAMAGES.items())
def test_a_damage_is_told_and_the_index_made_anew(
    file: Path, records: Records, mara: Customer, damage: str, told: list[str]
) -> None:
    with closing(sqlite3.connect(file)) as raw, raw:
        raw.execute(damage)
    assert differences(records) == told
    with records.writing():
        search.prepare(anew=True)
    assert differences(records) == []
    assert found(records, "quill") == [MARA, TRIMMER]
