"""The dry run: what becomes of each row, who is there already, and what is wrong where."""

from pathlib import Path

import pytest

from shopdesk.errors import JobError
from shopdesk.job.customers import add_customer, suggest_owners
from shopdesk.job.importing.entries import Wrong
from shopdesk.job.importing.plan import Will, dry_run
from shopdesk.job.importing.progress import StoppedError
from shopdesk.job.shift import Shift
from shopdesk.job.units import add_unit, units_of
from tests.job.importing.lists import kept, tried, work_of
from tests.job.workshop import OWNER, TRIMMER

HEADS = "Name,Phone,Email,Address,Machine,Make,Model,Serial\n"


@pytest.fixture
def mara(shift: Shift) -> int:
    """Mara Quill with her trimmer, there already."""
    owner = add_customer(shift, OWNER)
    add_unit(shift, owner.id, TRIMMER)
    return owner.id


@pytest.mark.parametrize(
    ("row", "owner", "words"),
    [
        ("Mara Quill,555 0142,,", Will.ADD, "same name and phone 5550142"),
        ('"QUILL, Mara",+1 303 555-0142,,', Will.ADD, "same name and phone 13035550142"),
        ("Mara Quill,,MARA@example.com,", Will.ADD, "same name and e-mail mara@example.com"),
        ("Mara Quill,,,7 orchard row", Will.ADD, "same name and address"),
        ("Mara Quill,,,", Will.ADD, "same name, and nothing else is said"),
        ("Mara Quill,555-0199,,", Will.NEW, "same name, other phone and address"),
        ("Tom Quill,555-0142,,", Will.NEW, "same phone 5550142, other name"),
        ("Tom Quill,,mara@example.com,", Will.NEW, "same e-mail mara@example.com, other name"),
        ("Tom Ash,555-0177,,", Will.NEW, ""),
    ],
)
def test_who_is_there_already(
    shift: Shift, mara: int, tmp_path: Path, row: str, owner: Will, words: str
) -> None:
    (planned,) = tried(shift, work_of(tmp_path, f"Name,Phone,Email,Address\n{row}\n")).rows
    assert planned.owner is owner
    assert planned.may_be == (f"Mara Quill: {words}" if words else "")
    assert (planned.owner_key == mara) is (owner is Will.ADD)


def test_a_choice_for_one_row_and_for_all(shift: Shift, mara: int, tmp_path: Path) -> None:
    text = "Name,Phone\nMara Quill,555-0142\nTom Quill,555-0142\n"
    all_skipped = tried(shift, work_of(tmp_path, text, known=Will.SKIP))
    assert [row.owner for row in all_skipped.rows] == [Will.SKIP, Will.NEW]
    chosen = tried(shift, work_of(tmp_path, text, choices={0: Will.NEW, 1: Will.ADD}))
    assert [row.owner for row in chosen.rows] == [Will.NEW, Will.ADD]


def test_one_owner_in_several_rows(shift: Shift, tmp_path: Path) -> None:
    text = f"{HEADS}Tom Ash,555-0177,,,chainsaw,Osmarrow,OS 40,1\n" * 1
    text += "Tom Ash,555-0177,,,mower,Hartwell,HW 5,\nTom Ash,555-0177,,,mower,Hartwell,HW5,\n"
    plan = tried(shift, work_of(tmp_path, text))
    assert [row.owner for row in plan.rows] == [Will.NEW, Will.ADD, Will.ADD]
    assert [row.machine for row in plan.rows] == [Will.NEW, Will.NEW, Will.SKIP]
    assert plan.rows[2].machine_words.endswith("there already: same kind, make and model")
    brought = kept(shift, work_of(tmp_path, text))
    assert brought.words == "1 new owner, 2 new machines, 0 owners added to"
    (tom,) = suggest_owners(shift, "Tom Ash")
    assert [unit.title for unit in units_of(shift, tom.id)] == [
        "Lawn mower, Hartwell HW 5",
        "Chain saw, Osmarrow OS 40",
    ]


