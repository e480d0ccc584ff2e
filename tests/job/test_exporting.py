"""Everything out: what the files hold, the documented form, and back in again."""

import csv
import json
import zipfile
from dataclasses import replace
from io import StringIO
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from shopdesk.errors import JobError
from shopdesk.job.audit import audit
from shopdesk.job.customers import CustomerEntry, add_customer, get_customer
from shopdesk.job.export_tables import OUT
from shopdesk.job.exporting import FORMAT, export_all
from shopdesk.job.importing.entries import NOTHING
from shopdesk.job.importing.keeping import bring_in
from shopdesk.job.importing.listing import read_list
from shopdesk.job.importing.plan import Will, dry_run, prepared
from shopdesk.job.importing.progress import StoppedError
from shopdesk.job.shift import Shift
from shopdesk.job.stages import Stage
from shopdesk.job.units import UnitEntry, add_unit, units_of
from shopdesk.job.views import CustomerView, UnitView
from shopdesk.records.tables import TABLES, Customer
from shopdesk.text import clean_line
from tests.job.workshop import Clock, at_stage, open_shop

INSIDE = {
    *("setting", "counter", "phone", "draft", "journal_entry", "stored_file", "import_run"),
}
"""What goes out in another form, or not at all: settings in the JSON, phones with their owner."""


def rows(folder: Path, name: str) -> list[dict[str, str]]:
    text = (folder / f"{name}.csv").read_bytes().decode("utf-8-sig")
    return list(csv.DictReader(StringIO(text, newline=""), strict=True))


def everything(folder: Path) -> dict[str, Any]:
    found: dict[str, Any] = json.loads((folder / "everything.json").read_bytes())
    return found


@pytest.fixture
def closed(shift: Shift) -> Shift:
    """A shop with a ticket brought to the end."""
    at_stage(shift, Stage.CLOSED)
    return shift


def test_a_folder_with_every_table(closed: Shift, tmp_path: Path) -> None:
    told: list[tuple[int, int]] = []
    done = export_all(closed, tmp_path / "out", lambda *how_far: told.append(how_far))
    counts = dict(done.counts)
    assert {file.name for file in done.place.iterdir()} == {
        *("about.txt", "everything.json"),
        *(f"{name}.csv" for name in counts),
    }
    whole = everything(done.place)
    assert (whole["format"], whole["version"]) == (FORMAT, 1)
    assert whole["shop"]["name"] == "Fernhollow Small Engines"
    for table in OUT:
        listed = rows(done.place, table.name)
        assert len(listed) == len(whole[table.name]) == counts[table.name]
        for row, same in zip(listed, whole[table.name], strict=True):
            assert list(row) == list(same) == list(table.columns)
    assert counts["invoices"] == 1
    assert told[-1][0] == told[-1][1] == 2 * done.rows


def test_values_in_both_forms(closed: Shift, tmp_path: Path) -> None:
    folder = export_all(closed, tmp_path / "out").place
    (owner,) = rows(folder, "owners")
    assert owner["name"] == "Mara Quill"
    assert owner["phones"] == "home 555-0142"
    assert owner["may_remind"] == "yes"
    assert owner["created_at"].startswith("2031-04-07T")
    assert owner["created_at"].endswith("Z")
    whole = everything(folder)
    assert whole["owners"][0]["may_remind"] is True
    line = whole["lines"][0]
    assert (line["unit_price"], line["quantity"], line["cost"]) == ("18.40", "1", None)
    assert rows(folder, "machines")[0]["owner_name"] == "Mara Quill"


def test_every_table_goes_out_or_is_meant_to_stay() -> None:
    out = {table.table._meta.table_name for table in OUT}
    kept = {table._meta.table_name for table in TABLES}
    stays = kept - out
    assert stays >= INSIDE
    assert out <= kept


def test_the_form_is_told_beside_it(closed: Shift, tmp_path: Path) -> None:
    about = (export_all(closed, tmp_path / "out").place / "about.txt").read_text("utf-8")
    for table in OUT:
        assert f"\n{table.name} (" in about
        assert f"  {', '.join(table.columns)}\n" in about


def test_a_zip_holds_the_same_and_is_the_same_again(closed: Shift, tmp_path: Path) -> None:
    folder = export_all(closed, tmp_path / "out").place
    file = export_all(closed, tmp_path / "out.zip").place
    with zipfile.ZipFile(file) as archive:
        assert archive.testzip() is None
        for name in archive.namelist():
            if name != "everything.json":
                assert archive.read(name) == (folder / name).read_bytes()


