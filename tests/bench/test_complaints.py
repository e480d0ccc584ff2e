from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from shopdesk.bench.checks import Catalogue, CatalogueError
from shopdesk.bench.complaints import NOT_KNOWN, load_complaints
from shopdesk.bench.machines import Engine, Kind, Machine


def test_the_usual_complaints_are_there(shared: Path, catalogue: Catalogue) -> None:
    found = load_complaints(shared, catalogue)
    wanted = {"won't start", "won't restart hot", "starts then dies", "bogs", "won't idle"}
    wanted |= {"no power", "smokes", "vibrates", "cutting gear moves at idle", "leaks fuel"}
    assert wanted <= set(found.by_key)
    assert not found.by_key["won't start"].running
    assert found.by_key["bogs"].running
    assert NOT_KNOWN in found.onsets


def test_first_looks_of_a_complaint_leave_something_for_every_machine(
    shared: Path, catalogue: Catalogue
) -> None:
    for complaint in load_complaints(shared, catalogue).by_key.values():
        for kind in Kind:
            for engine in (Engine.TWO_STROKE, Engine.FOUR_STROKE):
                fitting = {c.key for c in catalogue.checks_for(Machine(kind, engine))}
                assert not complaint.first_looks or fitting & set(complaint.first_looks)


def test_a_first_look_that_is_no_check_is_refused(
    shared: Path, catalogue: Catalogue, tmp_path: Path
) -> None:
    for name in ("complaints.toml", "onsets.toml"):
        shutil.copy(shared / name, tmp_path)
    path = tmp_path / "complaints.toml"
    path.write_text(path.read_text().replace('"oil-level"', '"oil-levl"', 1))
    with pytest.raises(CatalogueError, match=r"“smokes”: “oil-levl”.*did you mean “oil-level”"):
        load_complaints(tmp_path, catalogue)


def test_the_onset_not_known_must_stay(shared: Path, catalogue: Catalogue, tmp_path: Path) -> None:
    for name in ("complaints.toml", "onsets.toml"):
        shutil.copy(shared / name, tmp_path)
    path = tmp_path / "onsets.toml"
    path.write_text(path.read_text().replace('key = "not known"', 'key = "unknown"'))
    with pytest.raises(CatalogueError, match="put it back"):
        load_complaints(tmp_path, catalogue)
