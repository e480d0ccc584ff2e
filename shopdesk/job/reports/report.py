"""The shape of every report: tables with their kinds of cells, pictures, and what it goes by."""

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from enum import StrEnum

from shopdesk.job.csv_out import Cell
from shopdesk.job.reports.period import Period


class Kind(StrEnum):
    """What a column holds."""

    WORDS = "words"
    DAY = "day"
    MONEY = "money"
    COUNT = "count"
    HOURS = "hours"
    PERCENT = "percent"

    @property
    def is_number(self) -> bool:
        """Whether its cells stand at the right, under each other."""
        return self not in (Kind.WORDS, Kind.DAY)


@dataclass(frozen=True, slots=True)
class Column:
    """One column of a table."""

    title: str
    kind: Kind = Kind.WORDS


@dataclass(frozen=True, slots=True)
class Row:
    """One row; ``is_sum`` sets it off, ``ticket_id`` is the ticket that it is about."""

    cells: tuple[Cell, ...]
    is_sum: bool = False
    ticket_id: int | None = None


@dataclass(frozen=True, slots=True)
class Table:
    """Rows under a head; ``empty`` is said where there are none."""

    title: str
    columns: tuple[Column, ...]
    rows: tuple[Row, ...]
    empty: str = "Nothing in these days."


@dataclass(frozen=True, slots=True)
class Bar:
    """An amount that is drawn as a bar with its words beside it."""

    label: str
    amount: Decimal
    words: str


@dataclass(frozen=True, slots=True)
class Bars:
    """Bars under each other."""

    title: str
    bars: tuple[Bar, ...]


@dataclass(frozen=True, slots=True)
class Strip:
    """One amount under each label, for a thing that has a name."""

    name: str
    amounts: tuple[Decimal, ...]


@dataclass(frozen=True, slots=True)
class Strips:
    """Several strips of upright bars over the same labels and on the same scale."""

    title: str
    labels: tuple[str, ...]
    strips: tuple[Strip, ...]
    kind: Kind = Kind.MONEY


Picture = Bars | Strips


@dataclass(frozen=True, slots=True)
class Report:
    """One report, ready to be shown, printed or written as CSV. ``basis`` says what it goes by."""

    name: str
    title: str
    period: Period
    basis: str
    tables: tuple[Table, ...]
    pictures: tuple[Picture, ...] = ()
    notes: tuple[str, ...] = ()
    currency: str = "$"


def percent_of(part: Decimal, whole: Decimal) -> Decimal | None:
    """Return how many percent ``part`` is of ``whole``, to a tenth; ``None`` of nothing or less."""
    if whole <= 0:
        return None
    return (part * 100 / whole).quantize(Decimal("0.1"), ROUND_HALF_UP) + Decimal(0)


def columns(*titled: tuple[str, Kind] | str) -> tuple[Column, ...]:
    """Return columns from titles, those of words without their kind."""
    return tuple(Column(one) if isinstance(one, str) else Column(*one) for one in titled)


def summed(rows: Iterable[Row], words: str, places: Iterable[int]) -> Row:
    """Return the row of sums under ``rows``, of the columns at ``places``; ``words`` begin it."""
    kept = list(rows)
    width = len(kept[0].cells) if kept else max(places, default=0) + 1
    cells: list[Cell] = [words, *[None] * (width - 1)]
    for place in places:
        cells[place] = _sum(row.cells[place] for row in kept)
    return Row(tuple(cells), is_sum=True)


def _sum(cells: Iterable[Cell]) -> Decimal | int | None:
    numbers = [cell for cell in cells if isinstance(cell, Decimal | int)]
    if not numbers:
        return None
    if all(isinstance(number, int) for number in numbers):
        return sum(int(number) for number in numbers)
    return sum((Decimal(number) for number in numbers), Decimal(0))
