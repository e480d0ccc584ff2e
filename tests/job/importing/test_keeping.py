"""Bringing a list in: all of it or nothing, and taken back while nothing hangs on it."""

from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from shopdesk.errors import JobError, StaleError
from shopdesk.job.audit import audit
from shopdesk.job.customers import CustomerEntry, add_customer, get_customer, suggest_owners
from shopdesk.job.importing.keeping import bring_in, imports
from shopdesk.job.importing.plan import Will, dry_run
from shopdesk.job.importing.progress import StoppedError
from shopdesk.job.importing.taking_back import take_back
from shopdesk.job.intake import take_in
from shopdesk.job.shift import Shift
from shopdesk.job.units import add_unit, change_unit, units_of
from shopdesk.records.tables import Customer, ImportRun, MeterReading, Ownership, Phone, Unit
from tests.job.importing.lists import kept, work_of
from tests.job.workshop import INTAKE, OWNER, TRIMMER

LIST = (
    "Name,Phone,Email,Address,Note,Reminders,Machine,Make,Model,Serial,Hours\n"
    "Mara Quill,555-0199,new@example.com,other,Likes tea,no,chainsaw,Osmarrow,OS 40,OS1,12.5\n"
    "Mara Quill,555-0142,,,,,,,,,\n"
    "Tom Ash,555-0177,tom@example.com,1 Mill Row,,,mower,Hartwell,HW 5,,\n"
)


def tables() -> list[object]:
    """Return all rows that a list may touch, as they are kept."""
    return [
        sorted(map(str, table.select().tuples()))
        for table in (Customer, Phone, Unit, Ownership, MeterReading)
    ]


@pytest.fixture
def mara(shift: Shift) -> int:
    owner = add_customer(
        shift, CustomerEntry("Mara Quill", ("555-0142",), "mara@example.com", notes="Pays cash")
    )
    add_unit(shift, owner.id, TRIMMER)
    return owner.id


def test_who_is_added_to_keeps_what_stands_there(shift: Shift, mara: int, tmp_path: Path) -> None:
    work = work_of(tmp_path, LIST, choices={0: Will.ADD})
    brought = kept(shift, work)
    assert brought.words == "1 new owner, 2 new machines, 1 owner added to"
    owner = get_customer(shift, mara)
    assert owner.email == "mara@example.com"
    assert owner.address == "other"
    assert owner.notes == "Pays cash\nLikes tea"
    assert not owner.may_remind
    assert [one.number for one in owner.phones] == ["555-0142", "555-0199"]
    assert [unit.meter_hours for unit in units_of(shift, mara)] == [pytest.approx(12.5), None]
    assert audit(shift).faults == ()


def test_it_is_taken_back_to_the_letter(shift: Shift, mara: int, tmp_path: Path) -> None:
    with shift.records.reading():
        before = [[row.split(", ", 2)[2] for row in rows] for rows in tables()]  # type: ignore[attr-defined]
    brought = kept(shift, work_of(tmp_path, LIST, choices={0: Will.ADD}))
    back = take_back(shift, brought.id)
    assert back.taken_back_at is not None
    with shift.records.reading():
        after = [[row.split(", ", 2)[2] for row in rows] for rows in tables()]  # type: ignore[attr-defined]
    assert after == before
    assert audit(shift).faults == ()
    assert imports(shift) == (back,)
    with pytest.raises(JobError, match="was taken back already"):
        take_back(shift, brought.id)
    assert kept(shift, work_of(tmp_path, LIST, choices={0: Will.ADD})).owners == 1


def test_a_list_that_a_ticket_hangs_on_stays(shift: Shift, tmp_path: Path) -> None:
    brought = kept(shift, work_of(tmp_path, LIST))
    (tom,) = suggest_owners(shift, "Tom Ash")
    take_in(shift, tom.id, units_of(shift, tom.id)[0].id, INTAKE)
    with pytest.raises(JobError, match=r"which the list brought, has more by now \(ticket\)"):
        take_back(shift, brought.id)
    assert suggest_owners(shift, "Tom Ash")


def test_a_machine_written_down_later_hangs_on_it(shift: Shift, tmp_path: Path) -> None:
    brought = kept(shift, work_of(tmp_path, LIST))
    (tom,) = suggest_owners(shift, "Tom Ash")
    add_unit(shift, tom.id, TRIMMER)
    with pytest.raises(JobError, match=r"Owner Tom Ash, which .* has more by now \(ownership\)"):
        take_back(shift, brought.id)


def test_a_row_changed_since_stays(shift: Shift, tmp_path: Path) -> None:
    brought = kept(shift, work_of(tmp_path, LIST))
    (tom,) = suggest_owners(shift, "Tom Ash")
    change_unit(shift, units_of(shift, tom.id)[0].id, TRIMMER)
    with pytest.raises(JobError, match=r"Machine .* was changed since the list was brought in"):
        take_back(shift, brought.id)
    with pytest.raises(JobError, match="No list 99 was brought in"):
        take_back(shift, 99)


def test_nothing_is_half_brought_in(shift: Shift, mara: int, tmp_path: Path) -> None:
    with shift.records.reading():
        before = tables()
    work = work_of(tmp_path, LIST + "Elsie Ash,555-0188,,,,,,,,,\n" * 250)
    plan = dry_run(shift, work)

    def stop(done: int, _of: int) -> None:
        if done:
            raise StoppedError

    with pytest.raises(StoppedError):
        bring_in(shift, work, plan, stop)
    with shift.records.reading():
        assert tables() == before
        assert ImportRun.select().count() == 0


def test_a_plan_of_yesterday_is_not_kept(shift: Shift, tmp_path: Path) -> None:
    work = work_of(tmp_path, "Name,Phone\nMara Quill,555-0142\n")
    plan = dry_run(shift, work)
    add_customer(shift, OWNER)
    with pytest.raises(StaleError, match="The records were changed since you looked"):
        bring_in(shift, work, plan)


def test_a_list_that_brings_nothing(shift: Shift, mara: int, tmp_path: Path) -> None:
    with pytest.raises(JobError, match="All of it is there already"):
        kept(shift, work_of(tmp_path, "Name,Phone\nMara Quill,555-0142\n"))


CELL = st.text(st.characters(exclude_categories=["Cs"]), max_size=20).map(
    lambda text: '"' + text.replace('"', '""') + '"'
)


@settings(
    max_examples=25, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(st.lists(st.lists(CELL, min_size=6, max_size=6), min_size=1, max_size=4))
def test_hostile_cells_break_nothing(shift: Shift, tmp_path: Path, rows: list[list[str]]) -> None:
    """Whatever stands in a list: it is refused in a sentence, or kept, sound, and taken back."""
    heads = "Name,Phone,Email,Note,Machine,Hours"
    text = "\n".join([heads, *(",".join(row) for row in rows)])
    with shift.records.reading():
        before = [len(rows) for rows in tables()]  # type: ignore[arg-type]
    try:
        brought = kept(shift, work_of(tmp_path, text))
    except JobError:
        with shift.records.reading():
            assert [len(rows) for rows in tables()] == before  # type: ignore[arg-type]
        return
    assert audit(shift).faults == ()
    take_back(shift, brought.id)
    with shift.records.reading():
        assert [len(rows) for rows in tables()] == before  # type: ignore[arg-type]
