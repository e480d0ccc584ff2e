"""The demo built in a process of its own: it can be stopped, and what goes wrong is said."""

import time
from pathlib import Path
from threading import Event, Thread

import pytest

from shopdesk.demo.beside import fresh_demo
from shopdesk.demo.folder import RECORDS, SIGN, usual_folder
from shopdesk.errors import JobError
from shopdesk.job.board import open_tickets

PATIENCE = 60.0


@pytest.fixture(autouse=True)
def own_data(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Let the usual folder be one of this test's own."""
    monkeypatch.setenv("SHOPDESK_DATA", str(tmp_path / "data"))


def test_a_demo_is_built_whole_and_opened() -> None:
    shift = fresh_demo(Event())
    assert shift.records.file == usual_folder() / RECORDS
    assert sum(map(len, open_tickets(shift).values())) > 10
    shift.records.close()


def test_building_stops_when_it_is_told_to() -> None:
    stop, told = Event(), []

    def build() -> None:
        with pytest.raises(JobError, match="it was stopped") as caught:
            fresh_demo(stop)
        told.append(caught.value)

    thread = Thread(target=build)
    thread.start()
    give_up = time.monotonic() + PATIENCE
    while not (usual_folder() / RECORDS).exists():
        assert time.monotonic() < give_up, "the building never began"
        assert thread.is_alive()
        thread.join(0.05)
    stop.set()
    thread.join(PATIENCE)
    assert len(told) == 1
    assert (usual_folder() / SIGN).exists(), "the next demo knows the folder for its own"


def test_a_folder_that_is_not_a_demos_is_left_alone() -> None:
    usual_folder().mkdir(parents=True)
    (usual_folder() / "tax.txt").write_text("mine")
    with pytest.raises(JobError, match="holds something that is no demo"):
        fresh_demo(Event())
    assert [one.name for one in usual_folder().iterdir()] == ["tax.txt"]
