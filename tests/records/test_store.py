"""Opening a records file: new, known, another's, newer, damaged, locked, read-only, full."""

import hashlib
import multiprocessing
import os
import sqlite3
import stat
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from contextlib import closing
from datetime import datetime
from multiprocessing.connection import Connection
from pathlib import Path

import pytest

from shopdesk.errors import RecordsError
from shopdesk.records.store import APPLICATION_ID, HISTORY_TABLE, Records, open_records
from shopdesk.records.tables import Customer, Phone
from tests.records.conftest import NOW

posix_only = pytest.mark.skipif(sys.platform == "win32", reason="needs users and file modes")


def filled(file: Path, customers: int = 200) -> Path:
    """Return ``file`` with many customers, closed."""
    records = open_records(file, NOW)
    with records.writing():
        for number in range(customers):
            Customer.create(name=f"Owner {number}", folded_name="x" * 90, created_at=NOW)
    records.close()
    return file


def prints(folder: Path) -> dict[str, str]:
    """Return the fingerprint of each file in ``folder``."""
    return {
        path.name: hashlib.sha256(path.read_bytes()).hexdigest()
        for path in sorted(folder.rglob("*"))
        if path.is_file()
    }


def test_new_records_are_made_with_their_folder(tmp_path: Path, now: datetime) -> None:
    file = tmp_path / "a" / "b" / "shop.db"
    records = open_records(file, now)
    assert records.backed_up_to is None
    assert records.photo_folder == file.parent / "shop-photos"
    assert records.templates_folder == file.parent / "shop-templates"
    for name, value in (("journal_mode", "wal"), ("foreign_keys", 1), ("synchronous", 2)):
        assert records.engine.pragma(name) == value
    assert records.engine.pragma("application_id") == APPLICATION_ID
    records.close()
    records.close()


@posix_only
def test_records_are_their_owners_alone(file: Path, records: Records) -> None:
    assert stat.S_IMODE(file.stat().st_mode) == 0o600


def test_known_records_are_opened_as_they_were(file: Path, now: datetime) -> None:
    filled(file)
    records = open_records(file, now)
    with records.reading():
        assert Customer.select().count() == 200
    assert records.backed_up_to is None
    assert not (file.parent / "backups").exists()
    records.close()


def test_known_records_keep_what_hangs_together(file: Path, now: datetime) -> None:
    filled(file, 1)
    records = open_records(file, now)
    with pytest.raises(RecordsError), records.writing():
        Phone.create(customer=77, number="555-0142", digits="5550142")
    with records.writing():
        Phone.create(customer=1, number="555-0142", digits="5550142")
        Customer.get().delete_instance(recursive=False)
    with records.reading():
        assert Phone.select().count() == 0
    records.close()


def test_records_that_others_took_the_place_of_are_left_alone(
    tmp_path: Path, now: datetime
) -> None:
    first = open_records(tmp_path / "first.db", now)
    second = open_records(tmp_path / "second.db", now)
    for transaction in (first.writing, first.reading):
        with (
            pytest.raises(RecordsError, match=r"first\.db was left alone: open it again\."),
            transaction(),
        ):
            raise AssertionError("the block is not entered")
    with second.writing():
        Customer.create(name="Mara", folded_name="mara", created_at=NOW)
    first.close()
    second.close()
    again = open_records(tmp_path / "first.db", now)
    with again.reading():
        assert Customer.select().count() == 0
    again.close()


def test_a_name_with_odd_characters_is_a_name(tmp_path: Path, now: datetime) -> None:
    file = tmp_path / "Łąka & co? #1 100%.db"
    open_records(file, now).close()
    open_records(file, now).close()
    assert [path.name for path in tmp_path.iterdir()] == [file.name]


def test_an_empty_file_becomes_records(file: Path, now: datetime) -> None:
    file.touch()
    open_records(file, now).close()
    assert file.stat().st_size > 0


def test_a_folder_is_refused(tmp_path: Path, now: datetime) -> None:
    with pytest.raises(RecordsError, match=r"is a folder: name a file in it, such as .*shop\.db"):
        open_records(tmp_path, now)


def test_a_folder_that_cannot_be_made_is_said(tmp_path: Path, now: datetime) -> None:
    (tmp_path / "way").write_text("in the way")
    with pytest.raises(RecordsError, match=r"can't be made .*: choose another place"):
        open_records(tmp_path / "way" / "shop" / "shop.db", now)


