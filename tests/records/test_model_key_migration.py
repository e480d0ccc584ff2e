"""Records from before the model cards: each machine gets the key that its model's card goes by."""

from datetime import datetime
from pathlib import Path

from peewee import SqliteDatabase
from playhouse.migrations import Runner

from shopdesk.job.units import model_key
from shopdesk.records.store import APPLICATION_ID, HISTORY_TABLE, MIGRATIONS, open_records
from shopdesk.records.tables import Unit

MODELS = (("Tarnbeck", "TB-26"), ("TARNBÉCK", "tb 26"), ("Hallam", ""), ("", "H 46"), ("", "…"))
UNIT = """
INSERT INTO unit (version, kind, engine, make, model, serial, folded_serial, notes, severe_use,
    created_at) VALUES (1, 'chain saw', 'two-stroke', ?, ?, '', '', '', 0, '2030-01-01')
"""


def older(file: Path) -> Path:
    engine = SqliteDatabase(str(file))
    Runner(engine, str(MIGRATIONS), table_name=HISTORY_TABLE).up("0002_teardown")
    engine.execute_sql(f"PRAGMA application_id = {APPLICATION_ID}")
    for model in MODELS:
        engine.execute_sql(UNIT, model)
    engine.close()
    return file


def test_machines_get_the_key_that_a_new_one_of_their_model_gets(file: Path, now: datetime) -> None:
    records = open_records(older(file), now)
    with records.reading():
        keys = [unit.model_key for unit in Unit.select().order_by(Unit.id)]
    records.close()
    assert keys == [model_key(make, model) for make, model in MODELS]
    assert keys == ["tarnbeck tb26", "tarnbeck tb26", "", " h46", ""]
