"""A list as it came: its headings, its rows, and what was made out about how it was written."""

import csv
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from io import StringIO
from itertools import islice
from pathlib import Path

from shopdesk.errors import JobError
from shopdesk.job.csv_out import like_a_formula
from shopdesk.job.importing.text_in import ReadText, read_text
from shopdesk.job.importing.vcards import HEADS, is_vcards, read_vcards

MOST_ROWS = 100_000
MOST_COLUMNS = 200
MOST_LETTERS = 100_000
"""In one cell: what is longer is an open quotation mark, no cell."""
DELIMITERS = {",": "commas", ";": "semicolons", "\t": "tabs", "|": "bars"}
_SAMPLE = 50


@dataclass(frozen=True, slots=True)
class ListedRow:
    """One row and where it stands in its file; ``line`` counts from 1, as an editor does."""

    line: int
    cells: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Listing:
    """A list that was read. ``read_as`` says how, for the person to see."""

    name: str
    heads: tuple[str, ...]
    rows: tuple[ListedRow, ...]
    read_as: str
    has_heads: bool = True

    def samples(self, column: int, most: int = 3) -> tuple[str, ...]:
        """Return the first few cells of a column that are not empty, each once."""
        cells = (row.cells[column] for row in self.rows if row.cells[column].strip())
        return tuple(islice(dict.fromkeys(cells), most))

    def with_heads(self, has_heads: bool) -> "Listing":
        """Return the same list, its first row taken as headings or as a row like the others."""
        if has_heads == self.has_heads:
            return self
        if has_heads:
            first, *others = self.rows
            return Listing(self.name, _named(first.cells), tuple(others), self.read_as)
        rows = (ListedRow(1, self.heads), *self.rows)
        return Listing(self.name, _numbered(len(self.heads)), rows, self.read_as, False)


def read_list(file: Path) -> Listing:
    """Read a CSV file or a file of vCards. Raises ``JobError``: no list, too long, damaged."""
    return listing_of(file.name, read_text(file))


def listing_of(name: str, read: ReadText) -> Listing:
    """Return a list from its text; see ``read_list``."""
    letters = f"{read.encoding}, which is a guess" if read.guessed else read.encoding
    if is_vcards(read.text):
        cards = read_vcards(read.text, name)
        rows = tuple(ListedRow(line, cells) for line, cells in cards)
        return _checked(Listing(name, HEADS, rows, f"vCards, {letters}"))
    text, delimiter = _delimiter(read.text)
    rows = tuple(_rows(text, delimiter, name))
    if not rows:
        raise JobError(f"{name} holds no rows: choose another file.")
    width = max(len(row.cells) for row in rows)
    if width > MOST_COLUMNS:
        raise JobError(f"{name} has {width:,} columns: keep {MOST_COLUMNS} at most.")
    padded = tuple(ListedRow(row.line, _padded(row.cells, width)) for row in rows)
    words = f"CSV, cells parted by {DELIMITERS[delimiter]}, {letters}"
    return _checked(Listing(name, _named(padded[0].cells), padded[1:], words))


def _checked(listing: Listing) -> Listing:
    if len(listing.rows) > MOST_ROWS:
        raise JobError(
            f"{listing.name} has {len(listing.rows):,} rows: "
            f"bring in {MOST_ROWS:,} at a time, in several files."
        )
    return listing


def _rows(text: str, delimiter: str, name: str) -> Iterator[ListedRow]:
    reader = csv.reader(StringIO(text, newline=""), delimiter=delimiter, strict=True)
    line = 1
    try:
        for cells in reader:
            if any(len(cell) > MOST_LETTERS for cell in cells):
                raise csv.Error("too long")
            if any(cell.strip() for cell in cells):
                yield ListedRow(line, tuple(_unguarded(cell) for cell in cells))
            line = reader.line_num + 1
    except csv.Error as error:
        raise JobError(
            f"{name} can't be read at line {line:,}: a quotation mark there is opened and not "
            "closed, or stands in the middle. Mend that line, and choose the file again."
        ) from error


def _unguarded(cell: str) -> str:
    """Take off the apostrophe that keeps a spreadsheet from running a text as a formula."""
    guarded = cell.startswith("'") and like_a_formula(cell.lstrip("'"))
    return cell[1:] if guarded else cell


def _padded(cells: tuple[str, ...], width: int) -> tuple[str, ...]:
    return cells + ("",) * (width - len(cells))


def _delimiter(text: str) -> tuple[str, str]:
    """Return the text to read and what parts its cells: what makes most rows equally wide."""
    first, end, rest = text.partition("\n")
    if first.startswith("sep=") and first.strip()[4:] in DELIMITERS and end:
        return rest, first.strip()[4:]
    lines = StringIO(text, newline="")
    sample = list(islice((line for line in lines if line.strip()), _SAMPLE))
    return text, max(DELIMITERS, key=lambda one: _evenness(sample, one))


def _evenness(sample: list[str], delimiter: str) -> tuple[float, int]:
    try:
        widths = Counter(len(cells) for cells in csv.reader(sample, delimiter=delimiter))
    except csv.Error:
        return 0.0, 0
    width, count = max(widths.items(), key=lambda pair: (pair[0] > 1, pair[1]), default=(1, 0))
    return (count / max(len(sample), 1), width) if width > 1 else (0.0, 0)


def _named(cells: tuple[str, ...]) -> tuple[str, ...]:
    """Return headings, none of them empty and none of them twice."""
    taken: Counter[str] = Counter()
    heads = []
    for place, cell in enumerate(cells, 1):
        name = " ".join(cell.split())[:60] or f"Column {place}"
        taken[name] += 1
        heads.append(name if taken[name] == 1 else f"{name} ({taken[name]})")
    return tuple(heads)


def _numbered(width: int) -> tuple[str, ...]:
    return tuple(f"Column {place}" for place in range(1, width + 1))
