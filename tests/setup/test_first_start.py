"""Starting from a bare Python: .venv is made once, used again, and mended when it won't do."""

import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.setup.trial_project import BASE_PYTHON, PYPROJECT, Started, TrialProject

ONCE = "Setting up shopdesk (once) …\n"
AGAIN = "Bringing the packages of shopdesk up to date …\n"


def test_the_first_start_makes_the_environment_and_runs_in_it(project: TrialProject) -> None:
    first = project.start("demo", "--folder", "two words", "7")
    assert (first.said, first.code) == (ONCE, 7)
    assert first.program["name"] == "shopdesk"
    assert first.program["arguments"] == ["demo", "--folder", "two words", "7"]
    assert Path(first.program["folder"]).samefile(project.elsewhere)
    assert Path(first.program["prefix"]).samefile(project.venv)


def test_started_as_a_module_without_its_packages_it_gets_them_too(project: TrialProject) -> None:
    project.elsewhere = project.folder
    started = project.start("7", module="shopdesk")
    assert (started.said, started.code) == (ONCE, 7)


def test_the_program_sees_no_files_of_the_folder_it_is_started_in(project: TrialProject) -> None:
    paths = [Path(path) for path in project.start().program["path"]]
    assert project.elsewhere not in paths
    assert project.folder / "shopdesk" not in paths


def test_the_next_start_uses_it_as_it_is(project: TrialProject) -> None:
    project.start()
    second = project.start()
    assert (second.said, second.code) == ("", 0)
    assert len(project.calls()) == 1


def test_packages_follow_pyproject(project: TrialProject) -> None:
    project.start()
    (project.venv / "kept").touch()
    (project.folder / "pyproject.toml").write_text(PYPROJECT + "# changed\n")
    assert project.start().said == AGAIN
    assert project.start().said == ""
    assert len(project.calls()) == 2
    assert (project.venv / "kept").exists()


def test_the_tests_add_their_packages_and_the_program_keeps_them(project: TrialProject) -> None:
    folder = str(project.folder)
    project.start()
    tests = project.start("-q", package="tests")
    assert (tests.said, tests.code) == (AGAIN, 0)
    assert tests.program["name"] == "pytest"
    assert tests.program["arguments"] == ["-q"]
    assert Path(tests.program["folder"]).samefile(project.folder)
    assert project.start().said == ""
    (project.folder / "pyproject.toml").write_text(PYPROJECT + "# changed\n")
    project.start()
    assert project.calls() == [folder, f"{folder}[test]", f"{folder}[test]"]


def _python_gone(project: TrialProject) -> None:
    (project.venv / "bin/python").unlink()
    (project.venv / "bin/python").symlink_to(project.folder / "no-such-python")


def _set_up_cut_short(project: TrialProject) -> None:
    stamp = project.venv / "shopdesk-setup.json"
    stamp.write_text(stamp.read_text().replace('"finished": true', '"finished": false'))


def _made_by_another_version(project: TrialProject) -> None:
    stamp = project.venv / "shopdesk-setup.json"
    stamp.write_text(stamp.read_text().replace(f'"{_version()}"', '"3.99"'))


def _folder_moved(project: TrialProject) -> None:
    new = project.folder.with_name("moved")
    project.folder.rename(new)
    project.folder = new


def _version() -> str:
    return f"{sys.version_info.major}.{sys.version_info.minor}"


@pytest.mark.parametrize(
    "harm", [_python_gone, _set_up_cut_short, _made_by_another_version, _folder_moved]
)
def test_what_will_not_do_is_made_anew(
    project: TrialProject, harm: Callable[[TrialProject], None]
) -> None:
    project.start()
    (project.venv / "lib/leftover").touch()
    harm(project)
    started = project.start()
    assert (started.said, started.code) == (ONCE, 0)
    assert Path(started.program["prefix"]).samefile(project.venv)
    assert not (project.venv / "lib/leftover").exists()


