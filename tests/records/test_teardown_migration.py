"""Records from before the teardown log: their rows stay, and the new tables fit the program."""

import sqlite3
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path

import pytest
from peewee import SqliteDatabase
from playhouse.migrations import Runner
from playhouse.schema_diff import diff_models

from shopdesk.records.store import APPLICATION_ID, HISTORY_TABLE, MIGRATIONS, open_records
from shopdesk.records.tables import TABLES, Photo, TeardownStep, Ticket

NOW = datetime(2031, 4, 7, 15, 0, tzinfo=UTC)
ROWS = """
INSERT INTO customer VALUES (1, 1, 'Mara Quill', 'mara quill', '', '', '', '', 1, '2030-01-01');
INSERT INTO unit (id, version, kind, engine, make, model, serial, folded_serial, notes, severe_use,
    created_at) VALUES (1, 1, 'chain saw', 'two-stroke', 'Osmarrow', 'OS 40', '', '', '', 0,
    '2030-01-01');
INSERT INTO ticket (id, version, number, unit_id, customer_id, stage, outcome, complaint,
    complaint_kind, onset, fuel, accessories, condition, notes, old_parts_back, confirmed,
    confirmed_note, proof_reason, balance_reason, taken_in_at) VALUES (1, 1, 1001, 1, 1, 'Repair',
    '', 'Dies', '', '', '', '', '', '', 0, '', '', '', '', '2030-01-02 10:00:00');
INSERT INTO photo VALUES (1, 1, 1, NULL, '1001-a.jpg', 'the bar', 60, 40, 'aa', '2030-01-02');
"""


@pytest.fixture
def older(tmp_path: Path) -> Path:
    """A records file as the first version left it, with a ticket and a photo."""
    file = tmp_path / "shop.db"
    engine = SqliteDatabase(str(file))
    Runner(engine, str(MIGRATIONS), table_name=HISTORY_TABLE).up("0001_first_records")
    engine.close()
    with closing(sqlite3.connect(file)) as plain:
        plain.executescript(f"PRAGMA application_id = {APPLICATION_ID}; {ROWS}")
    return file


def test_older_records_are_backed_up_and_brought_up_to_date(older: Path) -> None:
    records = open_records(older, NOW)
    assert not diff_models(records.engine, TABLES)
    with records.reading():
        (photo,) = Photo.select()
        assert (photo.caption, photo.step_id) == ("the bar", None)
        assert Ticket.get().complaint == "Dies"
        assert TeardownStep.select().count() == 0
    records.close()
    assert records.backed_up_to is not None
    with closing(sqlite3.connect(records.backed_up_to)) as copy:
        tables = {name for (name,) in copy.execute("SELECT name FROM sqlite_master")}
        assert "teardown_step" not in tables
        assert copy.execute("SELECT caption FROM photo").fetchall() == [("the bar",)]


def test_a_step_that_goes_leaves_its_photo_with_the_ticket(older: Path) -> None:
    records = open_records(older, NOW)
    with records.writing():
        step = TeardownStep.create(ticket=1, off="bar", noted_at=NOW)
        Photo.update(step=step).execute()
        step.delete_instance()
        assert [photo.step_id for photo in Photo.select()] == [None]
    records.close()


def test_the_step_back_takes_out_what_came_in(older: Path) -> None:
    records = open_records(older, NOW)
    runner = Runner(records.engine, str(MIGRATIONS), table_name=HISTORY_TABLE)
    assert runner.down("0002_teardown")[-1] == "0002_teardown"
    assert not records.engine.table_exists("teardown_step")
    assert "step_id" not in {column.name for column in records.engine.get_columns("photo")}
    records.close()
