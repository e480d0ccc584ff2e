"""A fresh shop for each test."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from shopdesk.job.shift import Shift
from tests.job.workshop import Clock, open_shop


@pytest.fixture
def clock() -> Clock:
    return Clock()


@pytest.fixture
def shift(tmp_path: Path, clock: Clock) -> Iterator[Shift]:
    opened = open_shop(tmp_path, clock)
    yield opened
    opened.records.close()
