"""Margin: what was kept of what parts and labour sold for, over what they cost."""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal

from shopdesk.job.paper_content import ChargeRow
from shopdesk.job.reports.issued import bills_in
from shopdesk.job.reports.period import Period
from shopdesk.job.reports.report import (
    Bar,
    Bars,
    Kind,
    Report,
    Row,
    Table,
    columns,
    percent_of,
    summed,
)
from shopdesk.job.shift import Shift
from shopdesk.pricing.money import round_money, show_money, show_percent
from shopdesk.pricing.totals import ZERO

NAME = "margin"
BASIS = (
    "By the day of issue, before tax: what was invoiced less what was credited, over the costs "
    "that were known when it was issued."
)
_KINDS = {
    "part": "Parts",
    "labour": "Labour",
    "sublet": "Work done by others",
    "fee": "Fees",
    "discount": "Discounts on whole bills",
}


@dataclass(frozen=True, slots=True)
class MarginSum:
    """What some lines sold for and cost. ``unknown`` is the part of ``sold`` without a cost."""

    name: str
    number: str
    quantity: Decimal
    sold: Decimal
    cost: Decimal
    unknown: Decimal
    lines: int
    costed: int
    """How many of the ``lines`` have a cost."""

    @property
    def margin(self) -> Decimal | None:
        """What is kept of what has a cost; ``None`` where no cost is known."""
        return self.sold - self.unknown - self.cost if self.costed else None

    @property
    def percent(self) -> Decimal | None:
        """The same in percent of the price, to a tenth."""
        return None if self.margin is None else percent_of(self.margin, self.sold - self.unknown)


@dataclass(frozen=True, slots=True)
class Margin:
    """The margin of some days: by kind of line, and part by part, the best seller first."""

    by_kind: tuple[MarginSum, ...]
    by_part: tuple[MarginSum, ...]


def margin(shift: Shift, period: Period) -> Margin:
    """Work out what was kept of what was issued on those days."""
    with shift.records.reading():
        rows = [row for bill in bills_in(period) for row in bill.said.rows]
    kinds: defaultdict[str, list[ChargeRow]] = defaultdict(list)
    parts: defaultdict[tuple[str, str], list[ChargeRow]] = defaultdict(list)
    for row in rows:
        kinds[row.kind].append(row)
        if row.kind == "part":
            parts[_part_name(row), row.part_number].append(row)
    by_part = [_sum(name, number, kept) for (name, number), kept in parts.items()]
    by_part.sort(key=lambda one: (-one.sold, one.name))
    by_kind = (_sum(words, "", kinds[kind]) for kind, words in _KINDS.items() if kinds[kind])
    return Margin(tuple(by_kind), tuple(by_part))


def _part_name(row: ChargeRow) -> str:
    return (
        row.description if row.condition in ("", "new") else f"{row.description}, {row.condition}"
    )


def _sum(name: str, number: str, rows: Sequence[ChargeRow]) -> MarginSum:
    costed = [row for row in rows if row.cost is not None]
    sold = sum(map(_net, rows), ZERO)
    return MarginSum(
        name,
        number,
        sum((row.quantity for row in rows), Decimal(0)),
        sold,
        sum((round_money(row.quantity * (row.cost or ZERO)) for row in costed), ZERO),
        sold - sum(map(_net, costed), ZERO),
        len(rows),
        len(costed),
    )


def _net(row: ChargeRow) -> Decimal:
    return row.net if row.before_tax is None else row.before_tax


def report(shift: Shift, period: Period) -> Report:
    """Return the margin as it is shown."""
    shop, found = shift.shop, margin(shift, period)
    unknown = sum((one.unknown for one in found.by_kind if one.name in _COSTS), ZERO)
    notes = []
    if any(one.costed < one.lines for one in found.by_kind if one.name in _COSTS):
        notes.append(
            f"No cost is known of {show_money(unknown, shop.currency)} of parts and work done by "
            "others: that is left out of the margin and of the percentage."
        )
    return Report(
        name=NAME,
        title="Margin",
        period=period,
        basis=BASIS,
        tables=(_kind_table(found.by_kind), _part_table(found.by_part)),
        pictures=tuple(_pictures(found.by_kind, shop.currency)),
        notes=tuple(notes),
        currency=shop.currency,
    )


_COSTS = (_KINDS["part"], _KINDS["sublet"])
"""What is bought, so that it should have a cost."""
_SUMS = (
    ("Sold for", Kind.MONEY),
    ("Without a cost", Kind.MONEY),
    ("Cost", Kind.MONEY),
    ("Margin", Kind.MONEY),
    ("Margin of the price", Kind.PERCENT),
)


def _cells(one: MarginSum) -> tuple[Decimal | None, ...]:
    return one.sold, one.unknown, one.cost if one.costed else None, one.margin, one.percent


def _kind_table(sums: Iterable[MarginSum]) -> Table:
    rows = tuple(Row((one.name, *_cells(one))) for one in sums)
    last = (summed(rows, "All", (1, 2, 3, 4)),) if rows else ()
    return Table("By kind", columns("What", *_SUMS), (*rows, *last), _NONE)


def _part_table(sums: Iterable[MarginSum]) -> Table:
    rows = tuple(Row((one.name, one.number, one.quantity, *_cells(one))) for one in sums)
    heads = columns("Part", "Number", ("Pieces", Kind.COUNT), *_SUMS)
    last = (summed(rows, "All", (2, 3, 4, 5, 6)),) if rows else ()
    return Table("Part by part", heads, (*rows, *last), "No parts were sold in these days.")


def _pictures(sums: Iterable[MarginSum], currency: str) -> Iterable[Bars]:
    bars = []
    for one in sums:
        if one.margin is not None:
            share = f", {show_percent(one.percent)} of the price" if one.percent else ""
            bars.append(Bar(one.name, one.margin, f"{show_money(one.margin, currency)}{share}"))
    if bars:
        yield Bars("What is kept over the cost", tuple(bars))


_NONE = "Nothing was invoiced or credited in these days."
