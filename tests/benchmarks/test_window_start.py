"""The window takes keys in at most twice the time of a bare one with an empty list.

Each start is a process of its own, timed from outside until its window is drawn and takes keys; the
three kinds take turns, so that a busy computer slows all alike. The quickest start of each is
compared, and the time until the board is read as well is printed beside them.
"""

import sqlite3
import subprocess
import sys
import time
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path

import pytest

from shopdesk.job.settings import ShopEntry, set_up_shop
from shopdesk.job.shift import Shift
from shopdesk.records.store import open_records

ROUNDS = 5
MOST = 2.0
OPEN, CLOSED = 1_000, 30_000
BARE = """
import os
import ttkbootstrap as ttk
app = ttk.App(title="bare", theme="bootstrap-light", size=(1280, 800))
ttk.Treeview(app).pack(fill="both", expand=True)
app.update()
os._exit(0)
"""
DESK = """
import os, sys
from datetime import UTC, datetime
from pathlib import Path
from shopdesk.desk.app import DeskApp
from shopdesk.job.shift import Shift
from shopdesk.records.store import open_records
app = DeskApp(Shift(open_records(Path(sys.argv[1]), datetime.now(UTC))))
app.root.update()
while sys.argv[2] == "board" and not app.window.board.is_read:
    app.root.update()
os._exit(0)
"""


@pytest.fixture(scope="module")
def small(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Records of a shop that has not begun."""
    file = tmp_path_factory.mktemp("small") / "shop.db"
    make_shop(file)
    return file


@pytest.fixture(scope="module")
def big(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Records of a shop with many years behind it and far too much on the bench."""
    file = tmp_path_factory.mktemp("big") / "shop.db"
    make_shop(file)
    fill(file)
    return file


def test_window_takes_keys_within_twice_the_time_of_a_bare_one(small: Path, big: Path) -> None:
    starts = {
        "bare": [BARE],
        "small": [DESK, str(small), "keys"],
        "big": [DESK, str(big), "keys"],
        "small with its board": [DESK, str(small), "board"],
        "big with its board": [DESK, str(big), "board"],
    }
    times: dict[str, list[float]] = {name: [] for name in starts}
    for turn in range(ROUNDS + 1):
        for name, arguments in starts.items():
            seconds = timed(arguments)
            if turn:
                times[name].append(seconds)
    bare = min(times["bare"])
    ratios = {name: min(found) / bare for name, found in times.items()}
    print(", ".join(f"{name} {ratio:.2f} ×" for name, ratio in ratios.items()))
    assert ratios["small"] <= MOST
    assert ratios["big"] <= MOST


def timed(arguments: list[str]) -> float:
    begun = time.perf_counter()
    subprocess.run(
        [sys.executable, "-c", *arguments], cwd=Path(__file__).parents[2], check=True, timeout=120
    )
    return time.perf_counter() - begun


def make_shop(file: Path) -> None:
    records = open_records(file, datetime.now(UTC))
    set_up_shop(Shift(records), ShopEntry(name="Wrenmoor Bend Small Engines"))
    records.close()


def fill(file: Path) -> None:
    """Write many owners, each with one machine and one ticket, by plain SQL."""
    then = "2026-01-02 09:00:00"
    numbers = range(1, OPEN + CLOSED + 1)
    with closing(sqlite3.connect(file)) as plain, plain:
        plain.executemany(
            "INSERT INTO customer (id, version, name, folded_name, email, address, notes,"
            " tax_exempt_number, may_remind, created_at) VALUES (?, 1, ?, ?, '', '', '', '', 1, ?)",
            [(one, f"Owner {one}", f"owner {one}", then) for one in numbers],
        )
        plain.executemany(
            "INSERT INTO unit (id, version, kind, engine, make, model, serial, folded_serial,"
            " notes, severe_use, created_at)"
            " VALUES (?, 1, 'tiller', 'four-stroke', 'Oakrill', ?, '', '', '', 0, ?)",
            [(one, f"OT-{one}", then) for one in numbers],
        )
        plain.executemany(
            "INSERT INTO ownership (version, unit_id, customer_id, since)"
            " VALUES (1, ?, ?, '2026-01-02')",
            [(one, one) for one in numbers],
        )
        plain.executemany(
            "INSERT INTO ticket (id, version, number, unit_id, customer_id, stage, outcome,"
            " complaint, complaint_kind, onset, fuel, accessories, condition, notes, promised_on,"
            " old_parts_back, confirmed, confirmed_note, proof_reason, balance_reason, taken_in_at)"
            " VALUES (?, 1, ?, ?, ?, ?, ?, 'won''t start', '', '', '', '', '', '', '2026-01-09', 0,"
            " '', '', '', '', ?)",
            [
                (
                    one,
                    1000 + one,
                    one,
                    one,
                    "Diagnosis" if one <= OPEN else "Closed",
                    "" if one <= OPEN else "mended",
                    then,
                )
                for one in numbers
            ],
        )