@pytest.mark.parametrize("content", [b"no database at all", b"\0" * 8192, b"SQLite format 3\0"])
def test_what_is_no_database_is_refused_untouched(
    file: Path, now: datetime, content: bytes
) -> None:
    file.write_bytes(content)
    before = prints(file.parent)
    with pytest.raises(RecordsError, match=r"choose another file, or restore a backup|damaged"):
        open_records(file, now)
    assert prints(file.parent) == before


def test_another_programs_database_is_refused_untouched(file: Path, now: datetime) -> None:
    with closing(sqlite3.connect(file)) as other:
        other.execute("CREATE TABLE customer (name TEXT)")
    before = prints(file.parent)
    with pytest.raises(RecordsError, match="is a database of another program: choose a file of"):
        open_records(file, now)
    assert prints(file.parent) == before


def newer(file: Path) -> Path:
    filled(file, 1)
    with closing(sqlite3.connect(file)) as raw, raw:
        raw.execute(f"INSERT INTO {HISTORY_TABLE} (name, applied) VALUES ('9999_later', '')")
    return file


def test_a_newer_file_is_refused_untouched(file: Path, now: datetime) -> None:
    newer(file)
    before = prints(file.parent)
    with pytest.raises(
        RecordsError, match=r"newer shopdesk \(9999_later\): it was left untouched. Open it with"
    ):
        open_records(file, now)
    assert prints(file.parent) == before


def test_a_newer_file_in_use_is_refused_untouched(file: Path, now: datetime) -> None:
    with closing(sqlite3.connect(newer(file))) as user:
        user.execute("CREATE TABLE later (id INTEGER)")
        before = hashlib.sha256(file.read_bytes()).hexdigest()
        with pytest.raises(RecordsError, match="newer shopdesk"):
            open_records(file, now)
        assert hashlib.sha256(file.read_bytes()).hexdigest() == before


@pytest.mark.parametrize("part", [0.001, 0.01, 0.3, 0.5, 0.9, 0.999])
def test_a_file_cut_short_is_refused_untouched(file: Path, now: datetime, part: float) -> None:
    size = filled(file).stat().st_size
    with file.open("r+b") as raw:
        raw.truncate(int(size * part))
    before = prints(file.parent)
    with pytest.raises(RecordsError, match=r"restore the newest backup|restore a backup of it"):
        open_records(file, now)
    assert prints(file.parent) == before


@pytest.mark.parametrize("page", range(0, 30, 3))
def test_damage_is_said_in_a_sentence_or_does_no_harm(file: Path, now: datetime, page: int) -> None:
    content = bytearray(filled(file).read_bytes())
    start = (page * 4096) % len(content)
    for place in range(start, min(start + 200, len(content)), 2):
        content[place] ^= 0xFF
    file.write_bytes(content)
    try:
        records = open_records(file, now)
    except RecordsError as refused:
        assert str(file) in refused.sentence  # noqa: PT017
        return
    try:
        with records.reading():
            assert len(list(Customer.select())) <= 200
    except RecordsError as refused:
        assert str(file) in refused.sentence  # noqa: PT017
    finally:
        records.close()


HOLD = """
import sqlite3, sys
held = sqlite3.connect(sys.argv[1], isolation_level=None)
held.execute("BEGIN EXCLUSIVE")
print("held", flush=True)
sys.stdin.readline()
"""


@pytest.fixture
def holding() -> Iterator[list[subprocess.Popen[str]]]:
    """Processes that hold a lock until the test ends."""
    held: list[subprocess.Popen[str]] = []
    yield held
    for process in held:
        process.communicate("done\n", timeout=30)


def hold(file: Path, holding: list[subprocess.Popen[str]]) -> None:
    process = subprocess.Popen(
        [sys.executable, "-c", HOLD, str(file)],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
    )
    holding.append(process)
    assert process.stdout
    assert process.stdout.readline() == "held\n"


LOCKED = "in use by another program, which has kept them locked: close it there, then try again"


def test_a_locked_file_is_said(
    file: Path, now: datetime, holding: list[subprocess.Popen[str]]
) -> None:
    filled(file, 1)
    hold(file, holding)
    with pytest.raises(RecordsError, match=LOCKED):
        open_records(file, now, wait=0.05)


def test_a_lock_taken_while_open_is_said_and_reading_goes_on(
    file: Path, records: Records, holding: list[subprocess.Popen[str]]
) -> None:
    hold(file, holding)
    with pytest.raises(RecordsError, match=LOCKED), records.writing():
        raise AssertionError("the block is not entered")
    with records.reading():
        assert Customer.select().count() == 0