def test_formulas_go_out_as_text(shift: Shift, tmp_path: Path) -> None:
    add_customer(shift, CustomerEntry('=HYPERLINK("x")', notes="@SUM(A1)"))
    (owner,) = rows(export_all(shift, tmp_path / "out").place, "owners")
    assert (owner["name"], owner["notes"]) == ('\'=HYPERLINK("x")', "'@SUM(A1)")


def test_a_place_that_holds_something_is_left_alone(shift: Shift, tmp_path: Path) -> None:
    (tmp_path / "kept").mkdir()
    (tmp_path / "kept" / "letter.txt").write_text("mine")
    with pytest.raises(JobError, match="is there already and holds something"):
        export_all(shift, tmp_path / "kept")
    with pytest.raises(JobError, match="can't be written"):
        export_all(shift, tmp_path / "kept" / "letter.txt" / "out.zip")
    assert [file.name for file in (tmp_path / "kept").iterdir()] == ["letter.txt"]


@pytest.mark.parametrize("name", ["out", "out.zip"])
def test_stopped_it_leaves_nothing(closed: Shift, tmp_path: Path, name: str) -> None:
    def stop(_done: int, _of: int) -> None:
        raise StoppedError

    before = set(tmp_path.iterdir())
    with pytest.raises(StoppedError):
        export_all(closed, tmp_path / name, stop)
    assert set(tmp_path.iterdir()) == before


WORDS = st.text(st.characters(exclude_categories=["Cs"]), max_size=25)
SAYS_SOMETHING = WORDS.filter(lambda text: clean_line(text, 200).casefold() not in NOTHING)
"""A make called “n/a” is taken for none."""
OWNERS = st.builds(
    CustomerEntry,
    name=WORDS.map(lambda text: f"{text} Ash"),
    phones=st.sampled_from([(), ("555-0142",), ("home 555-0142", "+44 20 7946 0018 x12")]),
    email=st.sampled_from(["", "a@example.com"]),
    address=WORDS,
    notes=WORDS,
    may_remind=st.booleans(),
    shared_phone=st.just(True),
    moved_away=st.booleans(),
    preferred_way=st.sampled_from(["", "e-mail", "letter"]),
)
MACHINES = st.builds(
    UnitEntry,
    kind=st.sampled_from(["chain saw", "auger", "Lawn mower"]),
    engine=st.sampled_from(["two-stroke", "corded"]),
    make=SAYS_SOMETHING,
    model=SAYS_SOMETHING,
    serial=WORDS,
    notes=WORDS,
    bought_on=st.sampled_from(["", "2029-05-01"]),
    hours_per_week=st.sampled_from(["", "1.5"]),
    first_month=st.just("4"),
    last_month=st.just("10"),
    severe_use=st.booleans(),
    meter_hours=st.sampled_from(["", "41.5"]),
)


@settings(
    max_examples=25, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(st.lists(st.tuples(OWNERS, st.lists(MACHINES, max_size=2)), min_size=1, max_size=4))
def test_what_goes_out_comes_in_the_same(
    tmp_path_factory: pytest.TempPathFactory, shop: list[tuple[CustomerEntry, list[UnitEntry]]]
) -> None:
    folder = tmp_path_factory.mktemp("there")
    before = open_shop(folder, Clock())
    for owner, machines in shop:
        known = add_customer(before, owner)
        for number, machine in enumerate(machines):
            add_unit(before, known.id, replace(machine, serial=f"{machine.serial} {number}"))
    out = export_all(before, folder / "out").place
    kept = _all(before)
    before.records.close()
    after = open_shop(tmp_path_factory.mktemp("here"), Clock())
    work = prepared(read_list(out / "owners.csv"), read_list(out / "machines.csv"), known=Will.NEW)
    plan = dry_run(after, work)
    assert not plan.stops
    bring_in(after, work, plan)
    assert _all(after) == kept
    assert audit(after).faults == ()
    after.records.close()


def _all(shift: Shift) -> list[object]:
    with shift.records.reading():
        ids = [row.id for row in Customer.select().order_by(Customer.id)]
    return [
        (_owner(get_customer(shift, owner_id)), list(map(_machine, units_of(shift, owner_id))))
        for owner_id in ids
    ]


def _owner(owner: CustomerView) -> tuple[object, ...]:
    return (
        *(owner.name, owner.phones, owner.email, owner.address, owner.notes),
        *(owner.may_remind, owner.preferred_way, owner.moved_away),
    )


def _machine(unit: UnitView) -> tuple[object, ...]:
    return (
        *(unit.kind, unit.engine, unit.make, unit.model, unit.serial, unit.notes),
        *(unit.bought_on, unit.hours_per_week, unit.first_month, unit.last_month),
        *(unit.severe_use, unit.meter_hours, unit.owner_name),
    )
