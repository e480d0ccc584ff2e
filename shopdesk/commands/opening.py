"""Open the records that a command works on, and say in a sentence why they can't be."""

from argparse import Namespace
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING

from shopdesk import places
from shopdesk.errors import JobError

if TYPE_CHECKING:
    from shopdesk.job.shift import Shift


@contextmanager
def opened(asked: Namespace) -> "Iterator[Shift]":
    """Open records that must be there already, and close them at the end."""
    from shopdesk.job.shift import Shift
    from shopdesk.records.store import open_records

    file = (asked.records or places.records_file()).expanduser().absolute()
    with troubles_of(file):
        if not file.exists():
            raise JobError(f"There are no records at {file}: name the file with --records.")
        if file.stat().st_size == 0:
            raise JobError(f"{file} is empty, it holds no records: restore the newest backup.")
    records = open_records(file, datetime.now(UTC))
    try:
        yield Shift(records)
    finally:
        records.close()


@contextmanager
def troubles_of(file: Path, what: str = "The records") -> Iterator[None]:
    """Say in a sentence what the system complains of when it looks for ``file``."""
    from shopdesk.records.troubles import trouble

    try:
        yield
    except OSError as error:
        raise trouble(error, file, what) from error
