"""What ``pip install .`` brings runs from any folder, with its reference data inside."""

import importlib.util
import os
import shutil
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest
from hatchling.builders.wheel import WheelBuilder

from shopdesk import __version__
from tests.setup.trial_project import ROOT

FOLDERS = {"shared": "shared", "templates": "templates", "demo_db": "demo"}


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("wheel")
    return Path(next(WheelBuilder(str(ROOT)).build(directory=str(folder), versions=["standard"])))


@pytest.fixture(scope="module")
def installed(wheel: Path) -> Path:
    folder = wheel.parent / "site"
    pip = [sys.executable, "-m", "pip"] if importlib.util.find_spec("pip") else [_uv(), "pip"]
    options = ["--no-deps", "--no-index", "--target", str(folder)]
    subprocess.run([*pip, "install", *options, str(wheel)], check=True, capture_output=True)
    return folder


def _uv() -> str:
    uv = shutil.which("uv")
    assert uv, "neither pip nor uv is here to install with"
    return uv


def _run(installed: Path, folder: Path, *command: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-P", *command],
        cwd=folder,
        env={**os.environ, "PYTHONPATH": str(installed)},
        capture_output=True,
        text=True,
        check=False,
    )


def test_it_holds_every_module_and_no_tests(wheel: Path) -> None:
    inside = set(zipfile.ZipFile(wheel).namelist())
    modules = {path.relative_to(ROOT).as_posix() for path in (ROOT / "shopdesk").rglob("*.py")}
    assert modules
    assert modules <= inside
    assert {name.split("/")[0] for name in inside - modules} <= {"shopdesk", _info(wheel)}


def _info(wheel: Path) -> str:
    return "-".join(wheel.name.split("-")[:2]) + ".dist-info"


@pytest.mark.parametrize("folder", FOLDERS)
def test_it_holds_the_reference_data(wheel: Path, folder: str) -> None:
    inside = set(zipfile.ZipFile(wheel).namelist())
    ours = [path for path in (ROOT / folder).rglob("*") if path.is_file()]
    ours = [path for path in ours if "__pycache__" not in path.parts]
    assert ours
    assert {f"shopdesk/_files/{path.relative_to(ROOT).as_posix()}" for path in ours} <= inside


@pytest.mark.parametrize(("folder", "name"), FOLDERS.items())
def test_installed_it_finds_its_reference_data(
    installed: Path, tmp_path: Path, folder: str, name: str
) -> None:
    code = f"from shopdesk import places; print(places.{name}_folder())"
    printed = _run(installed, tmp_path, "-c", code).stdout.strip()
    assert Path(printed) == installed / "shopdesk/_files" / folder
    assert Path(printed).is_dir()


def test_its_command_runs_from_any_folder(installed: Path, tmp_path: Path) -> None:
    for command in (["-m", "shopdesk"], [str(installed / "bin/shopdesk")]):
        ended = _run(installed, tmp_path, *command, "--version")
        assert ended.returncode == 0, ended.stderr
        assert __version__ in ended.stdout
    assert not (tmp_path / ".venv").exists()
