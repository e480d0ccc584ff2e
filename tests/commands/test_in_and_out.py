"""``shopdesk import``, ``export`` and ``owner-data``, as they are typed."""

import json
from pathlib import Path

import pytest

from shopdesk.cli import main
from shopdesk.job.customers import suggest_owners
from shopdesk.job.shift import Shift
from shopdesk.job.stages import Stage
from shopdesk.records.store import open_records
from tests.job.workshop import Clock, at_stage, open_shop

LIST = "Client,Handy,Colour\nTom Ash,555-0177,red\nElsie Ash,call her,\n"


@pytest.fixture
def shop(tmp_path: Path) -> Shift:
    shift = open_shop(tmp_path, Clock())
    at_stage(shift, Stage.CLOSED)
    return shift


@pytest.fixture
def listed(tmp_path: Path) -> str:
    file = tmp_path / "clients.csv"
    file.write_text(LIST, "utf-8")
    return str(file)


def run(shop: Shift, *words: str) -> int:
    return main([*words, "--records", str(shop.records.file)])


def test_a_list_is_tried_then_kept_then_taken_back(
    shop: Shift, listed: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(shop, "import", listed, "--match", "Colour=notes") == 0
    said = capsys.readouterr().out
    assert "clients.csv: 2 rows, CSV, cells parted by commas, UTF-8" in said
    assert "Colour  Owner: note: red" in said
    assert "clients.csv line 3, Elsie Ash: to be mended: “call her” is no phone" in said
    assert said.endswith("Nothing was brought in yet: say --keep to do it.\n")
    assert run(shop, "import", listed, "--keep") == 1
    assert "Something is wrong in clients.csv line 3" in capsys.readouterr().err
    assert run(shop, "import", listed, "--wrong", "note", "--keep") == 0
    assert "Brought in as list 1: 2 new owners" in capsys.readouterr().out
    assert run(shop, "import", "--list") == 0
    assert "clients.csv: 2 new owners" in capsys.readouterr().out
    assert run(shop, "import", "--take-back", "1") == 0
    assert run(shop, "import") == 1


def test_everything_out(shop: Shift, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(shop, "export", str(tmp_path / "out.zip")) == 0
    assert "1  invoices\n" in capsys.readouterr().out
    assert run(shop, "export", str(tmp_path / "out"), "--json") == 0
    assert json.loads(capsys.readouterr().out)["rows"]["owners"] == 1
    assert run(shop, "export", str(tmp_path / "out")) == 1
    assert "holds something" in capsys.readouterr().err


def test_an_owners_own_data(
    shop: Shift, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    folder = tmp_path / "mara"
    assert run(shop, "owner-data", "Mara", "--folder", str(folder)) == 0
    assert (folder / "owner.json").is_file()
    assert list(folder.glob("T*/*invoice*.pdf"))
    assert run(shop, "owner-data", "Mara", "--erase") == 0
    said = capsys.readouterr().out
    assert "Would be erased:" in said
    assert "1 invoice or credit note as issued, to the byte" in said
    assert run(shop, "owner-data", "1", "--erase", "--sure") == 0
    assert run(shop, "owner-data", "1", "--erase", "--sure") == 1
    assert "was erased already" in capsys.readouterr().err
    assert run(shop, "owner-data", "Nobody", "--erase") == 1
    assert run(shop, "check") == 0
    shift = open_shop_again(shop)
    assert suggest_owners(shift, "Mara") == ()


def open_shop_again(shop: Shift) -> Shift:
    """Return a shift on the records, which a command has opened and closed meanwhile."""
    return Shift(open_records(shop.records.file, Clock()()), "Sam", Clock())
