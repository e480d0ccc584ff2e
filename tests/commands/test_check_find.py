"""``shopdesk check`` proves that everything is found, and makes the index anew when asked."""

import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from shopdesk import cli
from shopdesk.commands.check import INDEX_PROVED
from tests.job.workshop import Clock, open_shop, taken_in


def test_an_index_out_of_step_is_told_and_made_anew(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    shift = open_shop(tmp_path, Clock())
    taken_in(shift)
    shift.records.close()
    file = shift.records.file
    check = ["check", "--records", str(file)]
    assert cli.main(check) == 0
    assert f"proved: {INDEX_PROVED}\n" in capsys.readouterr().out
    with closing(sqlite3.connect(file)) as raw, raw:
        raw.execute("DELETE FROM search_document WHERE kind = 'customer'")
    assert cli.main(check) == 1
    said = capsys.readouterr()
    assert said.err == (
        "The rows are sound, but not everything is found: 1 thing can’t be found by "
        "the right words; the find index is damaged. "
        "Type “shopdesk check --find-anew” to make the index anew.\n"
    )
    assert cli.main([*check, "--find-anew"]) == 0
    assert f"proved: {INDEX_PROVED}\n" in capsys.readouterr().out