def test_a_machine_that_is_there_or_somebody_elses(shift: Shift, mara: int, tmp_path: Path) -> None:
    text = f"{HEADS}Mara Quill,,,,trimmer,Tarnbeck,TB 26,TB26 004417\n"
    text += "Tom Ash,555-0177,,,trimmer,Tarnbeck,TB 26,tb26-004417\n"
    there, elsewhere = tried(shift, work_of(tmp_path, text)).rows
    assert there.machine is Will.SKIP
    assert (
        there.machine_words == "String trimmer, Tarnbeck TB 26, there already: same serial number"
    )
    assert elsewhere.machine is Will.NEW
    assert "is on a machine of Mara Quill too: has it changed hands?" in elsewhere.remarks[-1]


def test_owners_and_machines_in_two_lists(shift: Shift, tmp_path: Path) -> None:
    machines = "Kind,Engine,Owner ID\nchain saw,2 stroke,17\nmower,,18\nmower,,99\n"
    owners = "ID,Name\n17,Tom Ash\n18,Tom Ash Senior\n"
    plan = tried(shift, work_of(tmp_path, machines, owners))
    assert [row.owner_words for row in plan.rows[:4]] == [
        "new",
        "new",
        "of Tom Ash",
        "of Tom Ash Senior",
    ]
    assert plan.rows[3].remarks == ("engine taken to be four-stroke, as is usual for a lawn mower",)
    assert plan.rows[4].stops
    assert (
        plan.rows[4]
        .problems[0]
        .sentence.startswith(
            "Nobody in these lists has the number 99: choose the list of owners as well"
        )
    )


def test_all_that_is_wrong_is_named_by_row_and_heading(shift: Shift, tmp_path: Path) -> None:
    text = (
        "Name,Phone,Mail,Bought on,Hour meter,Machine,Engine\n"
        "Tom Ash,call him,nowhere,31/31/2020,many,mower,steam\n"
        ",555-0177,,,,,\n"
        f"{'x' * 300},,,,,,\n"
    )
    work = work_of(tmp_path, text)
    plan = tried(shift, work)
    assert [row.line for row in plan.stops] == [2, 3, 4]
    assert {"Engine", "Mail", "Phone"} <= {one.heading for one in plan.rows[0].problems}
    assert plan.rows[1].problems[0].sentence == "The owner's name is empty: type it."
    with pytest.raises(JobError, match=r"Something is wrong in list0\.csv line 2"):
        kept(shift, work)
    assert suggest_owners(shift, "Tom Ash") == ()


def test_wrong_rows_left_out_or_kept_in_the_note(shift: Shift, tmp_path: Path) -> None:
    text = "Name,Phone,Mail\nTom Ash,call him,nowhere\nElsie Ash,555-0177,elsie@example.com\n"
    left_out = tried(shift, work_of(tmp_path, text, wrong=Wrong.LEAVE_OUT))
    assert [row.owner for row in left_out.rows] == [Will.SKIP, Will.NEW]
    assert not left_out.stops
    kept(shift, work_of(tmp_path, text, wrong=Wrong.NOTE))
    (tom,) = suggest_owners(shift, "Tom Ash")
    assert sorted(tom.notes.splitlines()) == ["Mail: nowhere", "Phone: call him"]
    assert (tom.email, tom.phones) == ("", ())


def test_several_phones_in_one_cell(shift: Shift, tmp_path: Path) -> None:
    text = 'Name,Home phone\nTom Ash,"555-0177 / 555-0178 or shop: 555-0179; 555-0177"\n'
    kept(shift, work_of(tmp_path, text))
    (tom,) = suggest_owners(shift, "Tom Ash")
    assert [(one.label, one.number) for one in tom.phones] == [
        *(("home", "555-0177"), ("home", "555-0178"), ("shop", "555-0179"))
    ]


def test_a_list_that_names_nobody(shift: Shift, tmp_path: Path) -> None:
    with pytest.raises(JobError, match="No column is matched to the owner's name"):
        tried(shift, work_of(tmp_path, "Kind,Make\nmower,Hartwell\n"))


def test_it_can_be_stopped(shift: Shift, tmp_path: Path) -> None:
    def stop(_done: int, _of: int) -> None:
        raise StoppedError

    with pytest.raises(StoppedError, match="nothing was kept"):
        dry_run(shift, work_of(tmp_path, "Name\nTom Ash\n"), stop)