def as_somebody(folder: Path, file: Path) -> str:
    """Return what opening ``file`` says to a user whom the modes bind (root is bound by none)."""
    context = multiprocessing.get_context("fork")
    ours, theirs = context.Pipe(duplex=False)
    process = context.Process(target=_open_as_somebody, args=(file, theirs))
    process.start()
    said: str = ours.recv()
    process.join(30)
    folder.chmod(0o755)
    return said


def _open_as_somebody(file: Path, said: Connection) -> None:
    if os.getuid() == 0:
        os.setgroups([])
        os.setgid(65534)
        os.setuid(65534)
    try:
        records = open_records(file, NOW, wait=0.05)
    except RecordsError as error:
        said.send(error.sentence)
    else:
        records.close()
        said.send("opened")


@pytest.fixture
def open_folder() -> Iterator[Path]:
    """A folder that any user may enter."""
    with tempfile.TemporaryDirectory(prefix="shopdesk-modes-") as folder:
        Path(folder).chmod(0o755)
        yield Path(folder)


@posix_only
def test_a_read_only_file_is_said(open_folder: Path) -> None:
    file = filled(open_folder / "shop.db", 1)
    file.chmod(0o444)
    open_folder.chmod(0o777)
    assert "may not be written: make the file and its folder writable" in as_somebody(
        open_folder, file
    )


@posix_only
@pytest.mark.parametrize("mode", [0o666, 0o444])
def test_a_read_only_folder_is_said(open_folder: Path, mode: int) -> None:
    file = filled(open_folder / "shop.db", 1)
    file.chmod(mode)
    open_folder.chmod(0o555)
    said = as_somebody(open_folder, file)
    assert "may not be written" in said or "can't be opened: see that the folder is there" in said


@posix_only
def test_new_records_in_a_read_only_folder_are_refused(open_folder: Path) -> None:
    open_folder.chmod(0o555)
    said = as_somebody(open_folder, open_folder / "shop.db")
    assert "may not be written: make the file and its folder writable" in said
    said = as_somebody(open_folder, open_folder / "deep" / "shop.db")
    assert "can't be made (Permission denied): choose another place" in said


@posix_only
def test_a_file_that_may_not_be_read_is_said(open_folder: Path) -> None:
    file = filled(open_folder / "shop.db", 1)
    file.chmod(0o000)
    assert "can't be opened: see that the folder is there" in as_somebody(open_folder, file)


def fill(records: Records) -> None:
    with records.writing():
        for number in range(200):
            Customer.create(name=f"{number}", folded_name="x" * 3_000, created_at=NOW)


def test_a_full_disk_is_said_and_nothing_is_changed(records: Records) -> None:
    """The database is held to the pages that it has, which is how SQLite meets a full disk."""
    pages = records.engine.pragma("page_count")
    records.engine.pragma("max_page_count", pages)
    with pytest.raises(RecordsError, match=r"is full: nothing was changed\. Free some space"):
        fill(records)
    records.engine.pragma("max_page_count", 2**30)
    with records.reading():
        assert Customer.select().count() == 0
    with records.writing():
        Customer.create(name="Mara", folded_name="mara", created_at=NOW)


def test_a_reading_sees_one_unchanging_view(records: Records, file: Path) -> None:
    with records.reading():
        assert Customer.select().count() == 0
        with closing(sqlite3.connect(file)) as other, other:
            other.execute(
                "INSERT INTO customer (version, name, folded_name, email, address, notes,"
                " tax_exempt_number, may_remind, created_at)"
                " VALUES (1, 'Mara', 'mara', '', '', '', '', 1, '2031-04-07 15:00:00')"
            )
        assert Customer.select().count() == 0
    with records.reading():
        assert Customer.select().count() == 1


OPEN = """
import sys
from datetime import UTC, datetime
from pathlib import Path
from shopdesk.records.store import open_records
print("ready", flush=True)
sys.stdin.readline()
open_records(Path(sys.argv[1]), datetime.now(UTC), wait=30).close()
print("opened", flush=True)
"""


def test_new_records_may_be_opened_by_several_at_once(file: Path) -> None:
    project = Path(__file__).parents[2]
    desks = [
        subprocess.Popen(
            [sys.executable, "-c", OPEN, str(file)],
            env={**os.environ, "PYTHONPATH": str(project)},
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            text=True,
        )
        for _ in range(3)
    ]
    for desk in desks:
        assert desk.stdout
        assert desk.stdout.readline() == "ready\n"
    for desk in desks:
        assert desk.stdin
        desk.stdin.write("go\n")
        desk.stdin.flush()
    assert [desk.communicate(timeout=60)[0] for desk in desks] == ["opened\n"] * 3
