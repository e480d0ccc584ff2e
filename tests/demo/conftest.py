"""One demo, run once for all tests of this folder; each test opens its records anew."""

import re
from collections.abc import Iterator
from contextlib import redirect_stdout
from dataclasses import dataclass
from datetime import UTC, date, datetime
from io import StringIO
from pathlib import Path

import pytest

from shopdesk.cli import main
from shopdesk.demo.folder import RECORDS
from shopdesk.job.opened import ticket_numbered
from shopdesk.job.shift import Shift
from shopdesk.job.views import TicketView
from shopdesk.records.store import open_records

TODAY = date(2027, 5, 13)
NOON = datetime(2027, 5, 13, 18, 0, tzinfo=UTC)
"""Noon of that day in the demo shop's zone."""


@dataclass(frozen=True, slots=True)
class Ran:
    """What a run of the demo left."""

    folder: Path
    said: list[str]
    number: int
    """Of the ticket that was followed."""


@pytest.fixture(scope="session")
def ran(tmp_path_factory: pytest.TempPathFactory) -> Ran:
    folder = tmp_path_factory.mktemp("demo") / "shop"
    heard = StringIO()
    with redirect_stdout(heard):
        code = main(["demo", "--folder", str(folder), "--no-window", "--today", TODAY.isoformat()])
    assert code == 0
    said = heard.getvalue()
    followed = re.search(r"^The papers of T(\d+) are in", said, re.MULTILINE)
    assert followed
    return Ran(folder, said.splitlines(), int(followed[1]))


@pytest.fixture
def shift(ran: Ran) -> Iterator[Shift]:
    records = open_records(ran.folder / RECORDS, NOON)
    yield Shift(records, "Odalys", lambda: NOON)
    records.close()


@pytest.fixture
def followed(ran: Ran, shift: Shift) -> TicketView:
    return ticket_numbered(shift, ran.number)
