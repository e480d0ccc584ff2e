"""``shopdesk history``: a machine's history into a folder, for its owner or for a buyer."""

from pathlib import Path

import pytest
from pypdf import PdfReader

from shopdesk import cli
from shopdesk.job.stages import Stage
from tests.job.workshop import Clock, at_stage, open_shop


@pytest.fixture
def records(tmp_path: Path) -> Path:
    shift = open_shop(tmp_path, Clock())
    at_stage(shift, Stage.CLOSED)
    shift.records.close()
    return shift.records.file


@pytest.mark.parametrize(
    ("options", "name", "named"),
    [
        ([], "T1001 history.pdf", True),
        (["--buyer"], "T1001 history for a buyer.pdf", False),
    ],
)
def test_it_writes_the_history(
    options: list[str],
    name: str,
    named: bool,
    records: Path,
    tmp_path: Path,
    capsys: pytest.CaptureFixture[str],
) -> None:
    asked = ["history", "T1001", "--folder", str(tmp_path / "out"), "--records", str(records)]
    assert cli.main([*asked, *options]) == 0
    file = tmp_path / "out" / name
    assert capsys.readouterr().out == f"{file}\n"
    text = "".join(page.extract_text() for page in PdfReader(file).pages)
    assert ("Mara Quill" in text) is named
    assert "Carburettor kit" in text


def test_a_folder_that_cant_be_written_is_said(
    records: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "out").write_text("a file")
    asked = ["history", "T1001", "--folder", str(tmp_path / "out"), "--records", str(records)]
    assert cli.main(asked) == 1
    assert "name another folder" in capsys.readouterr().err
