"""Everything out again: a CSV file for each table, and all of it as one JSON."""

import csv
import json
import shutil
import tempfile
import zipfile
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from io import TextIOWrapper
from pathlib import Path
from typing import IO

import msgspec

import shopdesk
from shopdesk.errors import JobError
from shopdesk.files import writing_whole
from shopdesk.job.csv_out import plain
from shopdesk.job.export_tables import OUT, OutTable, Value
from shopdesk.job.importing.progress import EACH, Tell, in_silence
from shopdesk.job.shift import Shift, load_shop
from shopdesk.job.shop import Shop

FORMAT = "shopdesk everything"
FORMAT_VERSION = 1
_EPOCH = (1980, 1, 1, 0, 0, 0)


@dataclass(frozen=True, slots=True)
class Exported:
    """What was written where: how many rows of each table, and how many photos are listed."""

    place: Path
    counts: tuple[tuple[str, int], ...]

    @property
    def rows(self) -> int:
        """All rows together."""
        return sum(count for _, count in self.counts)


def export_all(shift: Shift, place: Path, tell: Tell = in_silence) -> Exported:
    """Write all that the shop keeps into a zip (a name that ends in ``.zip``) or a new folder.

    Written whole or not at all. Raises ``JobError``: a folder that holds something already, or
    can't be written; ``StoppedError`` when ``tell`` does.
    """
    place = place.expanduser().absolute()
    try:
        if place.suffix.lower() == ".zip":
            with writing_whole(place) as begun, zipfile.ZipFile(begun, "w") as archive:
                counts = _write_all(shift, _InZip(archive), tell)
        else:
            with _whole_folder(place) as folder:
                counts = _write_all(shift, _InFolder(folder), tell)
    except OSError as error:
        raise JobError(
            f"{place} can't be written ({error.strerror}): name another place."
        ) from error
    return Exported(place, counts)


@dataclass(frozen=True, slots=True)
class _InZip:
    archive: zipfile.ZipFile

    @contextmanager
    def opened(self, name: str) -> Iterator[IO[bytes]]:
        """Open one file of the zip for writing, always of the same day: same in, same out."""
        about = zipfile.ZipInfo(name, _EPOCH)
        about.compress_type = zipfile.ZIP_DEFLATED
        with self.archive.open(about, "w", force_zip64=True) as begun:
            yield begun


@dataclass(frozen=True, slots=True)
class _InFolder:
    folder: Path

    @contextmanager
    def opened(self, name: str) -> Iterator[IO[bytes]]:
        """Open one file of the folder for writing."""
        with (self.folder / name).open("wb") as begun:
            yield begun


@contextmanager
def _whole_folder(folder: Path) -> Iterator[Path]:
    """Give a folder beside the one asked for, which takes its name once all is written."""
    if folder.is_file() or (folder.is_dir() and any(folder.iterdir())):
        raise JobError(f"{folder} is there already and holds something: name a new folder.")
    folder.parent.mkdir(parents=True, exist_ok=True)
    begun = Path(tempfile.mkdtemp(prefix=".writing-", dir=folder.parent))
    try:
        yield begun
        begun.chmod(0o755)
        if folder.is_dir():
            folder.rmdir()
        begun.rename(folder)
    except BaseException:
        shutil.rmtree(begun, ignore_errors=True)
        raise


def _write_all(shift: Shift, out: _InZip | _InFolder, tell: Tell) -> tuple[tuple[str, int], ...]:
    """Write each table twice, as CSV and into the JSON, from one unchanging view of the records."""
    with shift.records.reading():
        counts = tuple((table.name, table.count()) for table in OUT)
        progress = _Progress(tell, 2 * sum(count for _, count in counts))
        for table in OUT:
            with out.opened(f"{table.name}.csv") as begun:
                _write_csv(table, begun, progress)
        with out.opened("everything.json") as begun:
            _write_json(load_shop(), shift.now(), begun, progress)
    with out.opened("about.txt") as begun:
        begun.write(about(counts).encode("utf-8"))
    progress.finish()
    return counts


@dataclass(slots=True)
class _Progress:
    tell: Tell
    total: int
    done: int = 0

    def step(self) -> None:
        """Count one row; tell of it now and then."""
        if self.done % EACH == 0:
            self.tell(self.done, self.total)
        self.done += 1

    def finish(self) -> None:
        """Tell that all is done."""
        self.tell(self.total, self.total)


def _write_csv(table: OutTable, begun: IO[bytes], progress: _Progress) -> None:
    text = TextIOWrapper(begun, encoding="utf-8", newline="", write_through=False)
    text.write("\ufeff")
    writer = csv.writer(text, lineterminator="\r\n")
    writer.writerow(table.columns)
    for row in table.rows():
        progress.step()
        writer.writerow([_cell(value) for value in row])
    text.flush()
    text.detach()


def _cell(value: Value) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    return plain(value)


def _write_json(shop: Shop, now: datetime, begun: IO[bytes], progress: _Progress) -> None:
    head = {
        "format": FORMAT,
        "version": FORMAT_VERSION,
        "written_by": f"shopdesk {shopdesk.__version__}",
        "written_at": now.isoformat(),
        "shop": msgspec.to_builtins(shop, builtin_types=(Decimal,)),
    }
    begun.write(_json(head)[:-1].encode("utf-8"))
    for table in OUT:
        begun.write(f',\n"{table.name}": ['.encode())
        for place, row in enumerate(table.rows()):
            progress.step()
            begun.write(b",\n" if place else b"\n")
            begun.write(_json(dict(zip(table.columns, row, strict=True))).encode("utf-8"))
        begun.write(b"]")
    begun.write(b"}\n")


def _json(value: object) -> str:
    return json.dumps(value, ensure_ascii=False, default=as_text)


def as_text(value: object) -> str:
    """Return what JSON has no form for: money and quantities as exact text, days as ISO 8601."""
    return value.isoformat() if isinstance(value, date) else f"{value:f}"


def about(counts: Iterable[tuple[str, int]]) -> str:
    """Return the words that say how to read it all."""
    tells = {table.name: table for table in OUT}
    lines = [_ABOUT]
    for name, count in counts:
        table = tells[name]
        lines += [f"{name} ({count:,} rows): {table.tells}.", f"  {', '.join(table.columns)}", ""]
    return "\n".join(lines)


_ABOUT = f"""All that the shop keeps, written by shopdesk.

Each table is a CSV file (RFC 4180, UTF-8 with a byte order mark); everything.json holds the same
tables as lists of objects under the same names, and the shop's settings under "shop". Its "format"
is "{FORMAT}", its "version" {FORMAT_VERSION}; the version grows when a column or a table goes or
changes its meaning.

- An id is a whole number of its own in its table; owner_id, machine_id, ticket_id and the like
  point to the row of that id.
- Money and quantities are exact decimals with a point: numbers in CSV, texts in JSON.
- Moments are UTC, as 2031-04-07T15:00:00Z; days are 2031-04-07.
- Yes and no are "yes" and "no" in CSV, true and false in JSON. An empty cell or null is nothing.
- In CSV a text that a spreadsheet would run as a formula has an apostrophe before it.
- A column named content, tasks, after, back, fasteners, cautions, setting or cures holds JSON.
- Photos lie in the photo folder beside the records, under the name in "file"; sha256 proves them.
- owners.csv and machines.csv can be brought in again, together: shopdesk import owners.csv
  machines.csv.
"""
