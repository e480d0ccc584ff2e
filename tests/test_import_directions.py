"""The desk asks the job, the job asks the rooms below, and nothing imports the other way."""

import shutil
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent
LINT = (
    "import sys; from importlinter.cli import lint_imports; sys.exit(lint_imports(no_cache=True))"
)

ROOMS = ["text", "records", "bench", "pricing", "upkeep", "job", "papers", "desk"]


def _lint(folder: Path) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-c", LINT], cwd=folder, capture_output=True, text=True, check=False
    )


def test_nothing_imports_the_other_way() -> None:
    ended = _lint(ROOT)
    assert ended.returncode == 0, ended.stdout + ended.stderr
    assert "0 broken" in ended.stdout


@pytest.mark.parametrize(
    ("room", "line"),
    [
        ("records", "import shopdesk.job"),
        ("job", "import shopdesk.papers"),
        ("bench", "import shopdesk.pricing"),
        ("upkeep", "import sqlite3"),
        ("desk", "import shopdesk.records"),
        ("text", "import shopdesk.records"),
        ("a_room_without_a_place", ""),
    ],
)
def test_one_that_does_is_found(tmp_path: Path, room: str, line: str) -> None:
    shutil.copy(ROOT / "pyproject.toml", tmp_path)
    for name in {*ROOMS, room}:
        module = tmp_path / "shopdesk" / name / "__init__.py"
        module.parent.mkdir(parents=True)
        module.touch()
    (tmp_path / "shopdesk/__init__.py").touch()
    assert _lint(tmp_path).returncode == 0 or not line
    (tmp_path / "shopdesk" / room / "__init__.py").write_text(line)
    ended = _lint(tmp_path)
    assert ended.returncode == 1
    assert room in ended.stdout