def test_a_patched_python_needs_no_new_set_up(project: TrialProject) -> None:
    project.start()
    changed = project.stamp["interpreters"][0][1]
    stamp = project.venv / "shopdesk-setup.json"
    stamp.write_text(stamp.read_text().replace(str(changed), str(changed - 1)))
    assert project.start().said == ""
    assert len(project.calls()) == 1


def test_an_environment_made_by_hand_is_used(project: TrialProject) -> None:
    subprocess.run([BASE_PYTHON, "-m", "venv", "--without-pip", project.venv], check=True)
    (project.venv / "mine").touch()
    started = project.start()
    assert (started.said, started.code) == (AGAIN, 0)
    assert (project.venv / "mine").exists()


@pytest.mark.parametrize("kind", ["folder", "file"])
def test_what_is_no_environment_is_left_alone(project: TrialProject, kind: str) -> None:
    mine = project.venv / "mine" if kind == "folder" else project.venv
    mine.parent.mkdir(exist_ok=True)
    mine.write_text("mine")
    started = project.start()
    assert started.code == 2
    assert started.said.endswith("move it away, for that is where shopdesk puts its packages.\n")
    assert mine.read_text() == "mine"


def test_two_starts_at_once_set_up_once(project: TrialProject) -> None:
    os.mkfifo(project.tools / "gate")
    first = project.begin()
    with (project.tools / "gate").open("w"):  # the installer has begun, and goes on after this
        second = project.begin()
        assert second.stderr
        said = second.stderr.readline()
    assert said == "Waiting for another start to finish setting up shopdesk …\n"
    assert Started(first).code == 0
    assert Started(second).code == 0
    assert len(project.calls()) == 1


def test_after_a_kill_the_next_start_waits_for_the_orphan_and_begins_again(
    project: TrialProject,
) -> None:
    gate = project.tools / "gate"
    os.mkfifo(gate)
    first = project.begin()
    with gate.open("w"):
        first.kill()
        first.communicate()
        assert project.stamp["finished"] is False
        second = project.begin()
        assert second.stderr
        said = second.stderr.readline()
        gate.rename(gate.with_name("old gate"))
    assert said.startswith("Waiting")
    ended = Started(second)
    assert (ended.said, ended.code) == (ONCE, 0)
    assert project.stamp["finished"] is True


def test_ctrl_c_stops_without_a_traceback(project: TrialProject) -> None:
    os.mkfifo(project.tools / "gate")
    process = project.begin()
    with (project.tools / "gate").open("w"):
        process.send_signal(2)
        ended = Started(process)
    assert ended.code == 130
    assert ended.said == ONCE + "Setting up shopdesk was stopped; run it again to finish.\n"


def test_without_a_working_uv_pip_does_it(project: TrialProject) -> None:
    (project.tools / "broken").touch()
    started = project.start("5")
    assert (started.said, started.code) == (ONCE, 5)
    assert (project.venv / "bin/pip").exists()


def test_without_a_network_it_says_so_and_keeps_what_there_was(
    project: TrialProject, monkeypatch: pytest.MonkeyPatch
) -> None:
    project.start()
    (project.tools / "broken").touch()
    (project.folder / "pyproject.toml").write_text(
        PYPROJECT.replace("requires = []", 'requires = ["not-to-be-had"]')
    )
    monkeypatch.setenv("PIP_CONFIG_FILE", os.devnull)
    monkeypatch.setenv("PIP_INDEX_URL", "http://127.0.0.1:9/simple")
    monkeypatch.setenv("PIP_RETRIES", "1")
    for name in ("PIP_FIND_LINKS", "PIP_EXTRA_INDEX_URL", "http_proxy", "HTTP_PROXY", "all_proxy"):
        monkeypatch.delenv(name, raising=False)
    started = project.start()
    assert started.code == 2
    assert "not-to-be-had" in started.said
    assert started.said.splitlines()[-1].startswith("shopdesk could not reach the package index")
    (project.folder / "pyproject.toml").write_text(PYPROJECT)
    assert project.start().said == ""
