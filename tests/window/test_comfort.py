"""How a desk likes its window is chosen by key, kept for this computer, and there the next time."""

import json
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
import ttkbootstrap as ttk

from shopdesk.desk import look
from shopdesk.desk.app import DeskApp
from shopdesk.desk.comfort import Comfort, Screen, load_comfort, on_screen, save_comfort
from shopdesk.desk.dressing import Dressing
from shopdesk.desk.rows import Column, RowList
from shopdesk.job.shift import Shift
from tests.window.conftest import Driver

ONE_MONITOR = Screen(0, 0, 1920, 1080)


@pytest.fixture
def file(tmp_path: Path, root: look.DeskRoot) -> Iterator[Path]:
    """A file of this desk's; afterwards the window is as all other tests want it."""
    yield tmp_path / "config" / "desk.json"
    root.widths.clear()
    look.wear(root, dark=False, text=100)


@pytest.fixture
def comfortable(
    file: Path, drive: Callable[..., Driver], shift: Shift, root: look.DeskRoot
) -> Driver:
    """A desk that remembers."""
    return drive(shift, dressing=Dressing(file))


def body_line(root: ttk.App) -> int:
    return int(ttk.nametofont("TkDefaultFont", root=root).metrics("linespace"))


def test_what_is_kept_comes_back(file: Path) -> None:
    chosen = Comfort(True, 125, "1400x900+10+20", False, {"Part|Net": (200, 80)})
    save_comfort(file, chosen)
    assert load_comfort(file) == chosen


@pytest.mark.parametrize(
    "content",
    [
        b"",
        b"{",
        b"\xff\xfe",
        b"[1]",
        b'{"dark": "yes", "text": 400, "window": "rm -rf", "widths": {"a": ["x"]}}',
        b'{"text": true, "window": 7, "widths": [], "filled": 1}',
        b'{"text": [90], "widths": {"a": [0, -4]}}',
    ],
)
def test_a_file_that_makes_no_sense_is_as_none(file: Path, content: bytes) -> None:
    file.parent.mkdir()
    file.write_bytes(content)
    assert load_comfort(file) == Comfort()


def test_no_file_is_as_at_first(file: Path) -> None:
    assert load_comfort(file) == Comfort()


@pytest.mark.parametrize(
    ("left", "there"),
    [
        ("1280x800+40+20", "1280x800+40+20"),
        ("1280x800+2500+20", "1280x800+640+20"),
        ("1280x800+-900+-30", "1280x800+0+0"),
        ("1280x800+40+1070", "1280x800+40+280"),
        ("3840x2100+0+0", "1920x1080+0+0"),
        ("20x20+0+0", ""),
        ("", ""),
        ("wide", ""),
    ],
)
def test_the_window_is_seen_whole_when_a_monitor_is_gone(left: str, there: str) -> None:
    assert on_screen(left, ONE_MONITOR) == there


def test_a_second_monitor_at_the_left_is_used() -> None:
    both = Screen(-1280, 0, 3200, 1080)
    assert on_screen("1000x700+-1200+40", both) == "1000x700+-1200+40"


def test_text_goes_from_90_to_150_percent_and_stays_at_the_ends() -> None:
    sizes, comfort = [], Comfort(text=90)
    for _ in range(6):
        sizes.append(comfort.text)
        comfort = comfort.stepped(1)
    assert sizes == [90, 100, 110, 125, 150, 150]
    assert Comfort(text=90).stepped(-1).text == 90


def test_a_key_turns_the_whole_window_dark_and_it_is_remembered(
    comfortable: Driver, file: Path, root: look.DeskRoot
) -> None:
    paper = look.colour("bg")
    comfortable.press("<Control-l>")
    assert comfortable.notice == "The desk is dark now."
    assert look.colour("bg") != paper
    assert load_comfort(file).dark
    assert str(comfortable.window.board.tree.tag_configure("late", "foreground")) == look.colour(
        "danger"
    )
    comfortable.press("<Control-l>")
    assert look.colour("bg") == paper
    assert not load_comfort(file).dark


def test_keys_make_text_rows_and_columns_larger_and_smaller(
    comfortable: Driver, file: Path, root: look.DeskRoot
) -> None:
    line, row = body_line(root), int(str(root.style.lookup("Treeview", "rowheight")))
    state = int(comfortable.window.board.tree.column("state", "width"))
    for _ in range(4):
        comfortable.press("<Control-plus>")
    assert comfortable.notice == "Text stays at 150 %: that is the largest."
    assert body_line(root) == pytest.approx(1.5 * line, abs=2)
    assert int(str(root.style.lookup("Treeview", "rowheight"))) == pytest.approx(1.5 * row, abs=3)
    assert int(comfortable.window.board.tree.column("state", "width")) > state
    assert load_comfort(file).text == 150
    comfortable.press("<Control-minus>")
    assert load_comfort(file).text == 125
    comfortable.press("<Control-Key-0>")
    assert comfortable.notice == "Text is at 100 % now."
    assert body_line(root) == line


def test_what_is_typed_stays_when_the_look_changes(comfortable: Driver) -> None:
    comfortable.press("<Control-n>")
    comfortable.type("Ansel")
    comfortable.press("<Control-l>", "<Control-plus>")
    comfortable.type(" B")
    assert str(comfortable.focus.tk.call(str(comfortable.focus), "get")) == "Ansel B"


def test_place_and_size_are_kept_on_closing(
    comfortable: Driver, file: Path, root: look.DeskRoot
) -> None:
    root.geometry("1300x760+60+40")
    comfortable.until(lambda: root.winfo_width() == 1300, "the size")
    comfortable.app.dressing.keep(root)
    kept = load_comfort(file)
    assert kept.window.startswith("1300x760+")
    assert not kept.filled
    comfortable.resize("1280x800")


def test_columns_as_a_person_drew_them_are_there_again(
    comfortable: Driver, file: Path, root: look.DeskRoot
) -> None:
    columns = [Column("Part", 200, grows=True), Column("Net", 80, right=True)]
    root.widths["Part|Net"] = (150, 120)
    rows = RowList(comfortable.window, columns)
    assert int(rows.tree.column("c1", "width")) == 120
    comfortable.app.dressing.keep(root)
    assert json.loads(file.read_text())["widths"] == {"Part|Net": [150, 120]}
    rows.destroy()


def test_a_folder_that_cannot_be_written_costs_nothing_but_the_memory(
    drive: Callable[..., Driver], shift: Shift, tmp_path: Path, file: Path
) -> None:
    blocked = tmp_path / "taken"
    blocked.write_text("a file where the folder would be")
    desk = drive(shift, dressing=Dressing(blocked / "desk.json"))
    desk.press("<Control-l>")
    assert desk.notice == "The desk is dark now."


def test_a_desk_without_a_file_remembers_nothing(desk: Driver, file: Path) -> None:
    assert isinstance(desk.app, DeskApp)
    desk.press("<Control-l>", "<Control-l>")
    assert not file.exists()
