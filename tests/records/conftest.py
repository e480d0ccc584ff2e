"""A fresh records file for each test."""

from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest

from shopdesk.records.store import Records, open_records

NOW = datetime(2031, 4, 7, 15, 0, 30, tzinfo=UTC)


@pytest.fixture
def now() -> datetime:
    return NOW


@pytest.fixture
def file(tmp_path: Path) -> Path:
    return tmp_path / "shop.db"


@pytest.fixture
def records(file: Path) -> Iterator[Records]:
    opened = open_records(file, NOW, wait=0.05)
    yield opened
    opened.close()
