"""The command line itself: help, version, wrong use, and what is said when it can do nothing."""

import subprocess
import sys
from pathlib import Path

import pytest

import shopdesk
from shopdesk import cli, places

PROJECT = Path(shopdesk.__file__).parents[1]
on_x11 = pytest.mark.skipif(
    sys.platform in ("win32", "darwin"), reason="a window needs no X display on this system"
)


def _said(capsys: pytest.CaptureFixture[str], *arguments: str) -> tuple[int, str, str]:
    code = cli.main(arguments)
    said = capsys.readouterr()
    return code, said.out, said.err


def test_version(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as ended:
        cli.main(["--version"])
    assert ended.value.code == 0
    assert capsys.readouterr().out == f"shopdesk {shopdesk.__version__}\n"


def test_help_names_every_command(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit):
        cli.main(["--help"])
    text = capsys.readouterr().out
    for command in ("demo", "papers", "journal", "due", "backup", "check"):
        assert f"\n  {command}" in text or f"\n    {command}" in text


@pytest.mark.parametrize(
    "wrong",
    [["nonsense"], ["papers"], ["journal"], ["due", "--yesterday"], ["demo", "--today", "soon"]],
)
def test_wrong_use_ends_with_2(wrong: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as ended:
        cli.main(wrong)
    assert ended.value.code == 2
    assert "usage: shopdesk" in capsys.readouterr().err


ON_RECORDS = pytest.mark.parametrize(
    "command", [["papers", "1"], ["journal", "1"], ["due"], ["backup"], ["check"]]
)


@ON_RECORDS
def test_no_records_is_said_and_none_are_made(
    command: list[str], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    missing = tmp_path / "none" / "shop.db"
    code, out, err = _said(capsys, *command, "--records", str(missing))
    assert (code, out) == (1, "")
    assert err == f"There are no records at {missing}: name the file with --records.\n"
    assert not missing.parent.exists()


@ON_RECORDS
def test_an_empty_file_is_refused_and_left_empty(
    command: list[str], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    empty = tmp_path / "shop.db"
    empty.touch()
    code, out, err = _said(capsys, *command, "--records", str(empty))
    assert (code, out) == (1, "")
    assert err == f"{empty} is empty, it holds no records: restore the newest backup.\n"
    assert empty.stat().st_size == 0
    assert list(tmp_path.iterdir()) == [empty]


@ON_RECORDS
def test_a_name_that_no_file_can_have_is_said(
    command: list[str], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    code, out, err = _said(capsys, *command, "--records", str(tmp_path / ("x" * 300)))
    assert (code, out) == (1, "")
    assert "choose a shorter, plainer one" in err
    assert "Errno" not in err


def test_the_usual_records_are_the_users_own(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("SHOPDESK_DATA", str(tmp_path))
    assert _said(capsys, "due")[2].startswith(f"There are no records at {places.records_file()}")


@pytest.mark.parametrize("command", [["due"], ["check"]])
def test_a_file_of_something_else_is_said(
    command: list[str], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    other = tmp_path / "notes.db"
    other.write_text("just notes, quite long enough to be looked at as a file\n" * 40)
    code, out, err = _said(capsys, *command, "--records", str(other))
    assert (code, out) == (1, "")
    assert err.count("\n") == 1
    assert str(other) in err
    assert other.read_text().startswith("just notes")


def test_the_demo_takes_no_records(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    code, out, err = _said(capsys, "--records", str(tmp_path / "shop.db"), "demo")
    assert (code, out) == (1, "")
    assert err == "The demo makes records of its own: name their folder with --folder.\n"


@on_x11
def test_without_a_display_the_window_says_why(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.delenv("DISPLAY", raising=False)
    code, out, err = _said(capsys, "--records", str(tmp_path / "shop.db"))
    assert (code, out) == (1, "")
    assert err == "The window can't be opened. There is no display here: DISPLAY is not set.\n"
    assert list(tmp_path.iterdir()) == []


@on_x11
def test_a_display_that_does_not_answer_is_said(tmp_path: Path) -> None:
    """In a process of its own, so that no other test's window is in the way."""
    done = subprocess.run(
        [sys.executable, "-m", "shopdesk", "--records", str(tmp_path / "shop.db")],
        env={"DISPLAY": ":9876", "PATH": "", "HOME": str(tmp_path)},
        cwd=PROJECT,
        capture_output=True,
        text=True,
        check=False,
    )
    assert (done.returncode, done.stdout) == (1, "")
    assert done.stderr.startswith("The window can't be opened. The display does not answer: ")
    assert done.stderr.count("\n") == 1


def test_help_and_version_load_neither_window_nor_records() -> None:
    looked_for = ("tkinter", "ttkbootstrap", "peewee", "reportlab", "PIL", "msgspec")
    code = (
        "import sys\nfrom shopdesk import cli\n"
        "try:\n    cli.main(['--version'])\nexcept SystemExit:\n    pass\n"
        f"print([name for name in {looked_for!r} if name in sys.modules])"
    )
    done = subprocess.run(
        [sys.executable, "-c", code], cwd=PROJECT, capture_output=True, text=True, check=True
    )
    assert done.stdout.splitlines()[-1] == "[]"


def test_a_reader_that_goes_away_is_no_fault(tmp_path: Path) -> None:
    with subprocess.Popen(
        [
            sys.executable,
            "-m",
            "shopdesk",
            "demo",
            "--no-window",
            "--folder",
            str(tmp_path / "demo"),
        ],
        cwd=PROJECT,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
    ) as process:
        assert process.stdout
        assert process.stderr
        process.stdout.close()
        assert process.stderr.read() == b""
    assert process.returncode == 1


def test_ctrl_c_is_quiet(tmp_path: Path) -> None:
    """Stop the process while it works, as a person does."""
    code = (
        "import sys, _thread\nfrom shopdesk import cli\n"
        "class Stopper:\n"
        "    def write(self, text): raise KeyboardInterrupt\n"
        "    def flush(self): pass\n"
        "sys.stdout = Stopper()\n"
        f"sys.exit(cli.main(['demo', '--no-window', '--folder', {str(tmp_path / 'demo')!r}]))"
    )
    done = subprocess.run(
        [sys.executable, "-c", code], cwd=PROJECT, capture_output=True, text=True, check=False
    )
    assert (done.returncode, done.stderr) == (130, "")
