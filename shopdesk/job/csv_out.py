"""Lists as CSV files (RFC 4180) that are safe to open in a spreadsheet.

UTF-8 with a byte order mark, since the usual spreadsheets read accents wrongly without it; lines
end in CR LF; dates are ISO 8601, numbers plain decimals with a point.

A spreadsheet takes a text that begins with ``=``, ``+``, ``-``, ``@``, a tab or a line end for a
formula, and runs it (OWASP, "CSV injection"; CWE-1236): such a text gets an apostrophe before it,
and so does one that has some already, so that one apostrophe can be taken off again.
Numbers stay numbers, those below zero too.
"""

import csv
from collections.abc import Iterable, Sequence
from datetime import date
from decimal import Decimal
from io import StringIO
from pathlib import Path
from typing import TypeAlias

from shopdesk.errors import JobError
from shopdesk.files import write_whole

Cell: TypeAlias = str | int | Decimal | date | None
"""What may stand in a row: ``None`` is an empty cell."""
_FORMULA = ("=", "+", "-", "@", "\t", "\r", "\n", "\0", "＝", "＋", "－", "＠")


def csv_text(heads: Sequence[str], rows: Iterable[Sequence[Cell]]) -> str:
    """Return a head and rows as CSV.

    Raises ``TypeError`` for a float, ``ValueError`` for a row of another length than the head.
    """
    out = StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    for row in (heads, *rows):
        if len(row) != len(heads):
            raise ValueError(f"A row has {len(row)} cells under {len(heads)} heads: {row!r}")
        writer.writerow([plain(cell) for cell in row])
    return out.getvalue()


def csv_bytes(heads: Sequence[str], rows: Iterable[Sequence[Cell]]) -> bytes:
    """Return ``csv_text`` as it stands in a file."""
    return csv_text(heads, rows).encode("utf-8-sig")


def save_csv(file: Path, heads: Sequence[str], rows: Iterable[Sequence[Cell]]) -> Path:
    """Write a CSV file, whole or not at all, in the place of one of that name; return its path.

    Raises ``JobError`` when it can't be written.
    """
    content = csv_bytes(heads, rows)
    try:
        return write_whole(file, content)
    except OSError as error:
        raise JobError(
            f"{file} can't be written ({error.strerror}): close it where it is open, "
            "or name another place."
        ) from error


def plain(cell: Cell) -> str:
    """Return a cell as the file has it."""
    if cell is None:
        return ""
    if isinstance(cell, str):
        return f"'{cell}" if like_a_formula(cell.lstrip("'")) else cell
    if isinstance(cell, date):
        return cell.isoformat()
    if isinstance(cell, Decimal):
        return f"{cell:f}"
    if isinstance(cell, int) and not isinstance(cell, bool):
        return str(cell)
    raise TypeError(f"{cell!r} is no cell: give text, a whole number, a Decimal or a day")


def like_a_formula(text: str) -> bool:
    """Whether it begins like a formula; spaces before it don't help, some programs drop them."""
    return text.startswith(_FORMULA) or text.lstrip().startswith(_FORMULA)
