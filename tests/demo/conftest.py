"""One demo, run once for all tests of this folder; each test opens its records anew."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, date, datetime
from pathlib import Path

import pytest

from shopdesk.demo.folder import RECORDS
from shopdesk.demo.run import run_demo
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
    said: list[str] = []
    demo = run_demo(tmp_path_factory.mktemp("demo") / "shop", said.append, TODAY)
    demo.shift.records.close()
    return Ran(demo.folder, said, demo.ticket.number)


@pytest.fixture
def shift(ran: Ran) -> Iterator[Shift]:
    records = open_records(ran.folder / RECORDS, NOON)
    yield Shift(records, "Odalys", lambda: NOON)
    records.close()


@pytest.fixture
def followed(ran: Ran, shift: Shift) -> TicketView:
    return ticket_numbered(shift, ran.number)
