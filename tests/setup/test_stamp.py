"""What is noted in a .venv decides whether it will do."""

from pathlib import Path

import pytest

from shopdesk.bootstrap.stamp import (
    STAMP,
    Action,
    Stamp,
    Wish,
    fingerprint,
    plan,
    read_stamp,
    write_stamp,
)

WISH = Wish(project="/srv/shopdesk", version="3.11", requirements="abc", extra="")
STAMPED = Stamp("/srv/shopdesk", "3.11", "abc", extras=[], interpreters=[], finished=True)


@pytest.mark.parametrize(
    ("stamp", "wish", "works", "action"),
    [
        (STAMPED, WISH, True, Action.RUN),
        (STAMPED, WISH, False, Action.REBUILD),
        (STAMPED, WISH._replace(extra="test"), True, Action.INSTALL),
        (STAMPED._replace(extras=["test"]), WISH._replace(extra="test"), True, Action.RUN),
        (STAMPED._replace(extras=["test"]), WISH, True, Action.RUN),
        (STAMPED, WISH._replace(requirements="abd"), True, Action.INSTALL),
        (STAMPED, WISH._replace(version="3.12"), True, Action.REBUILD),
        (STAMPED, WISH._replace(project="/home/jo/shopdesk"), True, Action.REBUILD),
        (STAMPED._replace(finished=False), WISH, True, Action.REBUILD),
        (None, WISH, True, Action.INSTALL),
        (None, WISH, False, Action.REBUILD),
    ],
)
def test_plan(stamp: Stamp | None, wish: Wish, works: bool, action: Action) -> None:
    assert plan(stamp, wish, works=works) is action


def test_a_stamp_is_read_as_it_was_written(tmp_path: Path) -> None:
    stamp = STAMPED._replace(extras=["test"], interpreters=[["/usr/bin/python3", 17, 4]])
    write_stamp(tmp_path, stamp)
    assert read_stamp(tmp_path) == stamp
    assert [path.name for path in tmp_path.iterdir()] == [STAMP]
    write_stamp(tmp_path, None)
    assert read_stamp(tmp_path) is None


@pytest.mark.parametrize(
    "content", ["", "{", "[]", "null", "{}", '{"project": 1, "more": 2}', "\0"]
)
def test_a_stamp_that_makes_no_sense_is_none(tmp_path: Path, content: str) -> None:
    (tmp_path / STAMP).write_text(content)
    assert read_stamp(tmp_path) is None


def test_a_python_that_changed_or_went_is_noticed(tmp_path: Path) -> None:
    python = tmp_path / "python"
    python.write_text("one")
    stamp = STAMPED._replace(interpreters=[fingerprint(str(python))])
    assert stamp.unchanged()
    python.write_text("another")
    assert not stamp.unchanged()
    python.unlink()
    assert not stamp.unchanged()
